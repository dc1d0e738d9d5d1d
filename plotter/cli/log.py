"""``plotter log``: from a plan file to the navigation log, with the working of any figure."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

import click

from plotter.cli.log_report import print_log
from plotter.cli.printing import complain, paragraph, progress, say
from plotter.datastore.opening import open_store
from plotter.errors import InputError
from plotter.flight.columns import COLUMNS
from plotter.flight.log import navigation_log
from plotter.flight.log_values import NavigationLog
from plotter.formats.choices import Choices
from plotter.opening import faults_on_lines, open_flight
from plotter.places.store import Store

EXAMPLES = """
Examples:
  plotter new sunday
  plotter log sunday.toml
  plotter log sunday.toml --working 4
  plotter log sunday.toml --working 4 GS
  plotter log sunday.toml --as map,gpx,csv
"""


class _Options(NamedTuple):
    """What was typed, as click hands it over."""

    plan_file: Path
    row: str | None
    column: str | None
    show_working: bool
    all_cautions: bool
    formats: str
    into: Path
    name: str | None
    gpx_checkpoints: bool
    replace: bool
    allow_old_model: bool
    as_json: bool


class LogCommand(click.Command):
    """A command that ends its help with examples and the names of the columns."""

    def format_epilog(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Columns and examples."""
        lines = "".join(f"  {one.heading:<6}{one.title}\n" for one in COLUMNS.values())
        formatter.write(f"\nColumns:\n{lines}{EXAMPLES}")


@click.command(cls=LogCommand, short_help="Compute the navigation log of a plan file.")
@click.argument("plan_file", metavar="FLIGHT.toml", type=click.Path(path_type=Path))
@click.argument("row", required=False, metavar="[ROW]")
@click.argument("column", required=False, metavar="[COLUMN]")
@click.option(
    "--working",
    "show_working",
    is_flag=True,
    help="Show the arithmetic: of every row, of ROW, or of one COLUMN of it.",
)
@click.option("--all-cautions", is_flag=True, help="Every CHECK, not only the first five.")
@click.option(
    "--as",
    "formats",
    default="none",
    metavar="FORMATS",
    help="Files to write, as for plotter plot.  [default: none]",
)
@click.option(
    "--into",
    default="exports",
    type=click.Path(path_type=Path),
    metavar="DIR",
    show_default=True,
    help="Folder for the files.",
)
@click.option("--name", metavar="NAME", help="Name of the files.  [default: that of the plan file]")
@click.option(
    "--gpx-checkpoints", is_flag=True, help="Checkpoints too are points of the GPX route."
)
@click.option("--replace", is_flag=True, help="Replace files that are there and differ.")
@click.option("--allow-old-model", is_flag=True, help="Use the magnetic model outside its years.")
@click.option("--json", "as_json", is_flag=True, help="The document log-1 instead of tables.")
def log(**given: object) -> None:
    """Compute the navigation log of a plan file: headings, times, fuel, reserve, cautions.

    A planning aid, not an approved source of navigation: check it against current charts, NOTAMs
    and a weather briefing. 'plotter new NAME' writes a plan file to start from.
    """
    asked = _Options(**given)  # type: ignore[arg-type]
    _refuse_points(asked.plan_file)
    if asked.row is not None and not asked.show_working:
        raise InputError(
            f"'{asked.row}' stands alone; to see how a row is made write --working {asked.row}"
        )
    store = open_store(progress("Building the store, once"))
    plan, points, route = open_flight(asked.plan_file)
    with faults_on_lines(asked.plan_file, route):
        made = navigation_log(plan, store, points, asked.allow_old_model, route)
    worked = _worked(made, asked) if asked.show_working else {}
    files = _export(made, asked, store)
    if asked.as_json:
        from plotter.formats.document import to_json
        from plotter.formats.log_document import log_document

        say(to_json(log_document(made, files, worked)), end="")
    elif asked.show_working:
        from plotter.cli.working_report import print_workings

        print_workings(made, worked)
    else:
        print_log(made, files, asked.all_cautions)


def _refuse_points(plan_file: Path) -> None:
    """A log needs more than points: aircraft, wind and time stand in a plan file."""
    if not plan_file.suffix and not plan_file.exists():
        raise InputError(
            f"'{plan_file}' is no plan file; a log is computed from one, which 'plotter new NAME' "
            "writes to start from; for points alone: plotter plot",
            code="no-plan",
        )


def _worked(log: NavigationLog, asked: _Options) -> dict[int, tuple[str, ...]]:
    from plotter.cli.working_report import worked

    return worked(log, asked.row, asked.column)


def _export(log: NavigationLog, asked: _Options, store: Store) -> dict[str, Path]:
    from plotter.exporting import export, own_layer_cautions, read_formats
    from plotter.formats.names import file_name

    chosen = read_formats(asked.formats)
    if not chosen:
        return {}
    files = export(
        log.plot,
        chosen,
        asked.into,
        file_name(asked.plan_file.stem) if asked.name is None else asked.name,
        replace=asked.replace,
        store=store,
        log=log,
        choices=Choices(gpx_checkpoints=asked.gpx_checkpoints),
        progress=progress("Writing"),
    )
    for caution in own_layer_cautions() if "map" in chosen else ():
        complain(paragraph(caution.text, " " * 7, f"{caution.rank:<7}"))
    return files
