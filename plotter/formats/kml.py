"""KML 2.2 for tablets and globes, built by simplekml and then put right.

Source: OGC 07-147r2 and its schema ``ogckml22.xsd``. simplekml writes Style before name and
altitudeMode after coordinates (both invalid), numbers its ids through the whole process, starts
them with a digit, points each icon at an outside host, and trips over control characters and over
names that hold ``<![CDATA[``; each is mended here. Its compiling state is shared by all threads,
hence the lock.
"""

from __future__ import annotations

import io
import threading
from html import escape as html_escape
from xml.etree import ElementTree as ET
from xml.sax.saxutils import escape as xml_escape
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

import simplekml

from plotter.earth.units import metres_from_feet
from plotter.formats.descriptions import (
    checkpoint_line,
    leg_line,
    point_line,
    standing_lines,
)
from plotter.formats.names import clean_text, shown_name
from plotter.formats.records import degrees, fixed, utc
from plotter.formats.strokes import split_at_180, strokes
from plotter.route.checkpoints import Checkpoint
from plotter.route.plotting import Plot
from plotter.route.values import Leg, Waypoint

NAMESPACE = "http://www.opengis.net/kml/2.2"
CREATOR = "plotter"
"""The document's value ``creator``, by which a reader knows a file of this program."""
GRAPHITE = "#2B2B2B"
_LINE_WIDTH_PX = 3
_HEIGHTS = "clampToGround"
_PLANNED_HEIGHTS = "absolute"
_one_at_a_time = threading.Lock()

# The order the schema wants among the elements used here (AbstractFeatureType, LineStringType …).
_ORDER = (
    *("name", "open", "description", "TimeStamp", "styleUrl", "Style", "ExtendedData"),
    *("IconStyle", "LabelStyle", "LineStyle", "color", "colorMode", "scale", "heading", "width"),
    *("Document", "Folder", "Placemark", "Point", "LineString", "MultiGeometry"),
    *("tessellate", "altitudeMode", "coordinates", "when", "Data", "value"),
)
_RANK = {tag: rank for rank, tag in enumerate(_ORDER)}


def kml(plot: Plot) -> bytes:
    """The KML document of a plot, UTF-8: folders of legs, turning points and checkpoints.

    Everything is clamped to the ground (``altitudeMode`` says so): a plot has no heights of
    flight. The trap: viewers read a description as HTML, so what is said there is escaped twice.
    """
    with _one_at_a_time:
        raw = _built(plot)
    root = ET.fromstring(raw)
    for element in root.iter():
        element.tag = element.tag.removeprefix(f"{{{NAMESPACE}}}")
    root.set("xmlns", NAMESPACE)
    _renumber(root)
    for element in root.iter():
        element[:] = sorted(element, key=lambda child: _RANK[child.tag])
    for element in root.iter("coordinates"):
        element.text = _fixed_coordinates(element.text or "")
    ET.indent(root, "  ")
    text: bytes = ET.tostring(root, encoding="utf-8", xml_declaration=True)
    return text + b"\n"


def kml_colour(hex_rgb: str, alpha: int = 255) -> str:
    """A colour as KML has it: alpha, blue, green, red.

    >>> kml_colour("#D55E00")
    'ff005ed5'
    """
    red, green, blue = hex_rgb[1:3], hex_rgb[3:5], hex_rgb[5:7]
    return f"{alpha:02x}{blue}{green}{red}".lower()


def _built(plot: Plot) -> str:
    document = simplekml.Kml(
        name=_name(plot.name), description=_description(*standing_lines(plot)), open=1
    )
    document.parsetext(False)
    document.document.extendeddata.newdata("creator", CREATOR)
    line, mark = _styles()
    legs = document.newfolder(name="Legs", open=0)
    for leg in plot.route.legs:
        _leg(legs, leg, line)
    turns = document.newfolder(name="Turning points", open=0)
    for point in plot.route.waypoints:
        turn = _mark(turns, point, mark, point_line(point))
        _own_data(turn, point)
    if plot.checkpoints:
        marks = document.newfolder(name="Checkpoints", open=0)
        for check in plot.checkpoints:
            _mark(marks, check, mark, checkpoint_line(check))
    return str(document.kml(format=False))


def _styles() -> tuple[simplekml.Style, simplekml.Style]:
    line, mark = simplekml.Style(), simplekml.Style()
    line.linestyle.color = kml_colour(GRAPHITE)
    line.linestyle.width = _LINE_WIDTH_PX
    mark.iconstyle.color = kml_colour(GRAPHITE)
    mark.iconstyle.scale = 0.7
    mark.iconstyle.icon = None
    mark.labelstyle.scale = 0.8
    return line, mark


def _leg(folder: simplekml.Folder, leg: Leg, style: simplekml.Style) -> None:
    """One leg, densified, and cut in two where it crosses 180°."""
    name = _name(f"{leg.number}: {shown_name(leg.start.name)} – {shown_name(leg.end.name)}")
    pieces = split_at_180(strokes(leg.line))
    home = folder
    if len(pieces) > 1:
        home = folder.newmultigeometry(name=name, description=_description(leg_line(leg)))
        home.style = style
    for piece in pieces:
        drawn = home.newlinestring(coords=[(longitude, latitude) for latitude, longitude in piece])
        drawn.tessellate = 1
        drawn.altitudemode = _HEIGHTS
        if home is folder:
            drawn.name, drawn.description = name, _description(leg_line(leg))
            drawn.style = style


def _mark(
    folder: simplekml.Folder, point: Waypoint | Checkpoint, style: simplekml.Style, words: str
) -> simplekml.Point:
    """A point on the ground, or at the altitude and time a log plans to pass it."""
    where = point.position
    place: tuple[float, ...] = (where.longitude_deg, where.latitude_deg)
    if point.altitude_ft is not None:
        place = (*place, metres_from_feet(point.altitude_ft))
    mark = folder.newpoint(name=_name(point.name), coords=[place])
    mark.altitudemode = _HEIGHTS if point.altitude_ft is None else _PLANNED_HEIGHTS
    mark.style = style
    if point.time is not None:
        mark.timestamp.when = utc(point.time)
    if words:
        mark.description = _description(words)
    return mark


def _own_data(mark: simplekml.Point, point: Waypoint) -> None:
    """Write note and elevation [ft] of the ground as values, for programs that read the file."""
    if note := clean_text(point.note):
        mark.extendeddata.newdata("note", xml_escape(note))
    if point.elevation_ft is not None:
        mark.extendeddata.newdata("elevation_ft", fixed(point.elevation_ft, 1))


def _name(text: str) -> str:
    return xml_escape(shown_name(text))


def _description(*lines: str) -> str:
    return xml_escape("<br>\n".join(html_escape(line, quote=False) for line in lines))


def _fixed_coordinates(text: str) -> str:
    points = (point.split(",") for point in text.split())
    return " ".join(
        ",".join((degrees(float(x)), degrees(float(y)), *_height(z))) for x, y, *z in points
    )


def _height(written: list[str]) -> list[str]:
    """A height [m] to a tenth; simplekml writes 0.0 where none is given, and that is left out."""
    return [fixed(float(height), 1) for height in written if float(height) != 0.0]


def _renumber(root: ET.Element) -> None:
    """Give styles valid ids (a letter first), the same in every run, in one place; others none.

    A style that several features share belongs to the document (OGC 07-147r2, on shared styles).
    """
    names: dict[str, str] = {}
    for parent in list(root.iter()):
        for style in parent.findall("Style"):
            names[f"#{style.get('id')}"] = f"style-{len(names) + 1}"
            parent.remove(style)
            root[0].append(style)
    for element in root.iter():
        old = element.attrib.pop("id", "")
        if element.tag == "Style":
            element.set("id", names[f"#{old}"])
    for link in root.iter("styleUrl"):
        link.text = f"#{names[link.text or '']}"


# KMZ: the KML of a plot in a zip archive, smaller and one file wherever it is sent.
#
# Source: OGC 07-147r2, annex C (a KMZ is a zip archive whose main document is ``doc.kml``). The
# archive's time is fixed at the earliest a zip can hold, and its system at one, so that the same
# flight gives the same bytes; another version of zlib may pack the same content otherwise.

MAIN_DOCUMENT = "doc.kml"
_NO_TIME = (1980, 1, 1, 0, 0, 0)
_UNIX = 3
_ORDINARY_FILE = 0o100644 << 16


def kmz(plot: Plot) -> bytes:
    """The KMZ of a plot: one ``doc.kml``, the same as the KML format's own file."""
    entry = ZipInfo(MAIN_DOCUMENT, date_time=_NO_TIME)
    entry.compress_type = ZIP_DEFLATED
    entry.create_system = _UNIX
    entry.external_attr = _ORDINARY_FILE
    packed = io.BytesIO()
    with ZipFile(packed, "w") as archive:
        archive.writestr(entry, kml(plot), compresslevel=9)
    return packed.getvalue()
