"""The tables of the page: everything the map shows, in words and figures.

All text goes through :func:`shown`, which leaves nothing that HTML could take for markup.
"""

from __future__ import annotations

import html
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import accumulate
from typing import NamedTuple

from plotter import wording
from plotter.maps import labels
from plotter.maps.drawing import shown_airports
from plotter.places.airports import Beside
from plotter.places.model import Airport
from plotter.places.twins import twins_among
from plotter.route.checkpoints import Checkpoint
from plotter.route.parts import LegPart
from plotter.route.plotting import Plot
from plotter.route.values import Caution, Waypoint

# The rows of the map's tables as plain words, for whatever shows them: file or local page.
#
# A name of outside origin is marked as one (:class:`Shown`), so that whoever shows it keeps it
# apart.


class Shown(str):
    """Text of outside origin, with whatever cannot be seen made visible."""

    __slots__ = ()

    @classmethod
    def of(cls, text: str) -> Shown:
        """The text as it is shown."""
        return cls(labels.visible(text))


class Row(NamedTuple):
    """One row: what it stands for (``leg-1``), its head, its cells, remarks on its name."""

    item: str
    head: str
    cells: tuple[str, ...]
    remarks: tuple[str, ...] = ()


def leg_heads(sm: bool) -> list[str]:
    """What stands over the columns of :func:`leg_rows`."""
    return ["Leg", "From", "To", "TC", "VAR", "MC", "Distance", *["Statute"] * sm]


def leg_rows(plot: Plot, sm: bool) -> Iterator[Row]:
    """Number, from, to, true course, variation, magnetic course, distance of each leg."""
    return (_leg(part, sm) for part in plot.parts)


def lengths(distance_nm: float, sm: bool) -> list[str]:
    """A distance in NM, and in statute miles in a cell of its own where they are asked for."""
    return [wording.distance(distance_nm), *[labels.statute(distance_nm)] * sm]


POINT_HEADS = ["Point", "What it is", "Position", "Elevation"]


def point_rows(plot: Plot) -> Iterator[Row]:
    """What each point of the route is, where, and how high."""
    return (_turning(index, point) for index, point in enumerate(plot.route.waypoints))


POINT_WORDS = {
    "position": "a position",
    "bearing-distance": "bearing and distance from a place",
    "own": "your own point",
}
MARK_HEADS = ["Checkpoint", "Leg", "Position", "Gone", "To go"]


def mark_rows(plot: Plot) -> Iterator[Row]:
    """Leg, position, distance gone and to go of each checkpoint and turning point, in order."""
    return (row for _, row in sorted(_marks(plot), key=lambda mark: mark[0]))


AIRPORT_HEADS = ["Airport", "Name", "Along", "Off the line", "Elevation", "Longest runway"]


def airport_rows(plot: Plot) -> Iterator[Row]:
    """Code, name, distance along and beside the line, elevation, longest runway."""
    fields = shown_airports(plot)
    twins = _twins(fields)
    return (_airport(number, field, twins) for number, field in enumerate(fields))


def left_out(plot: Plot) -> str:
    """What is said where more airports lie beside the route than are shown."""
    left = len(plot.near) - len(shown_airports(plot))
    return f"The {left} farthest from the line are neither drawn nor listed." if left else ""


def _leg(part: LegPart, sm: bool) -> Row:
    cells: Iterable[str] = (
        Shown.of(part.start_name),
        Shown.of(part.end_name),
        wording.course(part.true_course_deg, "T"),
        wording.variation(part.variation_deg_east),
        wording.magnetic_course(part.true_course_deg, part.variation_deg_east),
        *lengths(part.printed_nm, sm),
    )
    return Row(f"leg-{part.leg.number}", part.name, tuple(cells))


def _turning(index: int, point: Waypoint) -> Row:
    place = point.place
    what = POINT_WORDS.get(point.kind, point.kind) if place is None else place.name
    height = "–" if place is None else labels.height(point.elevation_ft)
    cells = (Shown.of(what), wording.position(point.position), height)
    remarks = (labels.visible(point.note),) if point.note else ()
    return Row(f"point-{index}", Shown.of(point.name), cells, remarks)


def _marks(plot: Plot) -> Iterator[tuple[float, Row]]:
    whole = plot.route.distance_nm
    yield from ((mark.distance_from_start_nm, _mark(mark, whole)) for mark in plot.checkpoints)
    gone = accumulate((leg.distance_nm for leg in plot.route.legs), initial=0.0)
    last = len(plot.route.legs)
    for index, (point, so_far) in enumerate(zip(plot.route.waypoints, gone, strict=True)):
        leg = f"{index}/{index + 1}" if 0 < index < last else str(max(1, index))
        yield so_far, _point(index, point, leg, _gone(so_far, whole))


def _gone(gone_nm: float, whole_nm: float) -> tuple[str, str]:
    """What is gone and what is left of a distance, as print has both: they add up to it."""
    left = (wording.tenths(whole_nm) - wording.tenths(gone_nm)) / 10.0
    return wording.distance(gone_nm), wording.distance(left)


def _mark(mark: Checkpoint, whole_nm: float) -> Row:
    cells = (
        str(mark.leg_number),
        wording.position(mark.position),
        *_gone(mark.distance_from_start_nm, whole_nm),
    )
    return Row(f"checkpoint-{mark.number}", Shown.of(mark.name), cells)


def _point(index: int, point: Waypoint, leg: str, gone: tuple[str, str]) -> Row:
    cells = (leg, wording.position(point.position), *gone)
    return Row(f"point-{index}", Shown.of(point.name), cells)


def _twins(fields: Iterable[Beside]) -> dict[str, list[str]]:
    """The idents of the listed airfields that may be the same field, by ident."""
    found: dict[str, list[str]] = defaultdict(list)
    for pair in twins_among(field.airport for field in fields):
        found[pair.first.ident].append(pair.second.ident)
        found[pair.second.ident].append(pair.first.ident)
    return found


def _airport(number: int, field: Beside, twins: Mapping[str, list[str]]) -> Row:
    said = _said(field.airport)
    twice = " and ".join(twins.get(field.airport.ident, ()))
    remarks = (said.kind, f"perhaps one field with {labels.visible(twice)}" if twice else "")
    cells = (
        said.name,
        wording.distance(field.along_nm),
        labels.off(field.off_nm, field.beyond),
        said.elevation,
        said.longest_runway,
    )
    return Row(f"airport-{number}", said.code, cells, tuple(filter(None, remarks)))


class _Said(NamedTuple):
    """What is said of an airport wherever it lies beside a route."""

    code: Shown
    name: Shown
    kind: str
    elevation: str
    longest_runway: str


@lru_cache(labels.AIRPORTS_REMEMBERED)
def _said(airport: Airport) -> _Said:
    return _Said(
        Shown.of(labels.code(airport)),
        Shown.of(airport.name),
        "" if airport.kind == "small_airport" else labels.KIND_WORDS.get(airport.kind, ""),
        labels.height(airport.elevation_ft),
        labels.height(airport.longest_runway_ft),
    )


DASHES = 3
_ON_PAPER = (
    '<label class="choice"><input type="checkbox" id="print-airports"> print this list too</label>'
)


def shown(text: str) -> str:
    """Text of outside origin as HTML text, kept apart in its own direction of writing.

    >>> shown("<b>")
    '<bdi>&lt;b&gt;</bdi>'
    """
    return f"<bdi>{html.escape(labels.visible(text))}</bdi>"


def told(text: str) -> str:
    """A sentence of ours with names of outside origin in it, as HTML text."""
    return html.escape(labels.apart(text))


def framed(
    item: str,
    caption: str,
    heads: Iterable[str],
    body: Iterable[str],
    foot: str = "",
    *,
    region: str = "",
) -> str:
    """A table with its caption, as HTML, in a frame that scrolls sideways.

    ``region`` is what a screen reader calls the frame, the caption unless another is given.
    """
    columns = "".join(f'<th scope="col">{head}</th>' for head in heads)
    return (
        f'<div class="scroll" role="region" aria-label="{region or caption}" tabindex="0">'
        f'<table id="{item}">'
        f"<caption>{caption}</caption><thead><tr>{columns}</tr></thead>"
        f"<tbody>{''.join(body)}</tbody>{foot}</table></div>"
    )


def _row(row: Row, head: str) -> str:
    note = "".join(f" <small>{html.escape(words)}</small>" for words in row.remarks)
    others = "".join(
        f'<td class="name">{shown(cell)}{note}</td>'
        if isinstance(cell, Shown)
        else f"<td>{cell}</td>"
        for cell in row.cells
    )
    return f'<tr data-item="{row.item}"><th scope="row">{head}</th>{others}</tr>\n'


def _link(words: str, spoken: str) -> str:
    return f'<a href="#map_route" aria-label="{html.escape(spoken)}, show on the map">{words}</a>'


def legs(plot: Plot, *, sm: bool) -> str:
    """The legs, with the length of the whole route at their foot."""
    body = (
        _row(row, _link(row.head, f"Leg {row.head}") + _stroke(part.leg.number - 1))
        for part, row in zip(plot.parts, leg_rows(plot, sm), strict=True)
    )
    return framed("legs-table", "Legs", leg_heads(sm), body, _total(plot, sm))


def _stroke(leg: int) -> str:
    return f'<svg class="ink ink-{leg % DASHES}" aria-hidden="true"><path d="M0 4h34"/></svg>'


def _total(plot: Plot, sm: bool) -> str:
    cells = "".join(f"<td>{cell}</td>" for cell in lengths(plot.route.distance_nm, sm))
    return f'<tfoot><tr><th scope="row" colspan="6">Whole route</th>{cells}</tr></tfoot>'


def checkpoints(plot: Plot) -> str:
    """The checkpoints and turning points, in the order they are flown."""
    body = (_row(row, _mark_head(row)) for row in mark_rows(plot))
    return framed("checkpoints-table", "Checkpoints and turning points", MARK_HEADS, body)


def _mark_head(row: Row) -> str:
    turn = '<span class="turn" aria-hidden="true"></span>' if row.item.startswith("point") else ""
    return turn + _link(shown(row.head), labels.apart(row.head))


def airports(plot: Plot) -> str:
    """The airports beside the route, in the order they are passed."""
    if not plot.near:
        return f"<p>Airports beside the route: {wording.NOT_IN_DATA}.</p>"
    body = (_row(row, _link(shown(row.head), labels.apart(row.head))) for row in airport_rows(plot))
    left = left_out(plot)
    more = f"<p>{left}</p>" if left else ""
    table = framed("airports-table", "Airports beside the route", AIRPORT_HEADS, body) + more
    listed = len(shown_airports(plot))
    return f'<div class="whole">{table}</div>{_ON_PAPER}<p class="paper">{_unprinted(listed)}</p>'


def _unprinted(fields: int) -> str:
    """What stands on paper in place of the list of airports."""
    listed = "one airport is" if fields == 1 else f"{fields} airports are"
    return f"Beside the route, {listed} listed on the page itself, not on this paper."


def cautions(plot: Plot) -> str:
    """The cautions, worst rank first, each with its source."""
    return caution_list(plot.cautions)


def caution_list(cautions: Sequence[Caution]) -> str:
    """Cautions in the order given."""
    if not cautions:
        return "<p>Nothing in the data called for a caution on this route.</p>"
    return f'<ul class="cautions">{"".join(_caution(caution) for caution in cautions)}</ul>'


def _caution(caution: Caution) -> str:
    rank = html.escape(caution.rank)
    where = f"{shown(caution.where)}: " if caution.where else ""
    source = f" <cite>{shown(caution.source)}</cite>" if caution.source else ""
    said = f"<span>{where}{told(caution.text_at('file'))}{source}</span>"
    return f'<li class="{rank}"><strong>{rank}</strong> {said}</li>'
