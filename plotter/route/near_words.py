"""What lies near a point, in the words of lists: of the command and of the planning page."""

from __future__ import annotations

import re
from collections.abc import Iterable

from plotter import wording
from plotter.earth.angles import magnetic_from_true
from plotter.earth.position import Position
from plotter.places.model import Airport
from plotter.places.naming import Found, code_of
from plotter.places.nearness import Near, Nearby
from plotter.places.twins import twins_among
from plotter.route.editing import typed_position

NO_DISTANCE_NM = 0.05
"""Less is printed as 0.0 NM: no course to it is worth a figure."""
HERE = "here"
NAMED_WITHIN_NM = 5.0
"""Farther off [NM], a point called after a place would mislead whoever reads its name."""
LONGEST_NAME = 60


def true_bearing(each: Near) -> str:
    """The true course to a place as it is printed; at no distance it says nothing.

    >>> from plotter.places.model import Town
    >>> place = Town("Demo City", "ZZ", Position(44.0, -92.0), None)
    >>> true_bearing(Near(place, 12.0, 92.4)), true_bearing(Near(place, 0.01, 92.4))
    ('092°T', 'here')
    """
    course_deg = _course_deg(each)
    return HERE if course_deg is None else wording.course(course_deg, "T")


def magnetic_bearing(each: Near, variation_deg_east: float) -> str:
    """The same less the east variation [°] at the point it is seen from.

    >>> from plotter.places.model import Town
    >>> place = Town("Demo City", "ZZ", Position(44.0, -92.0), None)
    >>> magnetic_bearing(Near(place, 12.0, 92.4), -1.0)
    '093°M'
    """
    course_deg = _course_deg(each)
    if course_deg is None:
        return HERE
    return wording.course(magnetic_from_true(course_deg, variation_deg_east), "M")


def _course_deg(each: Near) -> float | None:
    return None if each.distance_nm < NO_DISTANCE_NM else each.true_course_deg


def heading(where: str, within_nm: float, count: int, listed: int) -> str:
    """What stands over a list, and how much of it is left out.

    >>> heading("KAAA", 25.0, 12, 10)
    'Within 25.0 NM of KAAA: 12 in the data, the nearest 10 are listed'
    """
    said = f"Within {wording.distance(within_nm)} of {where}: {count or 'nothing'} in the data"
    return f"{said}, the nearest {listed} are listed" if count > listed else said


def beyond(nearest: Near | None) -> str:
    """The nearest farther off, where nothing lies within; empty where there is none at all."""
    if nearest is None:
        return ""
    name = f"{code_of(nearest.place)} {nearest.place.name}".strip()
    away = wording.distance(nearest.distance_nm)
    return f"; the nearest is {name}, {away} {true_bearing(nearest)}"


def notes(
    places: Iterable[Found], nearby: Nearby, within_nm: float, runway_ft: float | None
) -> list[str]:
    """Airfields that may be one, and how many may have the runway for all the data knows."""
    said = [pair.words for pair in twins_among(p for p in places if isinstance(p, Airport))]
    if nearby.length_unknown:
        said.append(
            f"{nearby.length_unknown} more within {wording.distance(within_nm)} may have a runway "
            f"of {wording.altitude(runway_ft or 0.0)}: the length is not in the data."
        )
    return said


def called_after(each: Near, where: Position) -> str | None:
    """What to type for a point that is called after a place near it; ``None`` where none fits.

    It says that it is near the place, unless it is there.

    >>> from plotter.places.model import Town
    >>> place = Town("Demo City", "ZZ", Position(44.0, -92.0), None)
    >>> called_after(Near(place, 1.2, 90.0), Position(44.0, -92.0278))
    'near-Demo-City=440000N0920140W'
    """
    words = re.findall(r"\w+", code_of(each.place) or each.place.name)
    if not words or each.distance_nm > NAMED_WITHIN_NM:
        return None
    name = "-".join(words if each.distance_nm < NO_DISTANCE_NM else ["near", *words])
    return f"{name[:LONGEST_NAME]}={typed_position(where)}"
