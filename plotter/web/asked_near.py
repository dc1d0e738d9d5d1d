"""What the page may ask about what lies near a place on its map."""

from __future__ import annotations

import datetime as dt
from typing import Annotated, Literal

from pydantic import Field

from plotter.earth.position import Position
from plotter.places.airports import EVERY_KIND, FIXED_WING
from plotter.places.naming import NAVAID, TOWN
from plotter.route.measuring import FlightMagnetism
from plotter.web.asked import Asked, Latitude, Longitude

FARTHEST_ASKED_NM = 200.0
"""Beyond this a list is no help to a page, and takes a moment to make."""
LANDMARKS = (*(kind for kind in EVERY_KIND if kind != "closed"), NAVAID, TOWN)
MOST_LISTED = 12

Sort = Literal["all", "airport", "navaid", "town"]
SORTS: dict[Sort, tuple[str, ...]] = {
    "all": LANDMARKS,
    "airport": FIXED_WING,
    "navaid": (NAVAID,),
    "town": (TOWN,),
}


class AskedNear(Asked):
    """A place on the map, what is looked for, how far, and the day of the magnetic bearing."""

    latitude_deg: Latitude
    longitude_deg: Longitude
    kind: Sort = "all"
    within_nm: Annotated[float, Field(gt=0, le=FARTHEST_ASKED_NM)] = 25.0
    runway_ft: Annotated[float | None, Field(ge=0, le=30_000)] = None
    most: Annotated[int, Field(ge=1, le=100)] = MOST_LISTED
    date: Annotated[dt.date | None, Field(examples=["2026-07-04"])] = None
    altitude_ft: float = 0.0

    @property
    def where(self) -> Position:
        """The place."""
        return Position(self.latitude_deg, self.longitude_deg)

    @property
    def kinds(self) -> tuple[str, ...]:
        """The kinds of places that are looked for; airports are those for wheels."""
        return SORTS[self.kind]

    def magnetism(self, today: dt.date) -> FlightMagnetism:
        """The model of variation for the day of the flight."""
        return FlightMagnetism(self.date or today, self.altitude_ft, False)
