"""GPX 1.1: a route, which a unit guides along, or a track, which it only draws, or both.

Source: the GPX 1.1 schema of https://www.topografix.com/GPX/1/1/. No time of writing is put in,
so that the same flight gives the same bytes; where a log planned the flight, its points carry the
planned time and, as elevation, the planned altitude; the ground's elevation [ft] is then the
extension ``ground_elevation_ft``. ``magvar`` is the variation at the point
itself (the legs carry theirs at mid-leg); it is left out where the model's compass is unreliable.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from xml.etree import ElementTree as ET

from plotter.earth.magnetism import variation
from plotter.earth.units import metres_from_feet
from plotter.formats.descriptions import short_line, standing_lines
from plotter.formats.gps_unit import Mark, each_once, fitted, unit_cautions, unit_name
from plotter.formats.names import shown_name
from plotter.formats.records import degrees, direction, fixed, longitude_below_180, utc
from plotter.formats.strokes import LatLon, split_at_180, strokes
from plotter.formats.unit_limits import DEFAULT_CHOICES, Choices
from plotter.messages import message
from plotter.route.plotting import Plot
from plotter.route.values import Caution, ranked

NAMESPACE = "http://www.topografix.com/GPX/1/1"
OWN_NAMESPACE = "urn:plotter:gpx:1"
_XSI = "http://www.w3.org/2001/XMLSchema-instance"
# Many units hold 50 to 250 points in one route (common practice, from memory), so past the lower
# figure the pilot is told how many there are.
ROUTE_POINTS_NOTED = 50


def gpx(plot: Plot, choices: Choices = DEFAULT_CHOICES) -> bytes:
    """The GPX document of a plot, UTF-8.

    Turning points (and checkpoints, where chosen) are the points of the route; where there is only
    a track they are waypoints, so that they keep their names. The trap: longitude 180 is invalid
    in GPX, so it is written −180, and a track that crosses 180° is cut there, between 179.999999
    and −180; a point's children have a fixed order (ele, time, magvar, name, cmt, desc, type). The
    pilot's own note stands in ``cmt`` too, where it can be told from the words of this program.
    """
    told = replace(plot, cautions=ranked([*plot.cautions, *gpx_cautions(plot, choices)]))
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
    metadata = ET.SubElement(root, "metadata")
    _text(metadata, "name", shown_name(plot.name))
    _text(metadata, "desc", "\n".join(standing_lines(told)))
    fit = fitted(plot, choices)
    if choices.gpx_as == "track":
        for mark in each_once(fit.all):
            _point(root, "wpt", told, mark, choices.unit.decimals)
    else:
        _routes(root, told, choices, fit.parts)
    if choices.gpx_as != "route":
        _track(root, told, choices)
    ET.indent(root, "  ")
    text: bytes = ET.tostring(root, encoding="utf-8", xml_declaration=True)
    return text + b"\n"


def gpx_cautions(plot: Plot, choices: Choices = DEFAULT_CHOICES) -> list[Caution]:
    """What was changed to fit the unit; without limits, a caution where a route has many points."""
    found = list(unit_cautions(plot, choices))
    points = len(plot.route.waypoints) + len(plot.checkpoints) * choices.gpx_checkpoints
    if choices.unit.route_points is not None:
        return found
    if choices.gpx_as == "track" or points <= ROUTE_POINTS_NOTED:
        return found
    key = "gpx-route-points.checkpoints" if choices.gpx_checkpoints else "gpx-route-points"
    return [*found, Caution("CHECK", message(key, points=points), where="GPX")]


def _routes(
    root: ET.Element, plot: Plot, choices: Choices, parts: Sequence[Sequence[Mark]]
) -> None:
    """One route, or numbered parts of it."""
    for number, part in enumerate(parts, start=1):
        route = ET.SubElement(root, "rte")
        tail = str(number) if len(parts) > 1 else ""
        _line_head(route, plot, _line_name(plot, choices, "ROUTE", tail))
        for mark in part:
            _point(route, "rtept", plot, mark, choices.unit.decimals)


def _track(root: ET.Element, plot: Plot, choices: Choices) -> None:
    """The line itself, densified; one segment, or more where it crosses 180°."""
    track = ET.SubElement(root, "trk")
    _line_head(track, plot, _line_name(plot, choices, "TRACK"))
    places = choices.unit.decimals
    for piece in _joined(plot):
        segment = ET.SubElement(track, "trkseg")
        for latitude, longitude in piece:
            lon = longitude_below_180(longitude, fixed(180.0 - 10.0**-places, places), places)
            ET.SubElement(segment, "trkpt", {"lat": fixed(latitude, places), "lon": lon})


def _joined(plot: Plot) -> list[list[LatLon]]:
    """The legs as lines within −180…180, one run on into the next where they meet."""
    pieces: list[list[LatLon]] = []
    for leg in plot.route.legs:
        for piece in split_at_180(strokes(leg.line)):
            if pieces and _written(pieces[-1][-1]) == _written(piece[0]):
                pieces[-1] += piece[1:]
            else:
                pieces.append(piece)
    return pieces


def _written(point: LatLon) -> tuple[str, str]:
    return degrees(point[0]), degrees(point[1])


def _line_name(plot: Plot, choices: Choices, stand_in: str, tail: str = "") -> str:
    """The name of a route or track as the unit takes it; ``tail`` is the number of a part."""
    limit = choices.name_limit
    if limit is None:
        return f"{shown_name(plot.name)} {tail}".strip()
    short = unit_name(plot.name, limit - len(tail), capitals=choices.capitals)
    return (short or stand_in[: limit - len(tail)]) + tail


def _line_head(parent: ET.Element, plot: Plot, name: str) -> None:
    """Name and one short line for a small screen: the cautions stand once, in the metadata."""
    full = shown_name(plot.name)
    _text(parent, "name", name)
    _text(parent, "desc", short_line(plot, "" if name.startswith(full) else full))


def _point(parent: ET.Element, tag: str, plot: Plot, mark: Mark, places: int) -> None:
    where = mark.position
    below = longitude_below_180(where.longitude_deg, fixed(-180.0, places), places)
    place = {"lat": fixed(where.latitude_deg, places), "lon": below}
    element = ET.SubElement(parent, tag, place)
    if mark.elevation_ft is not None:
        _text(element, "ele", fixed(metres_from_feet(mark.elevation_ft), 1))
    if mark.time is not None:
        _text(element, "time", utc(mark.time))
    here = variation(where, plot.date, plot.altitude_ft, allow_old_model=True)
    if here.zone != "blackout":
        _text(element, "magvar", direction(here.degrees_east, 1))
    _text(element, "name", mark.name)
    _text(element, "cmt", mark.note)
    _text(element, "desc", "\n".join(line for line in mark.lines if line))
    _text(element, "type", mark.kind)
    if mark.is_planned:
        ground = ET.SubElement(ET.SubElement(element, "extensions"), "ground_elevation_ft")
        ground.set("xmlns", OWN_NAMESPACE)
        ground.text = None if mark.ground_ft is None else fixed(mark.ground_ft, 1)


def _text(parent: ET.Element, tag: str, text: str) -> None:
    if text:
        ET.SubElement(parent, tag).text = text
