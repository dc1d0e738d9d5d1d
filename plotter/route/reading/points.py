"""One word of a route read into a waypoint."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import NamedTuple
from unicodedata import digit

from plotter.earth.angles import course_360, half_turn
from plotter.earth.geodesic import destination
from plotter.earth.position import Position
from plotter.earth.units import feet_from_metres
from plotter.errors import InputError, UnknownIdentifier, Where
from plotter.messages import Message, message
from plotter.places.lookup import MOST_SUGGESTIONS, positions_of, resolve
from plotter.places.model import Airport, Navaid
from plotter.places.spelling import names_alike
from plotter.places.store import Store
from plotter.route.checks import point_changes
from plotter.route.reading.faults import cut_short, unreadable
from plotter.route.values import Caution, Waypoint

# The pilot's own points, used by name in a route.


class OwnPoint(NamedTuple):
    """A named point of the pilot's: position, elevation [ft] if known, a note."""

    name: str
    position: Position
    elevation_ft: float | None = None
    note: str = ""


class OwnPoints:
    """Own points by name; the exact spelling first, then whatever the case of the letters.

    >>> points = OwnPoints([OwnPoint("Red Barn", Position(44.0, -92.0))])
    >>> points.find("red barn").name, points.find("blue barn")
    ('Red Barn', None)
    """

    def __init__(self, points: Iterable[OwnPoint] = ()) -> None:
        self._points = tuple(points)
        self._exact = {point.name: point for point in self._points}
        self._folded = {point.name.casefold(): point for point in reversed(self._points)}

    def find(self, name: str) -> OwnPoint | None:
        """The point of that name, or ``None``."""
        return self._exact.get(name) or self._folded.get(name.casefold())

    def like(self, name: str) -> tuple[str, ...]:
        """Names of points that ``name`` may be a slip of, the likeliest first.

        >>> OwnPoints([OwnPoint("Red barn", Position(44.0, -92.0))]).like("red bran")
        ('Red barn',)
        """
        return names_alike(name, [point.name for point in self._points])

    def __iter__(self) -> Iterator[OwnPoint]:
        return iter(self._points)

    def __len__(self) -> int:
        return len(self._points)


_BEARING_DISTANCE = re.compile(
    r"(?=[0-9]*[^0-9])(?P<point>.+)(?P<bearing>[0-9]{3})(?P<distance>[0-9]{3})\Z"
)
_LONGEST_PLAIN_CODE = 5
_SAME_AS_WGS_84 = ("", "WGS84", "EPSG4326", "EPSG4979")
# Stations are set anew now and then, so some degrees are usual; beyond this, 40 NM out, the point
# is more than 2 NM off if the data is stale.
DECLINATION_LIMIT_DEG = 3.0
# Victor, jet, Q, T and the like: one letter and up to three figures.
_AIRWAY = re.compile(r"[A-Z][0-9]{1,3}\Z")
_STATIONS = "OurAirports navaids; World Magnetic Model 2025"
DOC_4444 = "ICAO Doc 4444, appendix 2, item 15"


class ReadPoint(NamedTuple):
    """A waypoint and the cautions that its reading gave rise to."""

    waypoint: Waypoint
    cautions: tuple[Caution, ...] = ()


def may_be_coordinate(text: str) -> bool:
    """Whether a word is to be read as a coordinate.

    No notation does with five letters or figures, and most identifiers are no longer: for those
    the reader of coordinates is not even imported.

    >>> may_be_coordinate("KRST"), may_be_coordinate("46N078W")
    (False, True)
    """
    if len(text) <= _LONGEST_PLAIN_CODE and text.isalnum():
        return False
    from plotter.earth.coordinates import looks_like_coordinate

    return looks_like_coordinate(text)


class PointReader:
    """Reads points with one store, one set of own points and one way to find variation."""

    def __init__(
        self,
        store: Store,
        own_points: OwnPoints,
        bearing_variation: Callable[[Position], float] | None,
    ) -> None:
        self._store = store
        self._own_points = own_points
        self._variation = bearing_variation

    def read(self, text: str, near: Position | None, beside: Sequence[Position] = ()) -> ReadPoint:
        """The point that ``text`` names; ``near`` may settle which of several navaids is meant.

        ``beside`` helps to order the list of an identifier that stays ambiguous.
        """
        own = self._own_points.find(text)
        if own:
            return self._own(own, text)
        _check_digits(text)
        if may_be_coordinate(text):
            return _coordinate(text)
        if found := self._is_bearing_distance(text):
            return self._bearing_distance(text, found, near, beside)
        return self._identifier(text, near, beside)

    def _is_bearing_distance(self, text: str) -> re.Match[str] | None:
        """The parts of a word that says a bearing and distance, and nothing else."""
        found = _BEARING_DISTANCE.match(text)
        if not found or self._own_points.find(text) or may_be_coordinate(text) or cut_short(text):
            return None
        return None if self._store.by_code(text) else found

    def _own(self, own: OwnPoint, text: str) -> ReadPoint:
        waypoint = Waypoint(
            own.name, text, "own", own.position, None, own.elevation_ft, note=own.note
        )
        if may_be_coordinate(text):
            key = "own-point-first.coordinate"
        elif self._store.by_code(text):
            key = "own-point-first"
        else:
            return ReadPoint(waypoint)
        return ReadPoint(waypoint, (Caution("NOTE", message(key, text=text), where=text),))

    def places(self, text: str) -> list[Position]:
        """Where the places lie that a word may mean as an identifier."""
        return positions_of(self._store, text)

    def _identifier(
        self, text: str, near: Position | None, beside: Sequence[Position]
    ) -> ReadPoint:
        try:
            found = resolve(self._store, text, near, beside)
        except UnknownIdentifier as fault:
            raise self._unknown(text, fault) from None
        place = found.place
        reason = found.settled_by
        cautions = (Caution("NOTE", reason, where=text),) if reason else ()
        if isinstance(place, Airport):
            return ReadPoint(_airport(place, text), cautions)
        if is_airway(text):
            raise InputError("airway.beacon", candidates=(f"navaid:{text}",), text=text)
        return ReadPoint(_navaid(place, text), cautions)

    def _unknown(self, text: str, fault: UnknownIdentifier) -> InputError:
        """A word that names nothing: what it may be a slip of, own points first."""
        own = [as_typed(name) for name in self._own_points.like(text)]
        if not own:
            return _perhaps_an_airway(text, unreadable(self._store, text, fault))
        like = [*own, *fault.candidates][:MOST_SUGGESTIONS]
        return UnknownIdentifier(
            "unknown-identifier.own", candidates=like, text=text[:60], like=tuple(like)
        )

    def _bearing_distance(
        self,
        text: str,
        found: re.Match[str],
        near: Position | None,
        beside: Sequence[Position],
    ) -> ReadPoint:
        bearing_deg, distance_nm = int(found["bearing"]), int(found["distance"])
        _check_bearing(text, found, bearing_deg, distance_nm)
        if self._is_bearing_distance(found["point"]):
            raise InputError(
                "bearing.twice",
                text=text[:40],
                where=Where(text, found.start("bearing"), found.end("distance")),
            )
        base = self.read(found["point"], near, beside)
        origin = base.waypoint
        declination, reference = self._declination(origin)
        true_deg = course_360(bearing_deg + declination)
        waypoint = Waypoint(
            text,
            text,
            "bearing-distance",
            destination(origin.position, true_deg, float(distance_nm)),
            origin.ident,
            sources_apart_nm=origin.sources_apart_nm,
        )
        said = message("bearing-reference", text=text, bearing_deg=bearing_deg, reference=reference)
        note = Caution("NOTE", said, DOC_4444, text)
        changed = point_changes([origin], self._store)
        return ReadPoint(
            waypoint, (*base.cautions, note, *self._stale(origin, declination), *changed)
        )

    def _stale(self, origin: Waypoint, declination: float) -> tuple[Caution, ...]:
        """A check where a station's declination is far from today's variation at it."""
        if self._variation is None:
            return ()
        today = self._variation(origin.position)
        if abs(half_turn(today - declination)) <= DECLINATION_LIMIT_DEG:
            return ()
        said = message(
            "station-declination", point=origin.name, station_deg=declination, model_deg=today
        )
        return (Caution("CHECK", said, _STATIONS, origin.name),)

    def _declination(self, origin: Waypoint) -> tuple[float, Message]:
        """Degrees east between true north and the north the bearing is counted from."""
        place = origin.place
        if isinstance(place, Navaid) and place.station_declination_deg_east is not None:
            degrees = place.station_declination_deg_east
            return degrees, message("bearing-reference.station", declination_deg=degrees)
        if self._variation is None:
            raise InputError("no-variation", point=origin.name)
        degrees = self._variation(origin.position)
        return degrees, message("bearing-reference.model", point=origin.name, variation_deg=degrees)


def is_airway(text: str) -> bool:
    """Whether a word looks like the name of an airway.

    >>> is_airway("V23"), is_airway("ODI")
    (True, False)
    """
    return _AIRWAY.match(text.upper()) is not None


def _perhaps_an_airway(text: str, fault: InputError) -> InputError:
    """The fault of a word that is in no data, where it looks like an airway."""
    if not is_airway(text):
        return fault
    return InputError("airway", candidates=fault.candidates, text=text, reason=fault.said)


def as_typed(name: str) -> str:
    """A name as it must stand in a route: in quotes where it holds a space.

    >>> as_typed("Barn"), as_typed("Red barn")
    ('Barn', '"Red barn"')
    """
    mark = "'" if '"' in name else '"'
    return f"{mark}{name}{mark}" if " " in name else name


def _check_digits(text: str) -> None:
    """Refuse digits of other scripts: some readers would take them for numbers, others not."""
    plain = "".join(str(digit(char, char)) for char in text)
    if plain != text:
        raise InputError("digits", candidates=(plain,), text=text, plain=plain)


def _check_bearing(text: str, found: re.Match[str], bearing_deg: int, distance_nm: int) -> None:
    start, end = found.span("bearing")
    if bearing_deg > 360:
        raise InputError(
            "bearing",
            text=text,
            bearing=found["bearing"],
            where=Where(text, start, end),
        )
    if distance_nm == 0:
        raise InputError(
            "bearing.no-distance",
            text=text,
            point=found["point"],
            where=Where(text, *found.span("distance")),
            candidates=(found["point"],),
        )


def _coordinate(text: str) -> ReadPoint:
    from plotter.earth.coordinates import parse_coordinate

    parsed = parse_coordinate(text)
    elevation_ft = None if parsed.height_m is None else feet_from_metres(parsed.height_m)
    waypoint = Waypoint(text, text, "position", parsed.position, None, elevation_ft)
    system = re.sub(r"[^A-Z0-9]", "", parsed.reference_system.upper())
    if system in _SAME_AS_WGS_84:
        return ReadPoint(waypoint)
    said = message("reference-system", text=text, system=parsed.reference_system)
    return ReadPoint(waypoint, (Caution("NOTE", said, where=text),))


def _airport(place: Airport, text: str) -> Waypoint:
    return Waypoint(
        place.codes[0],
        text,
        "airport",
        place.position,
        place.codes[0],
        place.elevation_ft,
        place.sources_apart_nm,
        place=place,
    )


def _navaid(place: Navaid, text: str) -> Waypoint:
    return Waypoint(
        place.ident, text, "navaid", place.position, place.ident, place.elevation_ft, place=place
    )
