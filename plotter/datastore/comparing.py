"""Two sets of tables held against each other: what moved, closed, is new, has another number."""

from __future__ import annotations

import math
import operator
from collections import defaultdict
from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from plotter.earth.angles import half_turn
from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position
from plotter.errors import RefreshFault
from plotter.places.grid import DEGREE
from plotter.places.model import Change, What
from plotter.places.rows import Row, position_of

MOVED_NM = 0.1
"""Less is a digit polished: no figure of a plan, printed to 0.1 NM, would change for it."""
RENAMED_WITHIN_NM = 0.3
"""An ident that is gone and one that is new, so near each other and of one kind, are one field."""
SAME_LENGTH = 0.05
"""Runways that differ less in length [share] may be one that was renumbered."""
LENGTH_FT = 100.0
"""Lengths that differ less [ft] are one length measured twice: our choice, no rule's."""
MOST_RENUMBERED = 3
"""Magnetic north wanders: a runway's number goes up or down by one, seldom by more. Sides (L, R)
come and go with it."""
TURNED_DEG = 0.1
"""Less is a digit polished [°]: a bearing is typed in whole degrees."""
CLOSED = "closed"
_NUMBERS = 36
Tables = Mapping[str, Iterable[Row]]
"""Rows of the tables of a set by name, as ``places.rows`` lists their columns."""


def compare(before: Tables, after: Tables) -> list[Change]:
    """Every change from one set to the next, airports first, each in the order of its keys."""
    old = {row[0]: row for row in before["airports"]}
    new = {row[0]: row for row in after["airports"]}
    renamed = dict(_renamed(old, new))
    changes = [*_of_airports(old, new, renamed)]
    still = (new.keys() & old.keys()) | set(renamed.values())
    for table, of_table in (("runways", _of_runways), ("frequencies", _of_frequencies)):
        changes += of_table(_by_key(before[table]), _by_key(after[table]), renamed, still)
    changes += _of_navaids(before["navaids"], after["navaids"])
    return changes


def apart_nm(one: Row, other: Row, latitude: int = 10) -> float:
    """How far two rows lie apart [NM]; exactly 0 where both say the same."""
    a, b = one[latitude : latitude + 2], other[latitude : latitude + 2]
    return 0.0 if a == b else distance_nm(_position(one, latitude), _position(other, latitude))


def _position(row: Row, latitude: int = 10) -> Position:
    return position_of(row[latitude], row[latitude + 1])


def _by_key(rows: Iterable[Row]) -> dict[str, list[Row]]:
    found: dict[str, list[Row]] = defaultdict(list)
    for row in rows:
        found[row[0]].append(row)
    return found


def _renamed(old: Mapping[str, Row], new: Mapping[str, Row]) -> Iterator[tuple[str, str]]:
    """Idents that are gone, each with the new one of the same kind at the same place."""
    cells: dict[int, list[Row]] = defaultdict(list)
    for ident in sorted(new.keys() - old.keys()):
        cells[DEGREE.number(float(new[ident][10]), float(new[ident][11]))].append(new[ident])
    for ident in sorted(old.keys() - new.keys()):
        gone, where = old[ident], _position(old[ident])
        beside = [row for cell in DEGREE.cells_round(where, 0.01) for row in cells.get(cell, ())]
        near = [(apart_nm(gone, row), row[0]) for row in beside if row[5] == gone[5]]
        found = min(near, default=(RENAMED_WITHIN_NM + 1, ""))
        if found[0] <= RENAMED_WITHIN_NM:
            yield ident, found[1]


def _of_airports(
    old: Mapping[str, Row], new: Mapping[str, Row], renamed: Mapping[str, str]
) -> Iterator[Change]:
    again = set(renamed.values())
    for ident in sorted(old.keys() | new.keys()):
        if ident not in old:
            if ident not in again:
                yield Change(ident, What.NEW, "", new[ident][6])
        elif ident in renamed:
            now = renamed[ident]
            yield Change(now, What.RENAMED, ident, now)
            yield from _of_airport(now, old[ident], new[now])
        elif ident not in new:
            yield Change(ident, What.GONE, old[ident][6])
        else:
            yield from _of_airport(ident, old[ident], new[ident])


def _of_airport(ident: str, old: Row, new: Row) -> Iterator[Change]:
    moved_nm = apart_nm(old, new)
    if moved_nm >= MOVED_NM:
        before, after = (f"{row[10]} {row[11]}" for row in (old, new))
        yield Change(ident, What.MOVED, before, after, round(moved_nm, 3))
    if (old[5] == CLOSED) != (new[5] == CLOSED):
        yield Change(ident, What.CLOSED if new[5] == CLOSED else What.OPENED, old[5], new[5])
    codes = [" ".join(filter(None, row[1:5])) for row in (old, new)]
    if codes[0] != codes[1]:
        yield Change(ident, What.CODES, codes[0], codes[1])


def _pairs(
    old: Mapping[str, Sequence[Row]],
    new: Mapping[str, Sequence[Row]],
    renamed: Mapping[str, str],
    airports: Container[str],
) -> Iterator[tuple[str, Sequence[Row], Sequence[Row]]]:
    """What hung on each airport that is still there, and what hangs on it now."""
    was = {renamed.get(ident, ident): rows for ident, rows in old.items()}
    for ident in sorted(was.keys() | new.keys()):
        if ident in airports:
            yield ident, was.get(ident, ()), new.get(ident, ())


def _of_runways(
    old: Mapping[str, Sequence[Row]],
    new: Mapping[str, Sequence[Row]],
    renamed: Mapping[str, str],
    airports: Container[str],
) -> Iterator[Change]:
    for now, before, after in _pairs(old, new, renamed, airports):
        yield from _of_strips(now, _open(before), _open(after))


def _open(rows: Iterable[Row]) -> dict[str, Row]:
    """Runways that are not closed, by the names of their ends."""
    return {f"{row[1]}/{row[2]}".strip("/") or "unnamed": row for row in rows if row[7] != "1"}


def _of_strips(ident: str, old: Mapping[str, Row], new: Mapping[str, Row]) -> Iterator[Change]:
    gone = [name for name in old if name not in new]
    added = [name for name in new if name not in old]
    for name in list(gone):
        for other in added:
            if _renumbered(old[name], new[other]):
                yield Change(ident, What.RENUMBERED, name, other)
                gone.remove(name)
                added.remove(other)
                break
    yield from (Change(ident, What.RUNWAY_CLOSED, name, "") for name in gone)
    yield from (Change(ident, What.RUNWAY_NEW, "", name) for name in added)
    for name in sorted(old.keys() & new.keys()):
        lengths = old[name][3], new[name][3]
        if all(lengths) and abs(float(lengths[0]) - float(lengths[1])) >= LENGTH_FT:
            before, after = (f"{name} {length} ft" for length in lengths)
            yield Change(ident, What.RUNWAY_LENGTH, before, after)


def _renumbered(old: Row, new: Row) -> bool:
    """Whether two runways of nearly one length differ by a few tens of degrees in their numbers."""
    numbers = [int(row[1].rstrip("LRCTWSG") or -1) for row in (old, new) if _numbered(row)]
    if len(numbers) != 2 or not old[3] or not new[3]:
        return False
    lengths = float(old[3]), float(new[3])
    turn = (numbers[0] - numbers[1]) % _NUMBERS
    near = min(turn, _NUMBERS - turn) <= MOST_RENUMBERED
    return near and abs(lengths[0] - lengths[1]) <= SAME_LENGTH * max(lengths)


def _numbered(row: Row) -> bool:
    return row[1].rstrip("LRCTWSG").isdecimal() and bool(row[2])


def _of_frequencies(
    old: Mapping[str, Sequence[Row]],
    new: Mapping[str, Sequence[Row]],
    renamed: Mapping[str, str],
    airports: Container[str],
) -> Iterator[Change]:
    for now, was, will in _pairs(old, new, renamed, airports):
        before, after = _listed(was), _listed(will)
        if before != after:
            yield Change(now, What.FREQUENCIES, before, after)


def _listed(rows: Iterable[Row]) -> str:
    return ", ".join(sorted({f"{row[1]} {row[3]}".strip() for row in rows}))


def _of_navaids(before: Iterable[Row], after: Iterable[Row]) -> Iterator[Change]:
    """Beacons of one ident, kind and country are told apart by where they lie, not by number."""
    for one, other, moved_nm in beacon_pairs(before, after):
        if one and other:
            yield from _of_beacon(one, other, moved_nm)
        elif one:
            yield Change(one[0], What.GONE, one[2])
        elif other:
            yield Change(other[0], What.NEW, "", other[2])


def beacon_pairs(
    before: Iterable[Row], after: Iterable[Row]
) -> Iterator[tuple[Row | None, Row | None, float]]:
    """Yield each beacon with the one it has become and how far it moved [NM].

    ``None`` stands where there is no partner. Beacons of one ident, kind and country are paired
    by where they lie, the nearest first.
    """
    old, new = _grouped(before), _grouped(after)
    for group in sorted(old.keys() | new.keys()):
        yield from _paired(old.get(group, []), new.get(group, []))


def _grouped(rows: Iterable[Row]) -> dict[tuple[str, ...], list[Row]]:
    found: dict[tuple[str, ...], list[Row]] = defaultdict(list)
    for row in rows:
        found[row[1], row[3], row[8]].append(row)
    return found


def _paired(
    old: Sequence[Row], new: Sequence[Row]
) -> Iterator[tuple[Row | None, Row | None, float]]:
    pairs = sorted((apart_nm(a, b, 4), a[0], b[0], a, b) for a in old for b in new)
    taken: set[int] = set()
    for moved_nm, _, _, one, other in pairs:
        if id(one) not in taken and id(other) not in taken:
            taken |= {id(one), id(other)}
            yield one, other, moved_nm
    yield from ((row, None, 0.0) for row in old if id(row) not in taken)
    yield from ((None, row, 0.0) for row in new if id(row) not in taken)


def turned_deg(one: Row, other: Row) -> float:
    """Return by how much the declination of a station changed [°]; infinite if given or taken.

    >>> turned_deg([""] * 9 + ["179.5"], [""] * 9 + ["-179.5"])
    1.0
    """
    before, after = one[9], other[9]
    if before == after:
        return 0.0
    if not (before and after):
        return math.inf
    return round(abs(half_turn(float(after) - float(before))), 6)  # 0.1 is 0.1


def _of_beacon(one: Row, other: Row, moved_nm: float) -> Iterator[Change]:
    key = other[0]
    if moved_nm >= MOVED_NM:
        before, after = (f"{row[4]} {row[5]}" for row in (one, other))
        yield Change(key, What.MOVED, before, after, round(moved_nm, 3))
    if one[7] != other[7]:
        yield Change(key, What.FREQUENCY, one[7], other[7])
    if turned_deg(one, other) >= TURNED_DEG:
        yield Change(key, What.DECLINATION, one[9], other[9])


# Is a newer table the successor of the one in use, or something else that keeps the rules?
#
# A table cut short at the end of a line, one of another kind, one with latitude and longitude
# exchanged: every row of it may be in order.

FEWEST, MOST = 0.9, 1.5
"""A table with fewer or more rows than these shares of the one in use is not its successor: the
airports grew by a tenth in three years."""
LEAST_KEPT = 0.95
"""The share of airport idents in use that must be in the newer table: in the three years to 2025
fewer than one in a hundred went."""
FAR_NM, MOST_FAR = 1.0, 0.05
"""No more than this share of airports may have moved by more than FAR_NM [NM]: from 2022 to 2025 it
was one in a hundred."""
LEAST_BEACONS = FEWEST
"""The share of beacons in use that must be in the newer table: some hundred NDBs are switched off
every year (common practice), out of 11,000 beacons."""
GREATEST_TURN_DEG, MOST_TURNED = 2.0, 0.05
"""No more than this share of the declinations of stations may change by more than TURNED_DEG [°] or
go: a station is realigned when it is several degrees off (common practice), few of them in a year.
Both figures are our choice, no rule's."""
TURNED_FAR_DEG = 10.0
MOST_OTHER = 0.5
"""No more than this share of one kind of figure may be another. A column or unit exchanged changes
nearly all of them, some years of edits far fewer; our choice, no rule's."""


class _Figure(NamedTuple):
    """A column of figures: what they are called, the key of a row, when one is another figure."""

    words: str
    table: str
    key: slice
    column: int
    is_other: Callable[[float, float], bool]


_FIGURES = (
    _Figure("elevations of airports", "airports", slice(1), 12, lambda a, b: abs(a - b) > 100.0),
    _Figure("lengths of runways", "runways", slice(3), 3, lambda a, b: abs(a - b) > 0.1 * a),
    _Figure(
        *("headings of runways", "runways", slice(3), 8),
        lambda a, b: abs(half_turn(a - b)) > TURNED_FAR_DEG,
    ),
    _Figure("frequencies of airports", "frequencies", slice(3), 3, operator.ne),
    _Figure("frequencies of beacons", "navaids", slice(1), 7, operator.ne),
)
"""Elevations by more than 100 ft, lengths by more than a tenth, headings by more than
:data:`TURNED_FAR_DEG`, frequencies at all."""


def check_figures(old: Mapping[str, Sequence[Row]], new: Mapping[str, Sequence[Row]]) -> None:
    """Refuse tables in which most figures of one kind are others than in use, or are gone."""
    for words, table, key, column, is_other in _FIGURES:
        if old[table] is new[table]:
            continue
        now = {tuple(row[key]): row[column] for row in new[table]}
        before = {tuple(row[key]): row[column] for row in old[table] if row[column]}
        kept = [(was, now[row]) for row, was in before.items() if row in now]
        others = sum(not will or is_other(float(was), float(will)) for was, will in kept)
        if others > MOST_OTHER * len(kept):
            raise RefreshFault(
                f"{others:,} of {len(kept):,} {words} would be other figures or be gone; nothing "
                "was changed"
            )


def check_size(name: str, new: int, old: int) -> None:
    """Refuse a table of far fewer or more rows than the one in use."""
    if not FEWEST * old <= new <= MOST * old:
        raise RefreshFault(
            f"{name} would have {new:,} rows instead of {old:,}: no successor of the table in use; "
            "nothing was changed"
        )


def check_airports(old: Sequence[Row], new: Sequence[Row]) -> None:
    """Refuse airports that are not those in use, or are somewhere else."""
    if old is new:
        return
    now = {row[0]: row for row in new}
    kept = [(row, now[row[0]]) for row in old if row[0] in now]
    if len(kept) < LEAST_KEPT * len(old):
        raise RefreshFault(
            f"only {len(kept):,} of the {len(old):,} airports in use are in the newer table; "
            "nothing was changed"
        )
    far = sum(apart_nm(*pair) > FAR_NM for pair in kept)
    if far > MOST_FAR * len(kept):
        raise RefreshFault(
            f"{far:,} airports would move by more than {FAR_NM:g} NM; nothing was changed"
        )


def check_navaids(old: Sequence[Row], new: Sequence[Row]) -> None:
    """Refuse beacons that are not those in use, are somewhere else or are set to another north."""
    if old is new:
        return
    kept = [(a, b, moved_nm) for a, b, moved_nm in beacon_pairs(old, new) if a and b]
    if len(kept) < LEAST_BEACONS * len(old):
        raise RefreshFault(
            f"only {len(kept):,} of the {len(old):,} beacons in use are in the newer table; "
            "nothing was changed"
        )
    far = sum(moved_nm > FAR_NM for _, _, moved_nm in kept)
    if far > MOST_FAR * len(kept):
        raise RefreshFault(
            f"{far:,} beacons would move by more than {FAR_NM:g} NM; nothing was changed"
        )
    with_radials = [(a, b) for a, b, _ in kept if a[9]]
    turned = sum(turned_deg(*pair) > GREATEST_TURN_DEG for pair in with_radials)
    if turned > MOST_TURNED * len(with_radials):
        raise RefreshFault(
            f"the declination of {turned:,} beacons would change by more than {GREATEST_TURN_DEG:g}° or "
            "be gone; nothing was changed"
        )
