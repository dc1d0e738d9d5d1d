"""Suggestions while a point of a route is being typed."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from plotter import wording
from plotter.earth.angles import magnetic_from_true
from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position
from plotter.errors import InputError
from plotter.messages import Message, message
from plotter.places.lookup import chooser, key_of, resolve, what_to_type
from plotter.places.model import FIXED_WING, Airport, Navaid, Town
from plotter.places.naming import Found, code_of, kind_of, kind_words, region_of
from plotter.places.nearness import Near, Nearby
from plotter.places.nearness import near as near_by
from plotter.places.search import KINDS, MATCHED, Hit, class_of, search
from plotter.places.spelling import words
from plotter.places.store import Store
from plotter.places.twins import twins_among
from plotter.route.editing import typed_position
from plotter.route.reading.item15 import read_cruise_group
from plotter.route.reading.points import OwnPoint, OwnPoints, as_typed, is_airway, may_be_coordinate
from plotter.route.reading.text import DIRECT

# What to type in a route for a place that was found, so that it and no other is meant.


def to_type(store: Store, place: Found) -> str:
    """The shortest text that names this place in a route wherever it stands there.

    A town has no identifier: its name and position, in quotes where the name holds a space.

    >>> from plotter.earth.position import Position
    >>> to_type(None, Town("Demo City", "ZZ", Position(44.02, -92.46), None))
    '"Demo City=44.0200,-92.4600"'
    """
    if isinstance(place, Town):
        return as_typed(f"{_plain_name(place.name)}={_figures(place)}")
    chosen = chooser(store)
    codes = place.codes if isinstance(place, Airport) else (place.ident,)
    for code in codes:
        if chosen("", code) == key_of(place) and _reads_as_itself(code, place):
            return code
    return what_to_type(place, codes[0], chosen)


def _reads_as_itself(code: str, place: Airport | Navaid) -> bool:
    """Whether a route takes a bare code for an identifier and for nothing else."""
    if code.upper() == DIRECT or read_cruise_group(code) or may_be_coordinate(code):
        return False
    return isinstance(place, Airport) or not is_airway(code)


def _plain_name(name: str) -> str:
    """A name without the marks that mean something in a route."""
    return " ".join("".join(" " if mark in '="/' else mark for mark in name).split()).lstrip("'")


def _figures(place: Town) -> str:
    return f"{place.position.latitude_deg:.4f},{place.position.longitude_deg:.4f}"


MOST = 8
MOST_BEFORE = 3
MOST_WEIGHED = 120
"""Places found among which the near ones are looked for."""
FAR_NM = 600.0
"""Beyond this a place is hardly the next point of a visual flight: our choice."""
BESIDE_NM = 30.0
OWN = "own"


class Suggestion(NamedTuple):
    """One suggestion: what it puts into the route, what it is in words, its kind and position."""

    to_type: str
    words: str
    kind: str
    position: Position
    taken: int = 1
    """How many of the words that were typed it takes the place of."""


def suggest(
    store: Store,
    text: str,
    most: int = MOST,
    own_points: OwnPoints | None = None,
    *,
    kinds: Collection[str] = KINDS,
    near: Position | None = None,
    before: str = "",
) -> tuple[Suggestion, ...]:
    """What a text that is still being typed may become, own points first, then places.

    Places stand in the order of :func:`~plotter.places.search.search`; with ``near``, a point of
    the route, those farther than a flight from it come last, and of equals the nearest first.
    ``before`` are the words that stand before the text: with them it may be a name of several
    words, which a suggestion then takes the place of. A text of which nothing can be made, and a
    position, give none, and no error: the pilot has not finished typing.
    """
    if may_be_coordinate(text):
        return ()
    found = list(_own(text, own_points or OwnPoints()))[:most]
    earlier = before.split()[-MOST_BEFORE:]
    for count in range(len(earlier), -1, -1):
        phrase = " ".join([*earlier[len(earlier) - count :], text])
        hits = _hits(store, phrase, most if near is None else MOST_WEIGHED, kinds, count > 0)
        known = {each.to_type for each in found}
        made = (_place(store, hit.place, count + 1) for hit in _cut(_in_order(hits, near), most))
        found += [each for each in made if each.to_type not in known]
    return tuple(found[:most])


def _hits(
    store: Store, text: str, most: int, kinds: Collection[str], is_phrase: bool
) -> tuple[Hit, ...]:
    """Places by a text; by several words only those whose name or town these are or begin."""
    try:
        found = search(store, text, most, kinds=kinds, slips=not is_phrase)
    except InputError:
        return ()
    return tuple(hit for hit in found if not is_phrase or hit.matched in ("name", "beginning"))


def _in_order(hits: Sequence[Hit], near: Position | None) -> list[Hit]:
    if near is None:
        return list(hits)
    away = [distance_nm(near, hit.place.position) for hit in hits]
    keys = [
        (nm > FAR_NM, MATCHED.index(hit.matched), class_of(hit.place), nm)
        for hit, nm in zip(hits, away, strict=True)
    ]
    return [hits[k] for k in sorted(range(len(hits)), key=lambda k: keys[k])]


def _cut(hits: list[Hit], most: int) -> list[Hit]:
    """The first hits; the last of them gives way to a navaid of that identifier if none is left."""
    beacons = [hit for hit in hits if isinstance(hit.place, Navaid) and hit.matched == MATCHED[0]]
    listed = hits[:most]
    if not beacons or any(hit in listed for hit in beacons):
        return listed
    return [*listed[:-1], beacons[0]]


def _own(text: str, own_points: OwnPoints) -> Iterator[Suggestion]:
    """The own points whose name begins with the text, or has a word that does."""
    typed = words(text)
    for point in own_points if typed else ():
        name = words(point.name)
        whole = "".join(name).startswith("".join(typed))
        if whole or any(word.startswith(typed[0]) for word in name if len(typed) == 1):
            yield _own_point(point)


def _own_point(point: OwnPoint) -> Suggestion:
    said = f"{point.name}, your own point"
    return Suggestion(as_typed(point.name), said, OWN, point.position)


def _place(store: Store, place: Found, taken: int) -> Suggestion:
    code = code_of(place)
    name = f"{code} {place.name}" if code else place.name
    said = f"{name}, {kind_words(place)}, {region_of(place)}"
    if isinstance(place, Town):
        said += _beside(store, place.position)
    return Suggestion(to_type(store, place), said, kind_of(place), place.position, taken)


def suggestion_of(store: Store, text: str) -> Suggestion | None:
    """Return an identifier with the place it names, ``None`` for one that is not in the data."""
    try:
        place = resolve(store, text).place
    except InputError:
        return None
    return _place(store, place, 1)._replace(to_type=text)


@lru_cache(maxsize=1024)
def _beside(store: Store, position: Position) -> str:
    """Which airport a town lies by: the data of towns has no regions, and names come often."""
    found = near_by(store, position, BESIDE_NM, FIXED_WING).found
    if not found:
        return ""
    field = found[0]
    where = f"{code_of(field.place)}, {region_of(field.place)}"
    return f", {wording.distance(field.distance_nm)} from {where}"


# What lies near a point, in the words of lists: of the command and of the planning page.

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


def heading(
    where: str, within_nm: float, count: int, listed: int, beyond: Near | None = None
) -> Message:
    """Return what stands over a list: how many there are, or the nearest one farther off.

    >>> from plotter.messages import text
    >>> text(heading("KAAA", 25.0, 12, 10))
    'Within 25.0 NM of KAAA: 12 in the data, the nearest 10 are listed'
    """
    if beyond is None:
        key = "near.some" if count > listed else ("near" if count else "near.nothing")
        return message(key, where=where, within_nm=within_nm, count=count, listed=listed)
    return message(
        "near.beyond",
        where=where,
        within_nm=within_nm,
        name=f"{code_of(beyond.place)} {beyond.place.name}".strip(),
        away_nm=beyond.distance_nm,
        bearing=true_bearing(beyond),
    )


def notes(
    places: Iterable[Found], nearby: Nearby, within_nm: float, runway_ft: float | None
) -> list[Message]:
    """Return airfields that may be one, and how many more may have the runway asked for."""
    airports = (place for place in places if isinstance(place, Airport))
    said = [pair.said for pair in twins_among(airports)]
    if nearby.length_unknown:
        said.append(
            message(
                "near.runway-unknown",
                count=nearby.length_unknown,
                within_nm=within_nm,
                runway_ft=runway_ft or 0.0,
            )
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
