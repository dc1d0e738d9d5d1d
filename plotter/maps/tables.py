"""The tables of the page: everything the map shows, in words and figures.

All text goes through :func:`shown`, which leaves nothing that HTML could take for markup.
"""

from __future__ import annotations

import html
from collections.abc import Iterable, Sequence

from plotter import wording
from plotter.maps import labels, rows
from plotter.maps.sheet import shown_airports
from plotter.route.cautions import Caution
from plotter.route.plot import Plot

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


def _row(row: rows.Row, head: str) -> str:
    note = "".join(f" <small>{html.escape(words)}</small>" for words in row.remarks)
    others = "".join(
        f'<td class="name">{shown(cell)}{note}</td>'
        if isinstance(cell, rows.Shown)
        else f"<td>{cell}</td>"
        for cell in row.cells
    )
    return f'<tr data-item="{row.item}"><th scope="row">{head}</th>{others}</tr>\n'


def _link(words: str, spoken: str) -> str:
    return f'<a href="#map_route" aria-label="{html.escape(spoken)}, show on the map">{words}</a>'


def legs(plot: Plot, *, sm: bool) -> str:
    """The legs, with the length of the whole route at their foot."""
    body = (
        _row(row, _link(row.head, f"Leg {row.head}") + _stroke(number))
        for number, row in enumerate(rows.leg_rows(plot, sm))
    )
    return framed("legs-table", "Legs", rows.leg_heads(sm), body, _total(plot, sm))


def _stroke(leg: int) -> str:
    return f'<svg class="ink ink-{leg % DASHES}" aria-hidden="true"><path d="M0 4h34"/></svg>'


def _total(plot: Plot, sm: bool) -> str:
    cells = "".join(f"<td>{cell}</td>" for cell in rows.lengths(plot.route.distance_nm, sm))
    return f'<tfoot><tr><th scope="row" colspan="6">Whole route</th>{cells}</tr></tfoot>'


def checkpoints(plot: Plot) -> str:
    """The checkpoints and turning points, in the order they are flown."""
    body = (_row(row, _mark_head(row)) for row in rows.mark_rows(plot))
    return framed("checkpoints-table", "Checkpoints and turning points", rows.MARK_HEADS, body)


def _mark_head(row: rows.Row) -> str:
    turn = '<span class="turn" aria-hidden="true"></span>' if row.item.startswith("point") else ""
    return turn + _link(shown(row.head), labels.apart(row.head))


def airports(plot: Plot) -> str:
    """The airports beside the route, in the order they are passed."""
    if not plot.near:
        return f"<p>Airports beside the route: {wording.NOT_IN_DATA}.</p>"
    body = (
        _row(row, _link(shown(row.head), labels.apart(row.head))) for row in rows.airport_rows(plot)
    )
    left = rows.left_out(plot)
    more = f"<p>{left}</p>" if left else ""
    table = framed("airports-table", "Airports beside the route", rows.AIRPORT_HEADS, body) + more
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
    said = f"<span>{where}{told(caution.text)}{source}</span>"
    return f'<li class="{rank}"><strong>{rank}</strong> {said}</li>'
