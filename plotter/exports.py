"""Write a plot as files into a folder: one registry of formats.

All bytes are made first; :mod:`plotter.files` puts them in place.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from plotter.earth.angles import half_turn
from plotter.errors import InputError
from plotter.files import absolute, scratch_folder, would_happen, write_files
from plotter.formats.names import default_name, typed_file_name
from plotter.formats.unit_limits import DEFAULT_CHOICES, Choices
from plotter.maps.tiles import BARE, MapLayers
from plotter.messages import Message
from plotter.paper.style import PAPERS, Paper
from plotter.route.plotting import Plot
from plotter.route.values import Caution

if TYPE_CHECKING:
    import folium

    from plotter.flight.log_values import NavigationLog
    from plotter.maps.base import CellSource
    from plotter.places.model import OwnShape

Progress = Callable[[float], None]
NO_FORMATS = "none"
WHOLE_TURN_DEG = 360.0


@dataclass(frozen=True, slots=True)
class Job:
    """What a writer may use: the plot, its navigation log if there is one, the cells of the base
    map, what the pilot chose.
    """

    plot: Plot
    store: CellSource | None = None
    sm: bool = False
    choices: Choices = DEFAULT_CHOICES
    log: NavigationLog | None = None
    layers: MapLayers = BARE

    @property
    def flown_plot(self) -> Plot:
        """The plot, its points with the time and altitude the log passes them at, if any."""
        if self.log is None:
            return self.plot
        from plotter.flight.timed import timed_plot

        return timed_plot(self.log)


@dataclass(frozen=True, slots=True)
class Format:
    """One format: name, suffix, title, how it is written, what it leaves out, what is read of it.

    ``loses`` and ``reads`` are words for people; an empty ``reads`` is a format that is not read.
    """

    name: str
    suffix: str
    title: str
    write: Callable[[Job], bytes]
    loses: str
    reads: str = ""


def _map(job: Job) -> bytes:
    return map_page(job.plot, job.store, job.sm, job.log, job.layers).encode("utf-8")


def _gpx(job: Job) -> bytes:
    from plotter.formats.gpx import gpx

    return gpx(job.flown_plot, job.choices)


def _kml(job: Job) -> bytes:
    from plotter.formats.kml import kml

    return kml(job.flown_plot)


def _kmz(job: Job) -> bytes:
    from plotter.formats.kml import kmz

    return kmz(job.flown_plot)


def _geojson(job: Job) -> bytes:
    from plotter.formats.geojson import geojson

    return geojson(job.flown_plot)


def _gpkg(job: Job) -> bytes:
    from plotter.formats.frame import write_geopackage

    with scratch_folder() as folder:
        path = folder / "plot.gpkg"
        write_geopackage(job.flown_plot, path)
        return path.read_bytes()


def _csv(job: Job) -> bytes:
    if job.log is not None:
        from plotter.formats.log_table import log_table

        return log_table(job.log)
    from plotter.formats.table import table

    return table(job.plot)


_NO_AIRPORTS = "airports beside the line"
_FORMATS = (
    Format("map", ".html", "Offline map (HTML)", _map, "decimals of a position past five"),
    Format(
        "gpx",
        ".gpx",
        "Route or track for a GPS unit (GPX 1.1)",
        _gpx,
        f"{_NO_AIRPORTS}; checkpoints and the curve of a leg, unless chosen",
        "route, track or waypoints; elevations to 0.1 m, notes, times",
    ),
    Format(
        "kml",
        ".kml",
        "Map layer for a tablet (KML 2.2)",
        _kml,
        f"{_NO_AIRPORTS}; figures are in words, rounded",
        "points of a folder, lines, timed tracks; elevations to 0.1 ft, notes, times",
    ),
    Format(
        "kmz",
        ".kmz",
        "The same, packed into one small file (KMZ)",
        _kmz,
        "as `kml`",
        "as `kml`",
    ),
    Format(
        "geojson",
        ".geojson",
        "Layer for a web map or GIS (GeoJSON)",
        _geojson,
        _NO_AIRPORTS,
        "points and lines; elevations to 0.1 ft, notes, times",
    ),
    Format(
        "gpkg",
        ".gpkg",
        "Layers for a GIS (GeoPackage 1.4)",
        _gpkg,
        _NO_AIRPORTS,
        "points and lines; elevations, notes, times",
    ),
    Format(
        "csv",
        ".csv",
        "Table for a spreadsheet (CSV)",
        _csv,
        f"{_NO_AIRPORTS}, the curve of a leg",
        "points in their order; elevations to 1 ft, notes, times",
    ),
)
FORMATS: Mapping[str, Format] = {made.name: made for made in _FORMATS}


def export(
    plot: Plot,
    formats: Sequence[str],
    into: Path,
    name: str | None = None,
    *,
    replace: bool = False,
    store: CellSource | None = None,
    sm: bool = False,
    choices: Choices = DEFAULT_CHOICES,
    log: NavigationLog | None = None,
    layers: MapLayers = BARE,
    progress: Progress | None = None,
) -> dict[str, Path]:
    """Write a plot in each format as ``into/name.suffix``; gives format → absolute path.

    Without a name it is made of the first and the last point; a folder that is missing is made.
    With a ``log`` of the same plot, the formats that can hold its figures do.

    Raises :class:`~plotter.errors.InputError` for a format that is none,
    :class:`~plotter.errors.NameFault` for a name that cannot be one,
    :class:`~plotter.errors.TargetExists` with every different file that is there (nothing is
    written then) and :class:`~plotter.errors.WriteFault`.
    """
    targets = _targets(plot, formats, into, name)
    chosen = [FORMATS[word] for word in targets]
    job = Job(plot, store, sm, choices, log, layers)
    told = progress or _untold
    made_bytes = {}
    for done, made in enumerate(chosen):
        told(done / len(chosen))
        made_bytes[targets[made.name]] = made.write(job)
    write_files(made_bytes, replace=replace)
    told(1.0)
    return targets


def rehearse(
    plot: Plot,
    formats: Sequence[str],
    into: Path,
    name: str | None = None,
    *,
    store: CellSource | None = None,
    sm: bool = False,
    choices: Choices = DEFAULT_CHOICES,
    layers: MapLayers = BARE,
) -> dict[Path, Message]:
    """Return what :func:`export` would do to each file; nothing is written."""
    job = Job(plot, store, sm, choices, layers=layers)
    return {
        path: would_happen(path, FORMATS[word].write(job))
        for word, path in _targets(plot, formats, into, name).items()
    }


def changes(
    plot: Plot, formats: Iterable[str], choices: Choices = DEFAULT_CHOICES
) -> list[Message]:
    """Return every change that fits the files to the chosen unit."""
    if "gpx" not in formats:
        return []
    from plotter.formats.gps_unit import fitted

    return [change.said for change in fitted(plot, choices).changes]


def _targets(plot: Plot, formats: Sequence[str], into: Path, name: str | None) -> dict[str, Path]:
    chosen = [format_named(word) for word in dict.fromkeys(formats)]
    stem = read_name(name) if name is not None else name_of(plot)
    return {made.name: absolute(into) / f"{stem}{made.suffix}" for made in chosen}


def export_cautions(
    plot: Plot,
    formats: Collection[str],
    choices: Choices = DEFAULT_CHOICES,
    layers: MapLayers = BARE,
) -> list[Caution]:
    """What is to be said of the files rather than of the flight: a route too long for a unit, a map
    that asks the network.
    """
    found = [layers.tiles.caution] if layers.tiles and "map" in formats else []
    if "map" in formats:
        found += own_layer_cautions()
    if "gpx" in formats:
        from plotter.formats.gpx import gpx_cautions

        found += gpx_cautions(plot, choices)
    return found


def own_layer_cautions() -> list[Caution]:
    """The caution for own layers that are damaged and therefore missing from every map."""
    from plotter.datastore.layers import damaged_layers

    missing = MapLayers(damaged=damaged_layers()).damaged_caution
    return [missing] if missing else []


def map_page(
    plot: Plot,
    store: CellSource | None,
    sm: bool = False,
    log: NavigationLog | None = None,
    layers: MapLayers = BARE,
) -> str:
    """The offline map of a plot as one HTML page, with its log if there is one; without a store
    there is no base under it.
    """
    from plotter.datastore.layers import damaged_layers
    from plotter.maps.base import Basemap, basemap_for
    from plotter.maps.web_map import web_map

    base = basemap_for(store, plot.route) if store else Basemap()
    if store:
        layers = replace(layers, own=own_shapes(plot), damaged=damaged_layers())
    return web_map(plot, base, sm=sm, log=log, layers=layers)


def live_map(
    plot: Plot, store: CellSource, *, tiles: str | None = None, isogonic: bool = False
) -> folium.Map:
    """The folium map of a plot with the pilot's own layers; raises DataFault for a damaged one."""
    from plotter.maps.base import basemap_for
    from plotter.maps.drawing import own_drawing
    from plotter.maps.folium_map import folium_map
    from plotter.maps.isogonic import isogonics
    from plotter.maps.web_map import view_of

    view = view_of(plot)
    shapes = own_shapes(plot)
    return folium_map(
        plot,
        basemap_for(store, plot.route),
        tiles=tiles,
        isogonic=isogonics(plot, view) if isogonic else None,
        own=own_drawing(shapes, view) if shapes else None,
    )


def own_shapes(plot: Plot) -> tuple[OwnShape, ...]:
    """What the pilot's own layers hold near a plot's map; nothing of a damaged one."""
    from plotter.datastore.layers import shapes_in
    from plotter.maps.web_map import view_of

    view = view_of(plot)
    if view.east - view.west >= WHOLE_TURN_DEG:
        return tuple(shapes_in((view.south, -180.0, view.north, 180.0)))
    west, east = (half_turn(edge) for edge in (view.west, view.east))
    return tuple(shapes_in((view.south, west, view.north, east)))


def name_of(plot: Plot) -> str:
    """The file name of a plot that the pilot gave none."""
    first, last = plot.route.waypoints[0], plot.route.waypoints[-1]
    return default_name(first.name, last.name)


def read_name(text: str) -> str:
    """A file name as typed; raises NameFault with one that would do.

    >>> read_name("sunday")
    'sunday'
    """
    return typed_file_name(text)


def read_formats(text: str) -> tuple[str, ...]:
    """Formats as typed, parted by commas, each once; ``none`` is no format at all.

    >>> read_formats("map, GPX,map"), read_formats("none")
    (('map', 'gpx'), ())
    >>> read_formats("gpz")  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    plotter.errors.InputError: unknown format 'gpz'; did you mean gpx? (map, gpx, kml, ...)
    """
    words = [word.strip().lower() for word in text.split(",") if word.strip()]
    if words == [NO_FORMATS]:
        return ()
    if not words or NO_FORMATS in words:
        raise InputError(
            "format.list",
            candidates=(*FORMATS, NO_FORMATS),
            formats=tuple(FORMATS),
            none=NO_FORMATS,
        )
    return tuple(dict.fromkeys(format_named(word).name for word in words))


def format_named(name: str) -> Format:
    """The format of a name; raises InputError with the names there are."""
    found = FORMATS.get(name)
    if found is not None:
        return found
    from difflib import get_close_matches

    close, known = get_close_matches(name, FORMATS, 1, 0.5), tuple(FORMATS)
    if close:
        raise InputError(
            "format.close", candidates=close, name=name[:40], close=close[0], formats=known
        )
    raise InputError("format.unknown", candidates=known, name=name[:40], formats=known)


def _untold(_done: float) -> None:
    """Progress that nobody asked for."""


# What is printed on paper, made and put in its place as a PDF.


def save_rule(
    into: Path, name: str | None = None, paper: Paper = PAPERS["a4"], *, replace: bool = False
) -> Path:
    """Write the scale to test a plotter as ``into/name.pdf``; gives its absolute path.

    Without a name it is called after its paper. Raises NameFault, TargetExists (a different file
    is there; nothing is written then) and WriteFault.
    """
    from plotter.paper.rule import rule_pages

    stem = typed_file_name(name) if name is not None else f"rule-{paper.name}"
    target = absolute(into) / f"{stem}.pdf"
    write_files({target: rule_pages(paper)}, replace=replace)
    return target
