"""What is noted for single legs, as the page tells it: of which leg it is, or that it has none."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from plotter.errors import PlotterError
from plotter.flight.leg_ends import BETWEEN, NUMBER, by_number, ends_of, ends_of_legs
from plotter.maps.labels import visible
from plotter.route.editing import points_of
from plotter.web.plan_faults import plan_faults
from plotter.web.plan_labels import label, unit

Node = dict[str, Any]
Rows = Sequence[Mapping[str, Any]]


def legs_node(notes: Rows, words: Sequence[str]) -> Node:
    """The legs of a route, what is noted for them, and what is noted for none of them.

    ``legs`` names each by its two ends, by which the page keeps its notes.
    """
    legs = ends_of_legs(words)
    made = by_number(notes, words)
    return {
        "legs": [
            {BETWEEN: list(ends), "title": visible(_title(number, words))}
            for number, ends in enumerate(legs, start=1)
        ],
        "noted": [visible(_noted(row, words)) for row in made.rows],
        "aside": [
            {BETWEEN: list(row[BETWEEN]), "text": visible(text)}
            for row, text in zip(made.aside, aside_words(made.aside), strict=True)
        ],
    }


def aside_words(rows: Rows) -> list[str]:
    """What is noted for legs that the route has not, in words.

    >>> aside_words([{"between": ["KBBB", "KCCC"], "measured_nm": 60.5}])
    ['KBBB to KCCC: distance by hand 60.5 NM']
    """
    return [f"{_between(row)}: {_figures(row)}" for row in rows]


def faults_in_plan(fault: PlotterError, plan: Mapping[str, Any] | None, route: str) -> list[Node]:
    """The faults of a plan, those of its legs with the numbers of these on the route."""
    rows = (plan or {}).get("leg")
    known = isinstance(rows, list) and all(isinstance(row, dict) for row in rows)
    return plan_faults(fault, by_number(rows, points_of(route)).rows if rows and known else ())


def _title(number: int, words: Sequence[str]) -> str:
    return f"Leg {number}, {_called(words[number - 1])} to {_called(words[number])}"


def _called(word: str) -> str:
    return word.partition("=")[0]


def _noted(row: Mapping[str, Any], words: Sequence[str]) -> str:
    number = row.get(NUMBER)
    there = isinstance(number, int) and 1 <= number < len(words)
    name = _title(number, words) if there and isinstance(number, int) else f"leg {number}, not here"
    return f"Typed for {name[:1].lower()}{name[1:]}: {_figures(row)}"


def _between(row: Mapping[str, Any]) -> str:
    start, end, *which = ends_of(row) or ("?", "?")
    return f"{start} to {end}" + (f", time {which[0]}" if which else "")


def _figures(row: Mapping[str, Any]) -> str:
    return ", ".join(
        f"{label('leg', key).lower()} {value} {unit(key)}".rstrip()
        for key, value in row.items()
        if key not in (BETWEEN, NUMBER)
    )
