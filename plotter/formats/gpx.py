"""GPX 1.1: a route, which a unit guides along, or a track, which it only draws, or both.

Source: the GPX 1.1 schema of https://www.topografix.com/GPX/1/1/. No time of writing is put in,
so that the same flight gives the same bytes; where a log planned the flight, its points carry the
planned time and, as elevation, the planned altitude. ``magvar`` is the variation at the point
itself (the legs carry theirs at mid-leg); it is left out where the model's compass is unreliable.
"""

from __future__ import annotations

import datetime as dt
from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from xml.etree import ElementTree as ET

from plotter.earth.magnetism import variation
from plotter.earth.position import Position
from plotter.earth.units import metres_from_feet
from plotter.formats.antimeridian import LatLon, split_at_180
from plotter.formats.choices import DEFAULT_CHOICES, Choices
from plotter.formats.descriptions import checkpoint_line, leg_line, point_line, standing_lines
from plotter.formats.figures import degrees, direction, fixed, longitude_below_180, utc
from plotter.formats.names import clean_text, shown_name
from plotter.formats.strokes import strokes
from plotter.formats.unit_names import unit_name, unit_names
from plotter.route.cautions import Caution, ranked
from plotter.route.plot import Plot

NAMESPACE = "http://www.topografix.com/GPX/1/1"
_XSI = "http://www.w3.org/2001/XMLSchema-instance"
# Many units hold 50 to 250 points in one route (common practice, from memory), so past the lower
# figure the pilot is told how many there are.
ROUTE_POINTS_NOTED = 50
_TOO_MANY = "gpx-route-points"


@dataclass(frozen=True, slots=True)
class _Mark:
    """A point that a unit lists by name: a turning point or a checkpoint."""

    name: str
    kind: str
    position: Position
    elevation_ft: float | None
    lines: tuple[str, ...]
    note: str = ""
    time: dt.datetime | None = None


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
    _head(metadata, told, shown_name(plot.name))
    marks = _named(_marks(plot, choices), choices)
    if choices.gpx_as == "track":
        for mark in _each_once(marks):
            _point(root, "wpt", told, mark)
    else:
        _route(root, told, choices, marks)
    if choices.gpx_as != "route":
        _track(root, told, choices)
    ET.indent(root, "  ")
    text: bytes = ET.tostring(root, encoding="utf-8", xml_declaration=True)
    return text + b"\n"


def gpx_cautions(plot: Plot, choices: Choices = DEFAULT_CHOICES) -> list[Caution]:
    """A caution, with the figure, where the route has more points than every unit holds."""
    points = len(plot.route.waypoints) + len(plot.checkpoints) * choices.gpx_checkpoints
    if choices.gpx_as == "track" or points <= ROUTE_POINTS_NOTED:
        return []
    fewer = "leave out --gpx-checkpoints, or " if choices.gpx_checkpoints else ""
    words = (
        f"The GPX route has {points:,} points; many GPS units hold 50 to 250 in a route. "
        f"See what yours holds; if it is fewer, {fewer}plot the route in parts."
    )
    return [Caution("CHECK", _TOO_MANY, words, where="GPX")]


def _marks(plot: Plot, choices: Choices) -> Iterator[_Mark]:
    """What a unit lists, in the order it is flown, under full names."""
    checks = deque(plot.checkpoints if choices.gpx_checkpoints else ())
    for point, leg in zip(plot.route.waypoints, [*plot.route.legs, None], strict=True):
        lines = (point_line(point), leg_line(leg) if leg else "")
        name = shown_name(point.name)
        note = clean_text(point.note)
        elevation_ft = point.elevation_ft if point.altitude_ft is None else point.altitude_ft
        yield _Mark(name, point.kind, point.position, elevation_ft, lines, note, point.time)
        while leg and checks and checks[0].leg_number == leg.number:
            check = checks.popleft()
            words = (checkpoint_line(check),)
            height_ft, time = check.altitude_ft, check.time
            name = shown_name(check.name)
            yield _Mark(name, "checkpoint", check.position, height_ft, words, time=time)


def _named(marks: Iterator[_Mark], choices: Choices) -> list[_Mark]:
    """The marks under the names of the profile, the full name first in the description."""
    full = list(marks)
    if choices.name_limit is None:
        return full
    names, places = [mark.name for mark in full], [mark.position for mark in full]
    short = unit_names(names, places, choices.name_limit)
    return [
        mark if mark.name == name else replace(mark, name=name, lines=(mark.name, *mark.lines))
        for mark, name in zip(full, short, strict=True)
    ]


def _each_once(marks: Sequence[_Mark]) -> list[_Mark]:
    """The marks without those of a place passed before under the same name."""
    first: dict[tuple[str, Position], _Mark] = {}
    for mark in marks:
        first.setdefault((mark.name, mark.position), mark)
    return list(first.values())


def _route(root: ET.Element, plot: Plot, choices: Choices, marks: Sequence[_Mark]) -> None:
    route = ET.SubElement(root, "rte")
    _head(route, plot, _line_name(plot, choices, "ROUTE"))
    for mark in marks:
        _point(route, "rtept", plot, mark)


def _track(root: ET.Element, plot: Plot, choices: Choices) -> None:
    """The line itself, densified; one segment, or more where it crosses 180°."""
    track = ET.SubElement(root, "trk")
    _head(track, plot, _line_name(plot, choices, "TRACK"))
    for piece in _joined(plot):
        segment = ET.SubElement(track, "trkseg")
        for latitude, longitude in piece:
            lon = longitude_below_180(longitude, "179.999999")
            place = {"lat": degrees(latitude), "lon": lon}
            ET.SubElement(segment, "trkpt", place)


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


def _line_name(plot: Plot, choices: Choices, stand_in: str) -> str:
    if choices.name_limit is None:
        return shown_name(plot.name)
    return unit_name(plot.name, choices.name_limit) or stand_in


def _head(parent: ET.Element, plot: Plot, name: str) -> None:
    full = shown_name(plot.name)
    _text(parent, "name", name)
    _text(parent, "desc", "\n".join([*([full] if name != full else []), *standing_lines(plot)]))


def _point(parent: ET.Element, tag: str, plot: Plot, mark: _Mark) -> None:
    where = mark.position
    place = {"lat": degrees(where.latitude_deg), "lon": longitude_below_180(where.longitude_deg)}
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


def _text(parent: ET.Element, tag: str, text: str) -> None:
    if text:
        ET.SubElement(parent, tag).text = text
