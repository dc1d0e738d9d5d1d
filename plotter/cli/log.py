"""``plotter log``: from a plan file to the navigation log, with the working of any figure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import NamedTuple

import click

from plotter import wording
from plotter.cli.plot_report import caution_paragraph, data_dates, files_block
from plotter.cli.printing import apart, complain, paragraph, progress, say, shorter, shown, table
from plotter.datastore.opening import open_store
from plotter.errors import InputError
from plotter.flight.columns import COLUMNS, cell, margin
from plotter.flight.log import navigation_log
from plotter.flight.log_values import FieldReport, NavigationLog, Sector
from plotter.flight.printed import (
    PrintedLog,
    PrintedRow,
    PrintedSector,
    printed_log,
    tops_words,
)
from plotter.flight.sun_clock import ALWAYS, dated_clock, local_date, sun_said
from plotter.flight.working.answers import column_named, row_numbered, working
from plotter.flight.working.values import Working, headline, put_words
from plotter.formats.unit_limits import Choices
from plotter.inputs import faults_on_lines, open_flight
from plotter.places.store import Store
from plotter.route.values import Caution

# The working of figures, printed as a student would write it.


def worked(log: NavigationLog, row: str | None, column: str | None) -> dict[int, tuple[str, ...]]:
    """The rows, and the columns of each, whose working is asked for."""
    columns = tuple(COLUMNS) if column is None else (column_named(column),)
    if row is None:
        return {one.number: columns for one in log.rows}
    if not (row.isascii() and row.isdecimal() and len(row) < 9):
        raise InputError("row.number", row=row, last=len(log.rows))
    return {row_numbered(log, int(row)).number: columns}


def print_workings(log: NavigationLog, asked: Mapping[int, tuple[str, ...]]) -> None:
    """Print the working of figures, row by row."""
    blocks = [log.plot.warning] if log.plot.warning else []
    for number, columns in asked.items():
        row = row_numbered(log, number)
        names = f"{shown(row.start.name)} to {shown(row.end.name)}"
        blocks.append(f"Row {number}, {names}, {row.phase}")
        blocks += [_working(working(log, number, column)) for column in columns]
    say("\n\n".join(blocks))
    say("")
    say("\n".join(paragraph(text) for text in wording.STANDING_SHORT))


def _working(made: Working) -> str:
    lines = [headline(made), f"    {made.formula}"]
    lines += [f"    {put_words(put)}   ({shown(put.words)})" for put in made.put_in]
    lines += [paragraph(shown(line), " " * 8, " " * 6) for line in made.arithmetic]
    lines.append(f"    {made.rounding}; source: {made.source}")
    lines += [paragraph(shown(note), " " * 6, "    note: ") for note in made.notes]
    return "\n".join(lines)


# A navigation log printed for people: cautions, rows, fuel, sun, and any figure's working.

MOST_CHECKS = 5
NAME_WIDTH = 10

_SHOWN = (
    "altitude_ft",
    "distance_nm",
    "distance_to_go_nm",
    "true_course_deg",
    "magnetic_course_deg",
    "wind_from_true_deg",
    "true_airspeed_kt",
    "wind_correction_angle_deg",
    "true_heading_deg",
    "variation_deg_east",
    "magnetic_heading_deg",
    "compass_card_correction_deg",
    "compass_heading_deg",
    "groundspeed_kt",
    "ete_min",
    "eta",
    "fuel_used",
    "fuel_remaining",
)


def print_log(log: NavigationLog, files: Mapping[str, Path], all_cautions: bool) -> None:
    """Print the whole of it on standard output."""
    printed = printed_log(log)
    blocks = [
        log.plot.warning,
        _heading(log, printed),
        _first_cautions(log.told, all_cautions),
        *(block for sector in printed.sectors for block in _sector(log, sector)),
        _fields(log.fields),
        "\n".join(caution_paragraph(one) for one in _ranked(log.told, "NOTE")),
        _silenced(log),
        files_block(files),
        _foot(log),
    ]
    say("\n\n".join(block for block in blocks if block))


def _heading(log: NavigationLog, printed: PrintedLog) -> str:
    plan = log.plan
    first = log.sectors[0]
    aircraft = shown(plan.aircraft.name)
    take_off = dated_clock(first.take_off, first.start_zone, ALWAYS)
    return "\n".join(
        [
            f"{shown(log.plot.name)}: {wording.distance(printed.distance_nm)}, "
            f"{wording.duration(printed.ete_min)} in the air, "
            f"{printed.fuel_used:.1f} {plan.aircraft.fuel_unit} with taxi",
            f"{aircraft}; take-off {take_off}" if aircraft else f"Take-off {take_off}",
        ]
    )


def _first_cautions(cautions: Sequence[Caution], all_of_them: bool) -> str:
    """Every STOP, and of the CHECKs the first few."""
    checks = list(_ranked(cautions, "CHECK"))
    kept = checks if all_of_them else checks[:MOST_CHECKS]
    lines = [caution_paragraph(one) for one in (*_ranked(cautions, "STOP"), *kept)]
    if len(kept) < len(checks):
        lines.append(f"       {len(checks) - len(kept)} more with --all-cautions")
    return "\n".join(lines)


def _ranked(cautions: Iterable[Caution], rank: str) -> Iterator[Caution]:
    return (caution for caution in cautions if caution.rank == rank)


def _sector(log: NavigationLog, printed: PrintedSector) -> Iterator[str]:
    sector = printed.sector
    title = f"{shown(sector.start.name)} to {shown(sector.end.name)}: "
    if len(log.sectors) > 1:
        title = f"Sector {sector.number}, {title}"
    times = (
        f"take-off {dated_clock(sector.take_off, sector.start_zone, log.local_date)}, "
        f"landing {dated_clock(sector.landing, sector.end_zone, sector.local_date)}"
    )
    yield f"{paragraph(title + times)}\n{paragraph(shown(printed.rule))}\n\n{_rows(printed)}"
    yield _fuel(printed)


def _rows(sector: PrintedSector) -> str:
    headings = ["#", "TO", *(COLUMNS[key].heading for key in _SHOWN)]
    names = apart([shown(row.row.end.name) for row in sector.rows], NAME_WIDTH)
    rows = [_row(row, name) for row, name in zip(sector.rows, names, strict=True)]
    total = ["", "Total", *("" for _ in _SHOWN)]
    for key, total_text in (
        ("distance_nm", f"{sector.distance_nm:.1f}"),
        ("ete_min", wording.duration(sector.ete_min)),
        ("fuel_used", f"{sector.fuel_flown:.1f}"),
    ):
        total[2 + _SHOWN.index(key)] = total_text
    return table(headings, [*rows, total], "rl" + "r" * len(_SHOWN), tight=True)


def _row(row: PrintedRow, name: str) -> list[str]:
    cells = [str(row.row.number), " ".join([name, *(top.name for top in row.row.tops)])]
    return cells + [cell(row, key) for key in _SHOWN]


def _fuel(printed: PrintedSector) -> str:
    sector, verdict = printed.sector, printed.verdict
    fuel, reserve = sector.fuel, sector.reserve
    parts = ", ".join(f"{name} {amount}" for name, amount in printed.fuel_parts)
    lines = [
        *(f"{words}." for row in printed.rows for words in map(shown, tops_words(row))),
        f"Fuel ({fuel.unit}): {printed.fuel_at_start:.1f} at the start, {parts}; "
        f"{verdict.words(verdict.left)} left on landing. Endurance at take-off "
        f"{wording.time_left(fuel.endurance_min)}.",
        f"Reserve {reserve.minutes:.0f} min, {verdict.words(verdict.reserve)} {fuel.unit} "
        f"({reserve.reading}) [{reserve.source}]; margin {margin(sector)}.",
        *_sun(sector),
    ]
    if printed.days:
        lines.insert(0, f"+1d: {wording.NEXT_DAY}.")
    return "\n".join(paragraph(line) for line in lines)


def _sun(sector: Sector) -> Iterator[str]:
    if sector.start_sun.light != "day":
        said = sun_said(sector.start_sun, sector.start_zone, sector.local_date)
        yield f"Sun at {shown(sector.start.name)} at take-off: {said}."
    day = local_date(sector.landing, sector.end_zone)
    said = sun_said(sector.end_sun, sector.end_zone, day)
    yield f"Sun at {shown(sector.end.name)} at landing: {said}."


def _fields(reports: Sequence[FieldReport]) -> str:
    if not reports:
        return ""
    headings = ["Field", "Elev ft", "Pressure alt", "Density alt", "Runway", "Head kt", "Cross kt"]
    rows = [
        [
            shorter(shown(report.point), NAME_WIDTH),
            wording.NOT_IN_DATA if report.elevation_ft is None else f"{report.elevation_ft:,.0f}",
            _feet(report.pressure_altitude_ft),
            _feet(report.density_altitude_ft),
            shown(report.runway or ""),
            "" if report.headwind_kt is None else f"{report.headwind_kt:.0f}",
            _cross(report),
        ]
        for report in reports
    ]
    return table(headings, rows, "lrrrrrr")


def _feet(height_ft: float | None) -> str:
    return "" if height_ft is None else f"{round(height_ft, -1):,.0f}"


def _cross(report: FieldReport) -> str:
    if report.crosswind_kt is None:
        return ""
    return f"{report.crosswind_kt:.0f} {report.crosswind_from}".strip()


def _silenced(log: NavigationLog) -> str:
    return "\n".join(
        paragraph(f"Silenced by the plan: {code} ({shown(reason)})")
        for code, reason in log.silenced_codes.items()
    )


def _foot(log: NavigationLog) -> str:
    texts = (*wording.STANDING_SHORT, data_dates(log.plot))
    return "\n".join(paragraph(text) for text in texts)


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
    help="Show the arithmetic for every row, for ROW, or for one COLUMN of it.",
)
@click.option("--all-cautions", is_flag=True, help="Show every CHECK, not only the first five.")
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
@click.option("--name", metavar="NAME", help="Name of the files.  [default: name of the plan file]")
@click.option("--gpx-checkpoints", is_flag=True, help="Include checkpoints in the GPX route.")
@click.option("--replace", is_flag=True, help="Replace existing files that differ.")
@click.option("--allow-old-model", is_flag=True, help="Use the magnetic model outside its years.")
@click.option("--json", "as_json", is_flag=True, help="Print the document log-1 instead of tables.")
def log(**given: object) -> None:
    """Compute the navigation log of a plan file: headings, times, fuel, reserve, cautions.

    A planning aid, not an approved source of navigation: check it against current charts, NOTAMs
    and a weather briefing. 'plotter new NAME' writes a plan file to start from.
    """
    asked = _Options(**given)  # type: ignore[arg-type]
    _refuse_points(asked.plan_file)
    if asked.row is not None and not asked.show_working:
        raise InputError("input.row", row=asked.row)
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
        print_workings(made, worked)
    else:
        print_log(made, files, asked.all_cautions)


def _refuse_points(plan_file: Path) -> None:
    """A log needs more than points: aircraft, wind and time stand in a plan file."""
    if not plan_file.suffix and not plan_file.exists():
        raise InputError("no-plan", file=plan_file)


def _worked(log: NavigationLog, asked: _Options) -> dict[int, tuple[str, ...]]:

    return worked(log, asked.row, asked.column)


def _export(log: NavigationLog, asked: _Options, store: Store) -> dict[str, Path]:
    from plotter.exports import export, own_layer_cautions, read_formats
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
        complain(paragraph(caution.text_at("console"), " " * 7, f"{caution.rank:<7}"))
    return files
