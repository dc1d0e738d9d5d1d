"""A route as it is typed, read into waypoints.

The order in which one word is understood: ``DCT`` is passed over; a speed and level group of
item 15 is kept; ``NAME=`` in front gives the point a name; then the pilot's own points by name, a
coordinate in any published notation, a point with magnetic bearing and distance, and last an
identifier of the datasets (with ``airport:`` or ``navaid:`` in front where it must be told apart).
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import accumulate
from typing import NamedTuple

from plotter.earth.position import Position
from plotter.errors import (
    AmbiguousIdentifier,
    InputError,
    PlotterError,
    PositionError,
    RouteError,
    Where,
)
from plotter.places.store import Store
from plotter.route.reading.faults import Piece, without_halves
from plotter.route.reading.item15 import CruiseChange, read_cruise_group
from plotter.route.reading.points import OwnPoints, PointReader, ReadPoint, may_be_coordinate
from plotter.route.values import Caution, Waypoint

# A typed route cut into words, each remembered with its place in the text.
#
# Points are parted by spaces; a point that holds spaces itself (degrees, minutes, seconds) is
# quoted, or handed over as one item of a sequence, as a shell does with a quoted argument.

QUOTES = "\"'"
LONGEST_WORD = 500
"""Characters of one point: the longest name of an own point (300) with a position fits."""


class Word(NamedTuple):
    """One word of a route and where it stands in the whole text."""

    text: str
    where: Where


def words_of(route: str | Sequence[str], is_one_point: Callable[[str], bool]) -> tuple[Word, ...]:
    """The words of a route given as one text or as a sequence of arguments.

    ``is_one_point`` says whether an argument that holds spaces is one quoted coordinate; any
    other is cut at its spaces.

    >>> [word.text for word in words_of("KAAA '10 30 N 20 15 E' KBBB", lambda text: True)]
    ['KAAA', '10 30 N 20 15 E', 'KBBB']
    >>> words_of(["KAAA", "KBBB"], lambda text: False)[1].where.start
    5
    """
    arguments = [route] if isinstance(route, str) else list(route)
    whole = " ".join(arguments)
    spans: list[tuple[int, int]] = []
    start = 0
    for argument in arguments:
        end = start + len(argument)
        quoted = not isinstance(route, str) and " " in argument.strip() and is_one_point(argument)
        spans += [_trimmed(whole, start, end)] if quoted else _cut(whole, start, end)
        start = end + 1
    return tuple(Word(whole[a:b], Where(whole, a, b)) for a, b in spans)


def _trimmed(whole: str, start: int, end: int) -> tuple[int, int]:
    while whole[start].isspace():
        start += 1
    while whole[end - 1].isspace():
        end -= 1
    return start, end


def _cut(whole: str, start: int, end: int) -> list[tuple[int, int]]:
    spans: list[tuple[int, int]] = []
    at = start
    while at < end:
        if whole[at].isspace():
            at += 1
            continue
        stop = _quoted_end(whole, at, end) if whole[at] in QUOTES else None
        if stop is not None:
            spans.append((at + 1, stop))
            at = stop + 1
            continue
        stop = at
        while stop < end and not whole[stop].isspace():
            stop += 1
        spans.append((at, stop))
        at = stop
    return spans


def _quoted_end(whole: str, start: int, end: int) -> int | None:
    """Where the quote closes: the same mark with a space or the end behind it."""
    mark = whole[start]
    for at in range(start + 1, min(end, start + LONGEST_WORD)):
        if whole[at] == mark and (at + 1 == end or whole[at + 1].isspace()) and at > start + 1:
            return at
    return None


# Positions typed with spaces and without quotes: told as what they are, with what to type.

MOST_WORDS_OF_A_POSITION = 8
"""A position has no more parts: a letter and degrees, minutes, seconds for each half."""
_MARKS = str.maketrans(dict.fromkeys("°'\"′″’”º", " "))


def with_spaced_positions(
    words: Sequence[Word], faults: Sequence[PlotterError]
) -> list[PlotterError]:
    """The faults of a route, those of one position cut at its spaces told as one."""
    places = {fault.where for fault in faults if fault.where is not None}
    meets_fault = _meeting(places)
    wrong = {index for index, word in enumerate(words) if meets_fault(word.where)}
    whole = [
        Where(words[first].where.text, words[first].where.start, words[last].where.end)
        for first, last in _stretches(words, wrong)
    ]
    wanted = [where for where in whole if where not in places]  # the others are one fault already
    meets_wanted = _meeting(wanted)
    kept = [fault for fault in faults if fault.where is None or not meets_wanted(fault.where)]
    return [*kept, *map(_quotes_wanted, wanted)]


def _meeting(places: Iterable[Where]) -> Callable[[Where], bool]:
    """Whether a stretch meets one of these, by bisection: a route may have thousands of each."""
    ordered = sorted(places, key=lambda place: place.start)
    starts = [place.start for place in ordered]
    furthest = list(accumulate((place.end for place in ordered), max))

    def meets(where: Where) -> bool:
        before = bisect_left(starts, where.end)
        return before > 0 and furthest[before - 1] > where.start

    return meets


def _stretches(words: Sequence[Word], wrong: set[int]) -> Iterator[tuple[int, int]]:
    """First and last word of each position, the longest first; most of its words are wrong."""
    index = 0
    while index < len(words):
        longest = min(len(words), index + MOST_WORDS_OF_A_POSITION)
        for last in range(longest - 1, index, -1):
            among = wrong.intersection(range(index, last + 1))
            if among and 2 * len(among) >= last + 1 - index and _is_position(words, index, last):
                yield index, last
                index = last
                break
        index += 1


def _is_position(words: Sequence[Word], first: int, last: int) -> bool:
    whole = words[first].where.text
    text = whole[words[first].where.start : words[last].where.end]
    name, _, body = text.rpartition("=")
    return " " not in name and _reads(body)


def _reads(text: str) -> bool:
    from plotter.earth.coordinates import parse_coordinate

    try:
        parse_coordinate(text)
    except PositionError:
        return False
    return True


def _quotes_wanted(where: Where) -> PlotterError:
    typed = _quoted(where.text[where.start : where.end])
    return InputError("quotes", where=where, candidates=(typed,), typed=typed)


def _quoted(text: str) -> str:
    """A position in quotes that a route reads as one word: without its marks if need be.

    >>> _quoted("43°54'N 92°30'W")
    '"43°54\\'N 92°30\\'W"'
    >>> _quoted("N43° 54' 30\\" W92° 30' 0\\"")
    '"N43 54 30 W92 30 0"'
    """
    for inner in (text, " ".join(text.translate(_MARKS).split())):
        typed = f'"{inner}"'
        if [word.text for word in words_of(typed, lambda _: False)] == [inner]:
            return typed
    return f"'{text}'"


DIRECT = "DCT"
MOST_WORDS = 10_000
"""Words of a route, and so its points: reading that many takes a few seconds."""
MOST_FAULTS = 25
"""Faults reported at once: finding what an unknown word may be a slip of takes 0.1 s."""


class TypedRoute(NamedTuple):
    """The waypoints of a route, its speed and level groups, what was decided, its own name."""

    waypoints: tuple[Waypoint, ...]
    cruise: tuple[CruiseChange, ...]
    cautions: tuple[Caution, ...]
    name: str = ""


def read_route(
    route: str | Sequence[str],
    store: Store,
    own_points: OwnPoints | None = None,
    bearing_variation: Callable[[Position], float] | None = None,
) -> TypedRoute:
    """The waypoints of a route typed as one text or as a sequence of points.

    ``bearing_variation`` gives the variation [°, east positive] at a position, for bearings from
    a point whose own declination is not in the data. Raises :class:`~plotter.errors.RouteError`
    with the faults of the route at once, the first :data:`MOST_FAULTS` of them.
    """
    own = own_points or OwnPoints()
    words = _words(route, own, store)
    pending, cruise, faults = _sort_words(words)
    pending, halves = without_halves(pending, lambda text: bool(own.find(text)))
    faults += halves
    reader = PointReader(store, own, bearing_variation)
    points, more = _read_points(pending, reader)
    faults = with_spaced_positions(words, [*faults, *more])
    if not faults:
        faults = _whole_route_faults(pending, points, route)
    if faults:
        faults.sort(key=lambda fault: fault.where.start if fault.where else 0)
        raise RouteError(faults[:MOST_FAULTS])
    return TypedRoute(
        tuple(point.waypoint for point in points),
        tuple(cruise),
        tuple(caution for point in points for caution in point.cautions),
    )


def read_point(
    typed: str | Sequence[str],
    store: Store,
    own_points: OwnPoints | None = None,
    bearing_variation: Callable[[Position], float] | None = None,
) -> ReadPoint:
    """The one point that was typed, in any notation a route takes; quotes are not needed.

    Raises :class:`~plotter.errors.RouteError` where it is no point, or more than one.
    """
    own = own_points or OwnPoints()
    text = _unquoted(typed if isinstance(typed, str) else " ".join(typed))
    pending, _, faults = _sort_words(_words([text], own, store))
    pending, halves = without_halves(pending, lambda text: bool(own.find(text)))
    if halves:
        raise RouteError(halves)
    points, more = _read_points(pending, PointReader(store, own, bearing_variation))
    faults += more
    if len(pending) != 1 and (not faults or len(pending) > 1):
        faults = [_not_one(text, len(pending))]
    if faults:
        raise RouteError(faults)
    return points[0]


def _unquoted(text: str) -> str:
    """A text without the quotes a route would want round it."""
    bare = text.strip()
    is_quoted = len(bare) > 2 and bare[0] in QUOTES and bare[-1] == bare[0]
    return bare[1:-1] if is_quoted and bare[0] not in bare[1:-1] else text


def _not_one(text: str, count: int) -> PlotterError:
    key = "one-point" if count else "one-point.none"
    return InputError(key, where=Where(text, 0, len(text)), count=count)


def _words(route: str | Sequence[str], own: OwnPoints, store: Store) -> tuple[Word, ...]:
    def is_known(word: str) -> bool:
        return bool(own.find(word) or store.by_code(word)) or may_be_coordinate(word)

    def is_one_point(text: str) -> bool:
        if len(text) > LONGEST_WORD:
            return False
        body = text.rpartition("=")[2].strip()
        if may_be_coordinate(body) or own.find(body) is not None:
            return True
        return bool(own.like(body)) and not all(map(is_known, body.split()))

    _check_size(route)
    return words_of(route, is_one_point)


def _check_size(route: str | Sequence[str]) -> None:
    """Reject a text longer than any route before anything else is done with it."""
    whole = route if isinstance(route, str) else " ".join(route)
    words = whole.split()
    if len(words) > MOST_WORDS:
        raise RouteError([InputError("too-many-points", count=len(words), most=MOST_WORDS)])
    longest = max(map(len, words), default=0)
    if longest > LONGEST_WORD:
        raise RouteError([InputError("too-many-points.letters", count=longest, most=LONGEST_WORD)])


def _sort_words(
    words: Sequence[Word],
) -> tuple[list[Piece], list[CruiseChange], list[PlotterError]]:
    """Words parted into points and speed groups; faults of form are kept, not raised."""
    pending: list[Piece] = []
    cruise: list[CruiseChange] = []
    faults: list[PlotterError] = []
    for word in words:
        group = read_cruise_group(word.text)
        if word.text.upper() == DIRECT:
            continue
        if group:
            cruise.append(CruiseChange(max(0, len(pending) - 1), group))
            continue
        body, slash, tail = word.text.rpartition("/")
        behind = read_cruise_group(tail) if slash and body else None
        if behind:
            cruise.append(CruiseChange(len(pending), behind))
        name, equals, text = (body if behind else word.text).rpartition("=")
        if equals and not (name.strip() and text.strip()):
            faults.append(_half_named(word))
            continue
        pending.append(Piece(name.strip(), text.strip(), word.where))
    return pending, cruise, faults


def _half_named(word: Word) -> PlotterError:
    return InputError("half-named", where=word.where, text=word.text)


def _read_points(
    pending: Sequence[Piece], reader: PointReader
) -> tuple[list[ReadPoint], list[PlotterError]]:
    """Every point, those of more than one meaning last, when their neighbours are known."""
    found: dict[int, ReadPoint] = {}
    faults: list[PlotterError] = []
    again: list[int] = []
    for index, item in enumerate(pending):
        if len(faults) >= MOST_FAULTS:
            break
        try:
            found[index] = _named(reader.read(item.text, None), item.name)
        except AmbiguousIdentifier:
            again.append(index)
        except InputError as fault:
            faults.append(_pointing(fault, item))
    known = list(found)
    for index in again:
        if len(faults) >= MOST_FAULTS:
            break
        near, beside = _around(pending, found, known, index, reader)
        try:
            read = reader.read(pending[index].text, near, beside)
            found[index] = _named(read, pending[index].name)
            insort(known, index)
        except InputError as fault:
            faults.append(_pointing(fault, pending[index]))
    return [found[index] for index in known], faults


def _named(point: ReadPoint, name: str) -> ReadPoint:
    return point._replace(waypoint=replace(point.waypoint, name=name)) if name else point


def _around(
    pending: Sequence[Piece],
    found: dict[int, ReadPoint],
    known: Sequence[int],
    index: int,
    reader: PointReader,
) -> tuple[Position | None, list[Position]]:
    """The nearest known point along the route, the one before if both are, and the nearest on
    either side; where none is known, no nearest and all that the neighbours may mean.
    """
    behind = bisect_left(known, index)
    sides = known[max(0, behind - 1) : behind + 1]
    if sides:
        nearest = min(sides, key=lambda other: abs(other - index))
        places = [found[other].waypoint.position for other in sides]
        return found[nearest].waypoint.position, places
    words = [pending[other].text for other in (index - 1, index + 1) if 0 <= other < len(pending)]
    return None, [position for word in words for position in reader.places(word)]


def _pointing(fault: InputError, item: Piece) -> PlotterError:
    """The fault with its caret in the whole route, under the wrong part of the word if known."""
    inner = fault.where
    where = item.where
    shift = where.text.find(item.text, where.start, where.end)
    if inner and inner.text == item.text and shift >= 0:
        where = Where(where.text, shift + inner.start, shift + inner.end)
    return fault.at(where)


def _whole_route_faults(
    pending: Sequence[Piece], points: Sequence[ReadPoint], route: str | Sequence[str]
) -> list[PlotterError]:
    text = route if isinstance(route, str) else " ".join(route)
    if len(points) < 2:
        key = "too-few-points" if points else "too-few-points.none"
        return [InputError(key, where=Where(text, 0, len(text)))]
    return [
        _same_place(pending[index + 1], points[index].waypoint)
        for index in range(len(points) - 1)
        if coincide(points[index].waypoint.position, points[index + 1].waypoint.position)
    ]


def coincide(first: Position, second: Position) -> bool:
    """Whether two positions are one place: equal, the same pole, or ±180 of one meridian."""
    if first.latitude_deg != second.latitude_deg:
        return False
    turn = abs(first.longitude_deg - second.longitude_deg)
    return first.is_pole or turn in (0.0, 360.0)


def _same_place(item: Piece, before: Waypoint) -> PlotterError:
    return InputError("zero-length.point", where=item.where, text=item.text, before=before.name)
