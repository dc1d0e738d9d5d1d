"""A plotted route as GeoDataFrames: the only module that knows geopandas."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, Literal

from plotter.earth.geodesic import densify
from plotter.errors import InputError
from plotter.route.plot import Plot

if TYPE_CHECKING:
    import geopandas

Part = Literal["legs", "points", "checkpoints"]
WGS_84 = "EPSG:4326"


def to_geodataframe(plot: Plot, part: Part = "legs") -> geopandas.GeoDataFrame:
    """Legs (lines), turning points or checkpoints (points) in WGS 84 longitude and latitude.

    Distances are [NM], courses [°T] and [°M], variation [°, east positive]. A leg's line is
    densified and unrolled: across 180° its longitudes go on past ±180. Raises InputError for a
    part that is none of the three.
    """
    import geopandas

    rows = _PARTS.get(part)
    if rows is None:
        raise InputError(f"no part is called '{part}'; use legs, points or checkpoints")
    records, shapes = rows(plot)
    return geopandas.GeoDataFrame(records, geometry=shapes, crs=WGS_84)


_Rows = tuple[list[dict[str, Any]], list[Any]]


def _legs(plot: Plot) -> _Rows:
    from shapely import LineString

    records = [
        {
            "number": leg.number,
            "start": leg.start.name,
            "end": leg.end.name,
            "distance_nm": leg.distance_nm,
            "true_course_deg": leg.true_course_deg,
            "variation_deg_east": leg.variation.degrees_east,
            "magnetic_course_deg": leg.magnetic_course_deg,
        }
        for leg in plot.route.legs
    ]
    lines = [
        LineString([(longitude, latitude) for latitude, longitude in densify(leg.line)])
        for leg in plot.route.legs
    ]
    return records, lines


def _points(plot: Plot) -> _Rows:
    from shapely import Point

    records = [
        {"name": point.name, "kind": point.kind, "elevation_ft": point.elevation_ft}
        for point in plot.route.waypoints
    ]
    places = [point.position for point in plot.route.waypoints]
    return records, [Point(place.longitude_deg, place.latitude_deg) for place in places]


def _checkpoints(plot: Plot) -> _Rows:
    from shapely import Point

    records = [
        {
            "number": mark.number,
            "name": mark.name,
            "leg": mark.leg_number,
            "distance_from_start_nm": mark.distance_from_start_nm,
            "distance_to_go_nm": mark.distance_to_go_nm,
        }
        for mark in plot.checkpoints
    ]
    places = [mark.position for mark in plot.checkpoints]
    return records, [Point(place.longitude_deg, place.latitude_deg) for place in places]


_PARTS: dict[str, Callable[[Plot], _Rows]] = {
    "legs": _legs,
    "points": _points,
    "checkpoints": _checkpoints,
}
