"""The web map of a plot: one HTML file that asks for nothing, the same bytes each time."""

from __future__ import annotations

import html
from typing import TYPE_CHECKING

from plotter import wording
from plotter.earth.web_mercator import LIMIT_DEG
from plotter.maps import labels, tables
from plotter.maps.base import Basemap
from plotter.maps.drawing import (
    BEYOND,
    OwnDrawing,
    beyond_the_map,
    drawn_legs,
    own_drawing,
    route_bounds,
    sheet,
)
from plotter.maps.isogonic import isogonics
from plotter.maps.page import figures, json_block, key, page
from plotter.maps.tiles import BARE, MapLayers, switches
from plotter.maps.view import View, mercator, view_round
from plotter.route.plotting import Plot

if TYPE_CHECKING:
    from plotter.flight.log_values import NavigationLog

MOST_TYPED = 20
TALL_FROM = 0.9
"""Height over width of a route, as drawn, from which its map on paper stands upright."""
MOST_LEGS_BESIDE = 9
"""Legs up to which a row of the list of checkpoints fits half the paper's width."""
MOST_ROWS_BESIDE = 32
"""Rows of checkpoints that stand beside an upright map on a page of US letter."""
CREDITS = (
    "Airports, runways and frequencies: OurAirports (public domain). Base map: Natural Earth "
    "(public domain). Towns: GeoNames (CC BY 4.0). Drawn with Leaflet (BSD 2-Clause)."
)


def web_map(
    plot: Plot,
    basemap: Basemap,
    *,
    sm: bool = False,
    log: NavigationLog | None = None,
    layers: MapLayers = BARE,
) -> str:
    """The map and its tables as one HTML document; ``sm`` prints statute miles beside NM.

    With a ``log`` of the plot its rows stand first, what to stop for and check before them; its
    notes take the place of the plot's cautions.
    """
    drawn = drawn_legs(plot.route)
    view = view_round(route_bounds(drawn))
    lines = isogonics(plot, view) if layers.isogonic else None
    own = own_drawing(layers.own, view) if layers.own else None
    parts = {
        **_head(plot, log, sm),
        "shape": shape(plot, route_bounds(drawn)),
        "map": _window(plot),
        "switches": switches(layers),
        "key": key(plot, lines),
        "note": _note(beyond_the_map(drawn, LIMIT_DEG))
        + _tiles_note(layers)
        + _own_note(own, layers),
        "log": _log_sections(log) if log else "",
        "legs": tables.legs(plot, sm=sm),
        "working": f'<p class="note">{html.escape(_working(plot))}</p>',
        "checkpoints": tables.checkpoints(plot),
        "airports": tables.airports(plot),
        "cautions": _log_notes(log) if log else tables.cautions(plot),
        "footer": _footer(plot),
        "plot_data": json_block(
            {
                **sheet(plot, drawn, sm=sm),
                **({"isogonic": lines.as_json()} if lines else {}),
                **_tiles(layers),
                **({"own": own.as_json()} if own else {}),
            }
        ),
        "base_data": json_block(basemap.as_json()),
    }
    tiles = layers.tiles.origin if layers.tiles else ""
    return page(parts, tiles, plot.warning)


def _log_sections(log: NavigationLog) -> str:
    from plotter.maps.log_tables import log_sections

    return log_sections(log)


def _log_notes(log: NavigationLog) -> str:
    from plotter.maps.log_tables import log_notes

    return log_notes(log)


def _tiles(layers: MapLayers) -> dict[str, dict[str, str]]:
    if layers.tiles is None:
        return {}
    return {"tiles": {"url": layers.tiles.url, "attribution": layers.tiles.attribution}}


def shape(plot: Plot, route: View) -> str:
    """How the sheet is laid out on paper: an upright map beside a list that ends with it.

    Otherwise the list of checkpoints stands below a wide map, in two columns where its rows are
    short enough, and goes on over pages.
    """
    tall = mercator(route.north) - mercator(route.south) > TALL_FROM * (route.east - route.west)
    rows = len(plot.checkpoints) + len(plot.route.waypoints)
    if len(plot.route.legs) > MOST_LEGS_BESIDE:
        return ""
    return ' class="tall"' if tall and rows <= MOST_ROWS_BESIDE else ' class="columns"'


def view_of(plot: Plot) -> View:
    """The stretch of the earth that the map of a plot fills."""
    return view_round(route_bounds(drawn_legs(plot.route)))


def _window(plot: Plot) -> str:
    ends = f"{plot.route.waypoints[0].name} to {plot.route.waypoints[-1].name}"
    said = html.escape(labels.apart(f"Map of the route {ends}"))
    return (
        f'<div id="map_route" role="application" tabindex="0" aria-label="{said}; arrow keys move '
        'it, plus and minus change its scale. The tables below say all that it shows."></div>'
    )


def _head(plot: Plot, log: NavigationLog | None, sm: bool) -> dict[str, str]:
    name = html.escape(labels.apart(plot.name))
    pairs = "".join(
        f"<div><dt>{term}</dt><dd>{html.escape(said)}</dd></div>"
        for term, said in figures(plot, log, sm=sm)
    )
    warning = html.escape(f": {plot.warning}" if plot.warning else "")
    return {
        "title": f"{name}: route of {plot.local_date or plot.date}{warning}",
        "heading": tables.shown(plot.name),
        "typed": _typed(plot),
        "figures": pairs,
    }


def _typed(plot: Plot) -> str:
    """The route as it was typed; a long one is folded behind its ends."""
    points = [tables.shown(point.text) for point in plot.route.waypoints]
    if len(points) <= MOST_TYPED:
        return f'<p class="typed">{" ".join(points)}</p>'
    return (
        f'<details class="typed"><summary>{points[0]} … {points[-1]}, {len(points)} points'
        f"</summary>{' '.join(points)}</details>"
    )


def _working(plot: Plot) -> str:
    model = plot.route.legs[0].variation.model
    return (
        "TC, true course at mid-leg. VAR, variation there on "
        f"{plot.date_said} at {wording.altitude(plot.altitude_ft)}, by {model}. "
        "MC, magnetic course: TC less east variation, or plus west. Distances add up."
    )


def _note(beyond: bool) -> str:
    return f'<p class="note" id="beyond">{html.escape(BEYOND)}</p>' if beyond else ""


def _tiles_note(layers: MapLayers) -> str:
    """What a page that asks the network says of it, and who made the tiles."""
    if layers.tiles is None:
        return ""
    said = f"Online tiles: {layers.tiles.attribution}. {layers.tiles.caution.text_at('file')}"
    return f'<p class="note" id="tiles-note">{tables.told(said)}</p>'


def _own_note(own: OwnDrawing | None, layers: MapLayers) -> str:
    """Which of the pilot's own layers are drawn, how many shapes did not fit, which are missing."""
    drawn = [f"{own.said}. Nobody has checked them."] if own and own.said else []
    missing = [layers.damaged_caution.text_at("file")] if layers.damaged_caution else []
    said = html.escape(" ".join([*drawn, *missing]))
    return f'<p class="note" id="own-note">{said}</p>' if said else ""


def _footer(plot: Plot) -> str:
    standing = "".join(
        f'<p class="standing">{html.escape(words)}</p>' for words in wording.STANDING
    )
    dates = labels.dates_of_data(plot.data)
    return f"{standing}<p>{html.escape(dates)}</p><p>{html.escape(CREDITS)}</p>"
