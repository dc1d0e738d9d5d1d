"""GPX 1.1: the turning points as one route, which a unit guides along.

Source: the GPX 1.1 schema of https://www.topografix.com/GPX/1/1/. No time of writing is put in,
so that the same flight gives the same bytes. ``magvar`` is the variation at the point itself (the
legs carry theirs at mid-leg); it is left out where the model's compass is unreliable.
"""

from __future__ import annotations

from xml.etree import ElementTree as ET

from plotter.earth.magnetism import variation
from plotter.earth.units import metres_from_feet
from plotter.formats.descriptions import leg_line, point_line, standing_lines
from plotter.formats.figures import degrees, direction, fixed, longitude_below_180
from plotter.formats.names import shown_name
from plotter.route.plot import Plot
from plotter.route.route import Leg, Waypoint

NAMESPACE = "http://www.topografix.com/GPX/1/1"
_XSI = "http://www.w3.org/2001/XMLSchema-instance"


def gpx(plot: Plot) -> bytes:
    """The GPX document of a plot, UTF-8.

    The trap: longitude 180 is invalid in GPX, so it is written −180; a point's children have a
    fixed order (ele, magvar, name, desc, type).
    """
    root = ET.Element(
        "gpx",
        {
            "xmlns": NAMESPACE,
            "xmlns:xsi": _XSI,
            "xsi:schemaLocation": f"{NAMESPACE} {NAMESPACE}/gpx.xsd",
            "version": "1.1",
            "creator": "plotter",
        },
    )
    name = shown_name(plot.name)
    metadata = ET.SubElement(root, "metadata")
    _text(metadata, "name", name)
    _text(metadata, "desc", "\n".join(standing_lines(plot)))
    _route(root, plot, name)
    ET.indent(root, "  ")
    text: bytes = ET.tostring(root, encoding="utf-8", xml_declaration=True)
    return text + b"\n"


def _route(root: ET.Element, plot: Plot, name: str) -> None:
    route = ET.SubElement(root, "rte")
    _text(route, "name", name)
    _text(route, "desc", "\n".join(standing_lines(plot)))
    legs: list[Leg | None] = [*plot.route.legs, None]
    for point, leg in zip(plot.route.waypoints, legs, strict=True):
        _point(route, plot, point, leg)


def _point(route: ET.Element, plot: Plot, point: Waypoint, leg: Leg | None) -> None:
    element = ET.SubElement(
        route,
        "rtept",
        {
            "lat": degrees(point.position.latitude_deg),
            "lon": longitude_below_180(point.position.longitude_deg),
        },
    )
    if point.elevation_ft is not None:
        _text(element, "ele", fixed(metres_from_feet(point.elevation_ft), 1))
    here = variation(point.position, plot.date, plot.altitude_ft, allow_old_model=True)
    if here.zone != "blackout":
        _text(element, "magvar", direction(here.degrees_east, 1))
    _text(element, "name", shown_name(point.name))
    lines = [point_line(point), leg_line(leg) if leg else ""]
    _text(element, "desc", "\n".join(line for line in lines if line))
    _text(element, "type", point.kind)


def _text(parent: ET.Element, tag: str, text: str) -> None:
    if text:
        ET.SubElement(parent, tag).text = text
