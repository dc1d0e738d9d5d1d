"""The tables of the page: everything the map shows, in words and figures.

All text goes through :func:`shown`, which leaves nothing that HTML could take for markup.
"""

from __future__ import annotations

import html
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import accumulate

from plotter import wording
from plotter.maps import labels
from plotter.maps.sheet import shown_airports
from plotter.places.airports import Beside
from plotter.places.twins import twins_among
from plotter.route.cautions import Caution
from plotter.route.checkpoints import Checkpoint
from plotter.route.plot import Plot
from plotter.route.route import Leg, Waypoint

DASHES = 3


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
    rows: Iterable[str],
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
        f"<tbody>{''.join(rows)}</tbody>{foot}</table></div>"
    )


def _row(item: str, head: str, cells: Iterable[str]) -> str:
    others = "".join(
        f'<td class="name">{cell}</td>' if cell.startswith("<bdi>") else f"<td>{cell}</td>"
        for cell in cells
    )
    return f'<tr data-item="{item}"><th scope="row">{head}</th>{others}</tr>\n'


def _link(words: str, spoken: str) -> str:
    return f'<a href="#map_route" aria-label="{html.escape(spoken)}, show on the map">{words}</a>'


def legs(plot: Plot, *, sm: bool) -> str:
    """Number, from, to, true course, variation, magnetic course, distance of each leg."""
    heads = ["Leg", "From", "To", "TC", "VAR", "MC", "Distance", *["Statute"] * sm]
    rows = (_leg_row(leg, sm) for leg in plot.route.legs)
    return framed("legs-table", "Legs", heads, rows, _total(plot, sm))


def _leg_row(leg: Leg, sm: bool) -> str:
    dash = (leg.number - 1) % DASHES
    stroke = f'<svg class="ink ink-{dash}" aria-hidden="true"><path d="M0 4h34"/></svg>'
    head = _link(str(leg.number), f"Leg {leg.number}") + stroke
    cells = [
        shown(leg.start.name),
        shown(leg.end.name),
        wording.course(leg.true_course_deg, "T"),
        wording.variation(leg.variation.degrees_east),
        wording.course(leg.magnetic_course_deg, "M"),
        *_lengths(leg.distance_nm, sm),
    ]
    return _row(f"leg-{leg.number}", head, cells)


def _lengths(distance_nm: float, sm: bool) -> list[str]:
    return [wording.distance(distance_nm), *[labels.statute(distance_nm)] * sm]


def _total(plot: Plot, sm: bool) -> str:
    cells = "".join(f"<td>{cell}</td>" for cell in _lengths(plot.route.distance_nm, sm))
    return f'<tfoot><tr><th scope="row" colspan="6">Whole route</th>{cells}</tr></tfoot>'


def checkpoints(plot: Plot) -> str:
    """Number, leg, position, distance gone and to go of each checkpoint and turning point."""
    heads = ["Checkpoint", "Leg", "Position", "Gone", "To go"]
    rows = (row for _, row in sorted(_marks(plot), key=lambda mark: mark[0]))
    return framed("checkpoints-table", "Checkpoints and turning points", heads, rows)


def _marks(plot: Plot) -> Iterator[tuple[float, str]]:
    yield from ((mark.distance_from_start_nm, _mark_row(mark)) for mark in plot.checkpoints)
    whole = plot.route.distance_nm
    gone = accumulate((leg.distance_nm for leg in plot.route.legs), initial=0.0)
    for index, (point, so_far) in enumerate(zip(plot.route.waypoints, gone, strict=True)):
        yield so_far, _point_row(index, point, so_far, max(0.0, whole - so_far), plot)


def _mark_row(mark: Checkpoint) -> str:
    cells = [
        str(mark.leg_number),
        wording.position(mark.position),
        wording.distance(mark.distance_from_start_nm),
        wording.distance(mark.distance_to_go_nm),
    ]
    head = _link(shown(mark.name), labels.apart(mark.name))
    return _row(f"checkpoint-{mark.number}", head, cells)


def _point_row(index: int, point: Waypoint, gone_nm: float, to_go_nm: float, plot: Plot) -> str:
    last = len(plot.route.legs)
    cells = [
        f"{index}/{index + 1}" if 0 < index < last else str(max(1, index)),
        wording.position(point.position),
        wording.distance(gone_nm),
        wording.distance(to_go_nm),
    ]
    link = _link(shown(point.name), labels.apart(point.name))
    head = f'<span class="turn" aria-hidden="true"></span>{link}'
    return _row(f"point-{index}", head, cells)


def airports(plot: Plot) -> str:
    """Code, name, distance along and beside the line, elevation, longest runway."""
    if not plot.near:
        return f"<p>Airports beside the route: {wording.NOT_IN_DATA}.</p>"
    fields = shown_airports(plot)
    twins = _twins(fields)
    heads = ["Airport", "Name", "Along", "Off the line", "Elevation", "Longest runway"]
    rows = (_airport_row(number, field, twins) for number, field in enumerate(fields))
    left = len(plot.near) - len(fields)
    more = f"<p>The {left} farthest from the line are neither drawn nor listed.</p>" if left else ""
    return framed("airports-table", "Airports beside the route", heads, rows) + more


def _twins(fields: Iterable[Beside]) -> dict[str, list[str]]:
    """The idents of the listed airfields that may be the same field, by ident."""
    found: dict[str, list[str]] = defaultdict(list)
    for pair in twins_among(field.airport for field in fields):
        found[pair.first.ident].append(pair.second.ident)
        found[pair.second.ident].append(pair.first.ident)
    return found


def _airport_row(number: int, field: Beside, twins: Mapping[str, list[str]]) -> str:
    airport = field.airport
    kind = "" if airport.kind == "small_airport" else labels.KIND_WORDS.get(airport.kind, "")
    twice = " and ".join(twins.get(airport.ident, ()))
    said = [kind or "", f"perhaps one field with {labels.visible(twice)}" if twice else ""]
    note = "".join(f" <small>{html.escape(words)}</small>" for words in said if words)
    code = labels.code(airport)
    cells = [
        shown(airport.name) + note,
        wording.distance(field.along_nm),
        labels.off(field.off_nm, field.beyond),
        labels.height(airport.elevation_ft),
        labels.height(airport.longest_runway_ft),
    ]
    return _row(f"airport-{number}", _link(shown(code), labels.apart(code)), cells)


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
    said = f"<span>{where}{told(caution.text)}{source}</span>"
    return f'<li class="{rank}"><strong>{rank}</strong> {said}</li>'
