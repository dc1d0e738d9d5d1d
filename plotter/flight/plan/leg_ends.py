"""What is noted for a leg, kept by the leg's two ends while its route changes.

A plan file numbers its ``[[leg]]`` rows; a route that is typed anew counts its legs anew. While a
plan is edited a row therefore says ``between = ["KLSE", "KEAU"]`` in place of ``number``, and gets
its number when the plan is flown or saved. The second leg between the same two points says so with
a third item, ``2``. A row whose leg is not on the route is set aside, never moved to another.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise
from typing import Any, NamedTuple

from plotter.route.reading.item15 import read_cruise_group

Row = Mapping[str, Any]
Ends = tuple[str | int, ...]
"""Start and end of a leg as the route has them, and from the second such leg on which it is."""
BETWEEN, NUMBER = "between", "number"


class Numbered(NamedTuple):
    """Rows with the number of their leg, and those whose leg is not on the route."""

    rows: list[dict[str, Any]]
    aside: list[dict[str, Any]]


def ends_of_legs(points: Sequence[str]) -> list[Ends]:
    """Return the ends of every leg of a route, from its points as they are typed.

    A name given to a point, a speed and level group behind it and the case of its letters do not
    change where it is.

    >>> ends_of_legs(["KAAA", "barn=44.1,-92.5", "KAAA", "44.1,-92.5"])
    [('KAAA', '44.1,-92.5'), ('44.1,-92.5', 'KAAA'), ('KAAA', '44.1,-92.5', 2)]
    """
    seen: Counter[tuple[str, str]] = Counter()
    found: list[Ends] = []
    for pair in pairwise(map(_place, points)):
        seen[pair] += 1
        found.append(pair if seen[pair] == 1 else (*pair, seen[pair]))
    return found


def by_ends(rows: Iterable[Row], points: Sequence[str]) -> list[dict[str, Any]]:
    """Return rows with the ends of their leg instead of its number, if the route has the leg.

    >>> by_ends([{"number": 2, "distance_nm": 54}], ["KAAA", "KBBB", "KCCC"])
    [{'between': ['KBBB', 'KCCC'], 'distance_nm': 54}]
    """
    legs = ends_of_legs(points)
    return [_with_ends(row, legs) for row in rows]


def by_number(rows: Iterable[Row], points: Sequence[str]) -> Numbered:
    """Return rows with the number of their leg on a route; set aside those whose leg is gone.

    >>> noted = [{"between": ["KBBB", "KCCC"], "distance_nm": 54}]
    >>> by_number(noted, ["KNEW", "KAAA", "KBBB", "KCCC"]).rows
    [{'number': 3, 'distance_nm': 54}]
    >>> by_number(noted, ["KBBB", "KNEW", "KCCC"]).aside
    [{'between': ['KBBB', 'KCCC'], 'distance_nm': 54}]
    """
    numbers = {ends: number for number, ends in enumerate(ends_of_legs(points), start=1)}
    made = Numbered([], [])
    for row in rows:
        ends = ends_of(row)
        if ends is None:
            made.rows.append(dict(row))
        elif ends in numbers:
            rest = {key: value for key, value in row.items() if key not in (BETWEEN, NUMBER)}
            made.rows.append({NUMBER: numbers[ends], **rest})
        else:
            made.aside.append(dict(row))
    return made


def ends_of(row: Row) -> Ends | None:
    """Return the ends that a row names; ``None`` if it names none, or not as a list of two."""
    given = row.get(BETWEEN)
    if not isinstance(given, list | tuple) or len(given) not in (2, 3):
        return None
    kinds = (str, str, int)
    if not all(isinstance(one, kind) for one, kind in zip(given, kinds, strict=False)):
        return None
    return tuple(given)


def _with_ends(row: Row, legs: Sequence[Ends]) -> dict[str, Any]:
    number = row.get(NUMBER)
    if not isinstance(number, int) or not 1 <= number <= len(legs):
        return dict(row)
    rest = {key: value for key, value in row.items() if key != NUMBER}
    return {BETWEEN: list(legs[number - 1]), **rest}


def _place(point: str) -> str:
    """Return where a point is, as typed, without its name and its speed and level group."""
    body = point.rpartition("=")[2]
    place, slash, group = body.rpartition("/")
    return (place if slash and read_cruise_group(group) else body).upper()
