"""Where the stations of a winds aloft forecast stand.

A bulletin names them by three letters and gives no position. In the United States those are the
location identifier of an airport or a beacon; the same letters mean other places elsewhere, so the
one nearest to the flight is taken, and one further away than any forecast reaches is refused.
"""

from __future__ import annotations

from collections.abc import Sequence

from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position
from plotter.errors import InputError
from plotter.places.model import Airport
from plotter.places.store import Store

FARTHEST_NM = 500.0
"""Beyond this a forecast says nothing of the air here; stations stand 100 to 200 NM apart."""


def station_positions(
    store: Store, names: Sequence[str], near: Sequence[Position]
) -> dict[str, Position]:
    """The position of each station by its name, nearest to any of the places of a flight.

    Raises InputError, code ``winds-aloft-station``, for one that the data does not know or that
    is more than 500 NM away.
    """
    return {name.upper(): _position(store, name.upper(), near) for name in names}


def _position(store: Store, name: str, near: Sequence[Position]) -> Position:
    codes = (name, f"K{name}", f"P{name}")
    places = [match.place for code in codes for match in store.by_code(code)]
    known = [
        place.position for place in places if not (isinstance(place, Airport) and place.closed)
    ]
    if not known:
        raise InputError(
            f"where the winds aloft station {name} stands is not in the data; name another "
            "station of the bulletin",
            code="winds-aloft-station",
        )
    away, nearest = min(
        ((distance_nm(place, position), position) for position in known for place in near),
        key=lambda pair: pair[0],
    )
    if away > FARTHEST_NM:
        raise InputError(
            f"the winds aloft station {name} stands {away:,.0f} NM from the route; name one "
            f"within {FARTHEST_NM:.0f} NM",
            code="winds-aloft-station",
        )
    return nearest
