"""``plotter plot``: the main job, from typed points to legs, checkpoints, map and files."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import click
from click.core import ParameterSource

from plotter.cli.parameters import Figure, Folder
from plotter.cli.plot_report import print_plot, print_rehearsal
from plotter.cli.printing import progress, say
from plotter.datastore.opening import open_store
from plotter.errors import InputError
from plotter.formats.unit_limits import GPX_AS, NAME_PROFILES, Choices, GpxAs, NameProfile
from plotter.inputs import (
    OpenFlight,
    is_plan_file,
    open_date,
    open_flight,
    open_points,
    open_route,
    open_unit,
)
from plotter.messages import message, text
from plotter.places.store import Store
from plotter.route.plotting import Plot, Wishes, plot_route
from plotter.route.values import ranked

if TYPE_CHECKING:
    from plotter.maps.tiles import MapLayers, Tiles

_A_NUMBER = re.compile(r"-[\d.]")

NO_FORMATS = "none"

EXAMPLES = """
Examples:
  plotter plot KRST KLSE KEAU KDLH
  plotter plot KRST 4354N09230W KONA --every 5 --as map,gpx
  plotter plot BARN=43.95,-92.41 KONA "43 54.5 N 092 30.0 W" --as none
  plotter plot KRST KONA --as gpx --gpx-checkpoints --names 6
  plotter plot KRST KLSE KDLH --as gpx --unit name-length=8,route-points=30 --dry-run
  plotter plot sunday.gpx --part track --track-tolerance 0.5
  plotter plot sunday.toml --every 5
"""

# What an option that is typed sets, before the plan file and before its own default.
_WISHES = {
    "date": "date",
    "altitude": "altitude_ft",
    "every": "every_nm",
    "restart": "restart",
    "clear_of_turns": "clear_of_turns_nm",
    "line": "line",
    "allow_old_model": "allow_old_model",
    "name": "name",
}


class RouteCommand(click.Command):
    """A command whose points may start with a minus; a mistyped option is still an error."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """As click does; then every unknown word that starts like an option is refused."""
        behind = args[args.index("--") + 1 :] if "--" in args else []
        rest = super().parse_args(ctx, args)
        for word in ctx.params.get("points") or ():
            if word.startswith("-") and not _A_NUMBER.match(word):
                raise (
                    _behind_the_dashes(word, ctx) if word in behind else _no_such_option(word, ctx)
                )
        return rest

    def format_epilog(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The formats there are, from their registry, and examples."""
        from plotter.exports import FORMATS

        formats = "".join(f"  {made.name:<9}{made.title}\n" for made in FORMATS.values())
        formatter.write(f"\nFormats:\n{formats}{EXAMPLES}")


def _behind_the_dashes(word: str, ctx: click.Context) -> click.UsageError:
    return click.UsageError(text(message("usage.after-dashes", word=word)), ctx)


def _no_such_option(word: str, ctx: click.Context) -> click.NoSuchOption:
    from difflib import get_close_matches

    known = [name for option in ctx.command.get_params(ctx) for name in option.opts]
    names = [name for name in known if name.startswith("--")]
    close = get_close_matches(word.partition("=")[0], names, 1, 0.5)
    return click.NoSuchOption(word, possibilities=close, ctx=ctx)


class _Options(NamedTuple):
    """The options of one call, as click hands them over."""

    points: tuple[str, ...]
    every: float
    restart: bool
    clear_of_turns: float
    date: str | None
    altitude: float
    line: str
    own_points: tuple[Path, ...]
    part: str | None
    track_tolerance: float | None
    sm: bool
    formats: str
    into: Path
    name: str | None
    replace: bool
    allow_old_model: bool
    gpx_checkpoints: bool
    gpx_as: GpxAs
    names: NameProfile
    isogonic: bool
    tiles: str | None
    tiles_attribution: str
    unit: str | None
    dry_run: bool
    as_json: bool

    @property
    def choices(self) -> Choices:
        """The choices for a GPS unit; raises what is wrong with its limits."""
        if self.unit is None:
            return Choices(self.gpx_checkpoints, self.gpx_as, self.names)
        return Choices(self.gpx_checkpoints, self.gpx_as, self.names, open_unit(self.unit))

    @property
    def layers(self) -> MapLayers:
        from plotter.maps.tiles import MapLayers

        return MapLayers(self.isogonic, self._tiles)

    @property
    def _tiles(self) -> Tiles | None:
        if self.tiles is None:
            return None
        from plotter.maps.tiles import Tiles

        return Tiles(self.tiles, self.tiles_attribution)


@click.command(
    cls=RouteCommand,
    context_settings={"ignore_unknown_options": True},
    short_help="Plot a route: legs, checkpoints, offline map, GPX and KML.",
)
@click.argument("points", nargs=-1, metavar="POINT...")
@click.option(
    "--every",
    type=Figure("NM", "10"),
    default=10.0,
    show_default=True,
    metavar="NM",
    help="Checkpoint interval in nautical miles.",
)
@click.option("--restart", is_flag=True, help="Count checkpoints from each turning point.")
@click.option(
    "--clear-of-turns",
    type=Figure("NM", "1"),
    default=1.0,
    show_default=True,
    metavar="NM",
    help="Least distance of a checkpoint from a turning point.",
)
@click.option(
    "--date", metavar="YYYY-MM-DD", help="Date of flight, for variation.  [default: today]"
)
@click.option(
    "--altitude",
    type=Figure("feet", "5500"),
    default=0.0,
    metavar="FT",
    help="Altitude for variation.  [default: 0]",
)
@click.option(
    "--line",
    type=click.Choice(["geodesic", "rhumb"]),
    default="geodesic",
    show_default=True,
    help="Shortest line, or constant true course.",
)
@click.option(
    "--points",
    "own_points",
    multiple=True,
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Your own points, CSV or GeoJSON, to use by name; may be repeated.",
)
@click.option(
    "--part",
    metavar="PART",
    help="Part of a file: route, track, waypoints, a name, or a number.  [default: the first]",
)
@click.option(
    "--track-tolerance",
    type=Figure("NM", "0.5"),
    metavar="NM",
    help="Largest distance between a file's track and the legs made of it.  [default: 0.5]",
)
@click.option("--sm", is_flag=True, help="Show statute miles as well.")
@click.option(
    "--as",
    "formats",
    default="map,gpx,kml",
    show_default=True,
    metavar="FORMATS",
    help="Formats to write, from the list below, or none.",
)
@click.option(
    "--into",
    type=Folder(),
    default=Path("exports"),
    show_default=True,
    metavar="DIR",
    help="Folder to write into.",
)
@click.option("--name", metavar="NAME", help="Name of the files.  [default: first and last point]")
@click.option("--replace", is_flag=True, help="Replace existing files that differ.")
@click.option("--gpx-checkpoints", is_flag=True, help="Include checkpoints in the GPX route.")
@click.option(
    "--gpx-as",
    type=click.Choice(GPX_AS),
    default="route",
    show_default=True,
    help="Write a route (a GPS unit guides along it), a track (it draws it), or both.",
)
@click.option(
    "--names",
    type=click.Choice(NAME_PROFILES),
    default="full",
    show_default=True,
    help="Names in the GPX file: full, or this many capital letters and digits.",
)
@click.option(
    "--isogonic", is_flag=True, help="Draw a line on the map for every degree of variation."
)
@click.option(
    "--tiles",
    metavar="URL",
    help="Show online map tiles from this address, which contains {z}, {x}, {y}; uses a network.",
)
@click.option(
    "--tiles-attribution",
    default="",
    metavar="TEXT",
    help="Attribution text for the tiles; required with --tiles.",
)
@click.option(
    "--unit",
    metavar="LIMITS",
    help="Limits of your GPS unit, such as name-length=8,route-points=30, or a TOML file of them.",
)
@click.option(
    "--dry-run", is_flag=True, help="Write nothing; show what would be written and changed."
)
@click.option(
    "--allow-old-model",
    is_flag=True,
    help="Use the magnetic model outside its years; marks every output.",
)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document only.")
def plot(**given: object) -> None:
    """Plot a route through two or more POINTs and write it to files.

    A POINT is an airport or navaid identifier; a position such as 46N078W, 4620N07805W,
    +4012-07500/, 41.234,-95.5 or, in quotes, "43 54.5 N 092 30.0 W"; a magnetic bearing and
    distance from a point, such as ODI090020; or the name of one of your own points. Put NAME= in
    front of a point to name it. Instead of points, give one file: a route (GPX, KML, KMZ, GeoJSON,
    GeoPackage or CSV) or a plan file (.toml). Options override the plan.

    A planning aid, not an approved source of navigation: check against current charts, NOTAMs
    and a weather briefing. Airspace, terrain and obstacles are not checked.
    """
    options = _Options(**given)  # type: ignore[arg-type]
    flight = _flight(options)
    targets = _targets(options)
    choices = options.choices
    wishes = _wishes(options)
    route = open_route(options.points, part=options.part, tolerance_nm=options.track_tolerance)
    store = open_store(progress("Building the table of places (once)"))
    if flight is None:
        plotted = plot_route(route, store, wishes)
    else:
        plotted = _plot_flight(flight, store, wishes)
    files: dict[str, Path] = {}
    if targets.formats:
        files, plotted = _write(plotted, targets, store, options, choices)
    if options.as_json:
        from plotter.formats.document import document, to_json

        say(to_json(document(plotted, files)), end="")
    else:
        print_plot(plotted, files, options.sm)
        if targets.formats and options.dry_run:
            _print_rehearsal(plotted, targets, store, options, choices)


def _wishes(options: _Options) -> Wishes:
    return Wishes(
        date=open_date(options.date),
        altitude_ft=options.altitude,
        every_nm=options.every,
        restart=options.restart,
        clear_of_turns_nm=options.clear_of_turns,
        line="rhumb" if options.line == "rhumb" else "geodesic",
        allow_old_model=options.allow_old_model,
        own_points=open_points(options.own_points),
        name=options.name or "",
    )


def _flight(options: _Options) -> OpenFlight | None:
    """The plan of a plan file given in place of points."""
    files = [point for point in options.points if is_plan_file(point)]
    if not files:
        return None
    if len(options.points) > 1:
        raise InputError("file-among-points.plan", file=files[0])
    return open_flight(Path(files[0]), options.own_points or None)


def _plot_flight(flight: OpenFlight, store: Store, wishes: Wishes) -> Plot:
    """The route of a plan, by its own wishes where nothing was typed."""
    from plotter.flight.log import plot_plan

    typed = {wish: getattr(wishes, wish) for option, wish in _WISHES.items() if _is_typed(option)}
    return plot_plan(flight.plan, store, flight.own_points, typed, flight.route)


def _is_typed(option: str) -> bool:
    source = click.get_current_context().get_parameter_source(option)
    return source is ParameterSource.COMMANDLINE


class _Targets(NamedTuple):
    """The formats and the file name asked for."""

    formats: tuple[str, ...]
    name: str | None


def _targets(options: _Options) -> _Targets:
    """The formats and the file name asked for; the writers are imported only if there are any.

    Files of a plan are called as the plan file is.
    """
    if options.name is None and options.formats.strip().lower() == NO_FORMATS:
        return _Targets((), None)
    from plotter.exports import read_formats, read_name
    from plotter.formats.names import file_name

    formats = read_formats(options.formats)
    if options.name is None and is_plan_file(options.points[0] if options.points else ""):
        return _Targets(formats, file_name(Path(options.points[0]).stem))
    return _Targets(formats, None if options.name is None else read_name(options.name))


def _write(
    plotted: Plot, targets: _Targets, store: Store, options: _Options, choices: Choices
) -> tuple[dict[str, Path], Plot]:
    """The files written, and the plot with the cautions that writing gave rise to."""
    from plotter.exports import export, export_cautions

    files: dict[str, Path] = {}
    if not options.dry_run:
        files = export(
            plotted,
            targets.formats,
            options.into,
            targets.name,
            replace=options.replace,
            store=store,
            sm=options.sm,
            choices=choices,
            layers=options.layers,
            progress=progress("Writing"),
        )
    cautions = [
        *plotted.cautions,
        *export_cautions(plotted, targets.formats, choices, options.layers),
    ]
    return files, replace(plotted, cautions=ranked(cautions))


def _print_rehearsal(
    plotted: Plot, targets: _Targets, store: Store, options: _Options, choices: Choices
) -> None:
    """What would be written and what would be changed for the unit."""
    from plotter.exports import changes, rehearse

    found = rehearse(
        plotted,
        targets.formats,
        options.into,
        targets.name,
        store=store,
        sm=options.sm,
        choices=choices,
        layers=options.layers,
    )
    print_rehearsal(found, changes(plotted, targets.formats, choices))
