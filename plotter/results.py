"""What the public face gives back: values with doors out of them, to files, frames, documents."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from plotter.chart.asking import Measured
from plotter.chart.distance_sheet import Fitted
from plotter.chart.measurement import Answer, Judgement
from plotter.exports import export, live_map, map_page
from plotter.flight.columns import COLUMNS
from plotter.flight.log_values import LogRow, NavigationLog, Sector
from plotter.flight.working.answers import working
from plotter.flight.working.values import Working
from plotter.formats.document import document, to_json
from plotter.formats.log_document import log_document
from plotter.formats.unit_limits import Choices, GpxAs, NameProfile
from plotter.inputs import open_unit
from plotter.maps.tiles import MapLayers, Tiles
from plotter.places.store import Store
from plotter.route.checkpoints import Checkpoint
from plotter.route.editing import item15_route
from plotter.route.plotting import Plot
from plotter.route.values import Caution, Leg, Route

if TYPE_CHECKING:
    import folium
    import geopandas

    from plotter.formats.frame import Part


@dataclass(frozen=True, slots=True)
class PlottedRoute:
    """A plotted route with the doors out of it: files, frames, a map in a notebook."""

    plot: Plot
    store: Store

    @property
    def route(self) -> Route:
        """Waypoints and legs."""
        return self.plot.route

    @property
    def legs(self) -> tuple[Leg, ...]:
        """The measured legs."""
        return self.plot.route.legs

    @property
    def checkpoints(self) -> tuple[Checkpoint, ...]:
        """The checkpoints, numbered along the route."""
        return self.plot.checkpoints

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """What to check before trusting the figures, worst first."""
        return self.plot.cautions

    @property
    def distance_nm(self) -> float:
        """Length of the whole route [NM]."""
        return self.plot.route.distance_nm

    @property
    def item15(self) -> str:
        """The route as item 15 of an ICAO flight plan writes it (rounded to the minute)."""
        return item15_route(self.plot.route.waypoints)

    def document(self, files: Mapping[str, Path] | None = None) -> dict[str, Any]:
        """The ``plot-1`` document: plain values, numbers unrounded."""
        return document(self.plot, files or {})

    def to_json(self, files: Mapping[str, Path] | None = None) -> str:
        """The ``plot-1`` document as JSON text."""
        return to_json(self.document(files))

    def to_geodataframe(self, part: Part = "legs") -> geopandas.GeoDataFrame:
        """Legs, turning ``points`` or ``checkpoints`` as a GeoDataFrame in WGS 84."""
        from plotter.formats.frame import to_geodataframe

        return to_geodataframe(self.plot, part)

    def map_html(self, sm: bool = False, *, isogonic: bool = False) -> str:
        """The offline map: one HTML page that asks the network for nothing.

        With ``isogonic`` it has a line for every degree of variation.
        """
        return map_page(self.plot, self.store, sm, layers=MapLayers(isogonic))

    def folium_map(self, *, tiles: str | None = None, isogonic: bool = False) -> folium.Map:
        """Return a live folium map with every layer named, to which you can add your own.

        ``tiles`` is what :class:`folium.Map` takes under that name; none are asked for by default.
        Unlike :meth:`map_html` it loads its scripts from the network.
        """
        return live_map(self.plot, self.store, tiles=tiles, isogonic=isogonic)

    def _repr_html_(self) -> str:
        """The map in a notebook, in a frame of its own."""
        from html import escape

        page = escape(self.map_html(), quote=True)
        return f'<iframe srcdoc="{page}" title="Route map" width="100%" height="640"></iframe>'

    def save(
        self,
        into: str | Path = "exports",
        formats: Sequence[str] = ("map", "gpx", "kml"),
        name: str | None = None,
        replace: bool = False,
        *,
        gpx_checkpoints: bool = False,
        gpx_as: GpxAs = "route",
        names: NameProfile = "full",
        isogonic: bool = False,
        tiles: Tiles | None = None,
        unit: str = "",
    ) -> dict[str, Path]:
        """Write files into a folder; a different file already there needs ``replace``.

        The choices for a GPS unit are those of ``plotter plot``: checkpoints in the GPX route,
        ``route``, ``track`` or ``both``, names ``full`` or of at most ``10`` or ``6`` characters,
        and the limits of the ``unit``: ``"route-points=30, decimals=5"``, or a TOML file's name.
        ``isogonic`` draws a line for every degree of variation on the map; ``tiles`` lets its page
        ask a server for pictures.
        """
        choices = Choices(gpx_checkpoints, gpx_as, names, open_unit(unit))
        return export(
            self.plot,
            formats,
            Path(into),
            name,
            replace=replace,
            store=self.store,
            choices=choices,
            layers=MapLayers(isogonic, tiles),
        )


@dataclass(frozen=True, slots=True)
class LoggedFlight:
    """A navigation log with the doors out of it: document, working, files."""

    log: NavigationLog
    store: Store

    @property
    def rows(self) -> tuple[LogRow, ...]:
        """The rows of all sectors, in order; every figure unrounded."""
        return self.log.rows

    @property
    def sectors(self) -> tuple[Sector, ...]:
        """From one take-off to the next landing each, with fuel, reserve and sun."""
        return self.log.sectors

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """What to stop for, check or note, worst first."""
        return self.log.cautions

    def working(self, row: int, column: str) -> Working:
        """How one figure was made: formula, numbers put in, result, rounding, source.

        Raises InputError, code ``row`` or ``column``.
        """
        return working(self.log, row, column)

    def document(
        self, files: Mapping[str, Path] | None = None, *, with_working: bool = False
    ) -> dict[str, Any]:
        """The ``log-1`` document: plain values, numbers unrounded."""
        worked = {row.number: tuple(COLUMNS) for row in self.rows} if with_working else {}
        return log_document(self.log, files or {}, worked)

    def save(
        self,
        into: str | Path = "exports",
        formats: Sequence[str] = ("map", "gpx", "csv"),
        name: str | None = None,
        replace: bool = False,
        *,
        gpx_checkpoints: bool = False,
    ) -> dict[str, Path]:
        """Write the log in each format; a different file already there needs ``replace``."""
        return export(
            self.log.plot,
            formats,
            Path(into),
            name,
            replace=replace,
            store=self.store,
            choices=Choices(gpx_checkpoints),
            log=self.log,
        )


@dataclass(frozen=True, slots=True)
class MeasuredReadings:
    """Readings of legs and which mistakes explain them; the answer is a question, not a figure."""

    measured: Measured

    @property
    def judgement(self) -> Judgement:
        """All of it: legs, residuals [mm], the answers, the fitted line."""
        return self.measured.judgement

    @property
    def distance(self) -> Answer | None:
        """The answer for the distances; ``None`` where none was read."""
        return self.judgement.distance

    @property
    def course(self) -> Answer | None:
        """The answer for the courses; ``None`` where none was read."""
        return self.judgement.course

    @property
    def fitted(self) -> Fitted:
        """Offset [NM] and factor of the plotter, as far as the readings say."""
        return self.judgement.fitted

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """What to check before trusting it, worst first."""
        return self.measured.cautions

    def document(self) -> dict[str, Any]:
        """The ``measure-1`` document: plain values, numbers unrounded."""
        from plotter.formats.measure_document import measure_document

        return measure_document(self.measured)

    def to_json(self) -> str:
        """The ``measure-1`` document as JSON text."""
        return to_json(self.document())
