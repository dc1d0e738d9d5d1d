"""Places to type instead of words that name none: found by name, several words taken together."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any

from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position
from plotter.maps import labels
from plotter.places.store import Store
from plotter.route.suggesting import FAR_NM, suggest

Node = dict[str, Any]
MOST_OFFERED = 4
NO_PLACE = "unknown-identifier"


def add_offers(error: Node, store: Store, near: Position | None) -> Node:
    """The faults of a route, each word that names no place with places of that name to type."""
    faults = error.get("all") or [error]
    for run in _runs(faults):
        _offer(run, store, near)
    return error


def _runs(faults: Sequence[Node]) -> Iterator[list[Node]]:
    """Faults of unknown words, those that stand side by side together."""
    run: list[Node] = []
    for fault in faults:
        where = fault["where"]
        if fault["code"] != NO_PLACE or not where or "text" not in where:
            continue
        if run and where["text"][run[-1]["where"]["end"] : where["start"]].strip():
            yield run
            run = []
        run.append(fault)
    if run:
        yield run


def _offer(run: Sequence[Node], store: Store, near: Position | None) -> None:
    """From the last word back: a name of several words takes those before it along."""
    left = list(run)
    while left:
        fault = left.pop()
        fault["offers"] = _places(fault, store, near)
        starts = [each["start"] for each in fault["offers"]]
        while left and starts and left[-1]["where"]["start"] >= min(starts):
            left.pop()


def _places(fault: Node, store: Store, near: Position | None) -> list[Node]:
    """What a word may mean; where it ends a name of several words, that alone.

    Of a slip in an identifier, for which there are identifiers to type, only what is near.
    """
    where = fault["where"]
    text, start, end = where["text"], where["start"], where["end"]
    before = text[:start]
    found = suggest(store, text[start:end], MOST_OFFERED, near=near, before=before)
    longest = max((each.taken for each in found), default=1)
    if near and fault["candidates"] and longest == 1:
        found = tuple(each for each in found if distance_nm(near, each.position) < FAR_NM)
    starts = [*(word.start() for word in re.finditer(r"\S+", before)), start]
    return [
        {
            "type": each.to_type,
            "said": labels.visible(each.words),
            "start": starts[-longest],
            "end": end,
        }
        for each in found
        if each.taken == longest
    ]
