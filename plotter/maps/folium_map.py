"""A live folium map of a plot, for Python and notebooks, to which people add layers of their own.

The one home of folium. Unlike the offline page, a folium map loads its scripts from the network.
Every name reaches it as an escaped property of a GeoJSON layer and never through a popup's
template, where ``${…}`` would run as code.
"""

from __future__ import annotations

import html
import itertools
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Any

from plotter.maps import labels
from plotter.maps.base import AREAS, LAYERS, Basemap, Piece, Tier
from plotter.maps.drawing import LatLon, drawn_legs, route_bounds, shown_airports, whole_turns
from plotter.maps.packing import decoded
from plotter.maps.palette import BORDER, COAST, GRAPHITE, ISOGONIC, LAKE, LAND, RIVER, STATE
from plotter.maps.view import View
from plotter.route.plotting import Plot

if TYPE_CHECKING:
    import folium

    from plotter.maps.drawing import OwnDrawing
    from plotter.maps.isogonic import Isogonics

Node = dict[str, Any]
SHOWN = {"land": "land", "lake": "lakes", "river": "rivers", "state": "states", "border": "borders"}


def folium_map(
    plot: Plot,
    basemap: Basemap,
    *,
    tiles: str | None = None,
    isogonic: Isogonics | None = None,
    own: OwnDrawing | None = None,
) -> folium.Map:
    """Return the route, its surroundings and the base as named layers of a folium map.

    ``tiles`` is what :class:`folium.Map` takes under that name, with the terms of its server; no
    tiles are asked for by default.
    """
    import folium

    drawn = drawn_legs(plot.route)
    view = route_bounds(drawn)
    made = folium.Map(tiles=tiles, control_scale=True)
    for name in LAYERS:
        _add(made, SHOWN[name], _base(basemap, name), _style(name), interactive=False)
    if own is not None:
        _add(made, "own layers", _own(own), _style("own"), ("name",))
    if isogonic is not None:
        _add(made, "isogonic lines", _isogonics(isogonic), _style("isogonic"), ("variation",))
    _add(made, "airports", _airports(plot, drawn), _style("airport"), ("code", "name"))
    _add(made, "legs", _legs(plot, drawn), _style("leg"), ("leg", "courses", "distance"))
    _add(made, "checkpoints", _checkpoints(plot, view), _style("checkpoint"), ("name", "gone"))
    _add(made, "turning points", _points(plot, drawn), _style("point"), ("name", "place"))
    folium.LayerControl().add_to(made)
    made.fit_bounds([[view.south, view.west], [view.north, view.east]])
    return made


def _add(
    made: folium.Map,
    name: str,
    features: Iterable[Node],
    style: Node,
    fields: tuple[str, ...] = (),
    *,
    interactive: bool = True,
) -> None:
    """One GeoJSON layer of the map, under its name in the control; none where nothing is in it."""
    import folium

    collection = {"type": "FeatureCollection", "features": list(features)}
    if not collection["features"]:
        return
    folium.GeoJson(
        collection,
        name=name,
        style_function=lambda _: style,
        marker=folium.CircleMarker(radius=style.get("radius", 4)),
        tooltip=folium.GeoJsonTooltip(list(fields)) if fields else None,
        interactive=interactive,
    ).add_to(made)


STYLES: dict[str, Node] = {
    "land": {"color": COAST, "weight": 0.8, "fillColor": LAND, "fillOpacity": 1.0},
    "lake": {"color": COAST, "weight": 0.8, "fillColor": LAKE, "fillOpacity": 1.0},
    "river": {"color": RIVER},
    "state": {"color": STATE, "weight": 0.6},
    "border": {"color": BORDER},
    "leg": {"weight": 3},
    "airport": {"radius": 3, "fillOpacity": 0.4},
    "checkpoint": {"radius": 4, "fillOpacity": 1.0},
    "point": {"radius": 6},
    "isogonic": {"color": ISOGONIC, "dashArray": "6 4"},
    "own": {"weight": 1.5, "fillOpacity": 0.1},
}


def _style(name: str) -> Node:
    """How a layer is drawn: a pencil line on pale land."""
    plain: Node = {"color": GRAPHITE, "weight": 1, "fillColor": GRAPHITE, "fillOpacity": 0.0}
    return plain | STYLES[name]


def _feature(kind: str, coordinates: object, **said: str) -> Node:
    """One feature, longitude first as GeoJSON has it; what is said of it can hold no markup."""
    return {
        "type": "Feature",
        "geometry": {"type": kind, "coordinates": coordinates},
        "properties": {name: html.escape(text) for name, text in said.items()},
    }


def _east_first(points: Iterable[LatLon]) -> list[list[float]]:
    return [[round(longitude, 5), round(latitude, 5)] for latitude, longitude in points]


def _legs(plot: Plot, drawn: Sequence[Sequence[LatLon]]) -> Iterator[Node]:
    parts = itertools.groupby(plot.parts, key=lambda part: part.leg.number)
    for leg, points, (_, of_leg) in zip(plot.route.legs, drawn, parts, strict=True):
        ends = f"{leg.number}, {labels.visible(leg.start.name)} to {labels.visible(leg.end.name)}"
        yield _feature(
            "LineString",
            _east_first(points),
            leg=ends,
            courses="; ".join(map(labels.courses, of_leg)),
            distance=labels.distances(leg.distance_nm, sm=False),
        )


def _points(plot: Plot, drawn: Sequence[Sequence[LatLon]]) -> Iterator[Node]:
    ends = [drawn[0][0], *(leg[-1] for leg in drawn)]
    for point, end in zip(plot.route.waypoints, ends, strict=True):
        (at,) = _east_first([end])
        place = labels.visible(point.place.name) if point.place else ""
        yield _feature("Point", at, name=labels.visible(point.name), place=place)


def _checkpoints(plot: Plot, view: View) -> Iterator[Node]:
    for mark in plot.checkpoints:
        gone = labels.distances(mark.distance_from_start_nm, sm=False)
        yield _feature("Point", _near(mark.position, view), name=mark.name, gone=gone)


def _airports(plot: Plot, drawn: Sequence[Sequence[LatLon]]) -> Iterator[Node]:
    view = route_bounds(drawn)
    for field in shown_airports(plot):
        airport = field.airport
        code, name = labels.code(airport), labels.visible(airport.name)
        yield _feature("Point", _near(airport.position, view), code=code, name=name)


def _near(position: Any, view: View) -> list[float]:  # noqa: ANN401
    """A position in the turn of the earth that the route is drawn in."""
    middle = (view.west + view.east) / 2
    turn = whole_turns(position.longitude_deg, middle)
    return _east_first([(position.latitude_deg, position.longitude_deg + turn)])[0]


def _base(basemap: Basemap, name: str) -> Iterator[Node]:
    """One layer of the finest tier there is, unpacked."""
    if not basemap.layers:
        return
    finest = basemap.layers[-1]
    for piece in finest.pieces:
        rings = [_unpacked(text, piece, finest.tier) for text in dict(piece.layers).get(name, ())]
        if rings:  # holes among the rings of an area are left open by the even-odd rule
            yield _feature("Polygon" if name in AREAS else "MultiLineString", rings)


def _unpacked(text: str, piece: Piece, tier: Tier) -> list[list[float]]:
    x = y = 0
    points = []
    flat = iter(decoded(text))
    for east, north in zip(flat, flat, strict=True):
        x, y = x + east, y + north
        points.append((y * tier.unit_deg, x * tier.unit_deg + piece.shift_deg))
    return _east_first(points)


def _isogonics(lines: Isogonics) -> Iterator[Node]:
    from plotter.maps.isogonic import label

    for line in lines.near:
        yield _feature("LineString", _east_first(line.points), variation=label(line.degrees_east))


def _own(own: OwnDrawing) -> Iterator[Node]:
    for kind, flat in own.lines:
        yield _feature(
            "LineString", _east_first(zip(flat[::2], flat[1::2], strict=True)), name=kind
        )
    for rings in own.areas:
        outlines = [_east_first(zip(ring[::2], ring[1::2], strict=True)) for ring in rings]
        yield _feature("Polygon", outlines, name="")
    for latitude, longitude, name in own.points:
        yield _feature("Point", _east_first([(latitude, longitude)])[0], name=name)


def _paired(flat: Sequence[float]) -> list[list[float]]:
    """Points from latitude and longitude in turn."""
    return _east_first(zip(flat[::2], flat[1::2], strict=True))
