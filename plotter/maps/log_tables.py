"""The navigation log on the page of the map: one table a sector, fuel, sun, fields, cautions."""

from __future__ import annotations

import html
from collections.abc import Iterator

from plotter import wording
from plotter.flight.columns import COLUMNS, cell, margin
from plotter.flight.log_values import FieldReport, NavigationLog, Sector
from plotter.flight.printed import PrintedRow, PrintedSector, printed_log, tops_words
from plotter.flight.sun_clock import (
    ALWAYS,
    dated_clock,
    events_said,
    light_said,
    local_date,
    sun_said,
)
from plotter.maps.labels import visible
from plotter.maps.tables import Shown, caution_list, framed, shown

SHOWN = tuple(key for key in COLUMNS if key != "wind_speed_kt")
STEERED = ("compass_heading_deg", "groundspeed_kt", "eta")
"""What a pilot reads in the air stands out."""
FIELD_HEADS = (
    *("Field", "Elevation", "Pressure alt", "Density alt"),
    *("Runway", "Headwind", "Crosswind"),
)


def log_sections(log: NavigationLog) -> str:
    """What must be read first, then the sections of a log in the order it is flown."""
    sectors = "".join(_section(log, sector) for sector in printed_log(log).sectors)
    return _read_first(log) + sectors + _fields(log)


def log_notes(log: NavigationLog) -> str:
    """The notes of a log, then the cautions the plan silences, with their reasons."""
    silenced = "".join(
        f"<p>Silenced by the plan: {html.escape(code)} ({shown(reason)})</p>"
        for code, reason in log.silenced_codes.items()
    )
    return caution_list([one for one in log.told if one.rank == "NOTE"]) + silenced


def _read_first(log: NavigationLog) -> str:
    first = [one for one in log.told if one.rank != "NOTE"]
    if not first:
        return ""
    return f'<section aria-label="Stop and check">{caution_list(first)}</section>\n'


def _section(log: NavigationLog, printed: PrintedSector) -> str:
    sector = printed.sector
    caption = f"Log: {shown(sector.start.name)} to {shown(sector.end.name)}"
    if len(log.sectors) > 1:
        caption = f"Log, sector {sector.number}: {caption.removeprefix('Log: ')}"
    heads = ["Row", "To", *(_head(key) for key in SHOWN)]
    rows = (_row(row) for row in printed.rows)
    region = f"Log, sector {sector.number}"
    caption += f" <small>{html.escape(printed.rule)}</small>"
    item = f"log-table-{sector.number}"
    table = framed(item, caption, heads, rows, _total(printed), region=region)
    return f'<section class="log">{table}{_sums(printed)}</section>\n'


def _head(key: str) -> str:
    column = COLUMNS[key]
    return f'<abbr title="{html.escape(column.title)}">{column.heading}</abbr>'


def _row(printed: PrintedRow) -> str:
    row = printed.row
    cells = "".join(
        f'<td class="steer">{html.escape(cell(printed, key))}</td>'
        if key in STEERED
        else f"<td>{html.escape(cell(printed, key))}</td>"
        for key in SHOWN
    )
    turning = ' class="turning"' if row.end.kind == "waypoint" else ""
    return (
        f'<tr data-lights="leg-{row.course.leg.number}"{turning}><th scope="row">{row.number}</th>'
        f'<td class="name">{shown(row.end.name)} <span class="phase">'
        f"{html.escape(phase(printed))}</span></td>"
        f"{cells}</tr>\n"
    )


def phase(printed: PrintedRow) -> str:
    """The phase of a row where it is not the cruise, and each top that is marked in it."""
    phases = [] if printed.row.phase == "cruise" else [printed.row.phase]
    return "; ".join([*phases, *map(visible, tops_words(printed))])


def totals(sector: PrintedSector) -> list[str]:
    """The sums of a sector, column by column; empty where there is none."""
    known = {
        "distance_nm": f"{sector.distance_nm:.1f}",
        "ete_min": wording.duration(sector.ete_min),
        "fuel_used": f"{sector.fuel_flown:.1f}",
    }
    return [known.get(key, "") for key in SHOWN]


def _total(sector: PrintedSector) -> str:
    cells = "".join(f"<td>{total}</td>" for total in totals(sector))
    return f'<tfoot><tr><th scope="row" colspan="2">Sector</th>{cells}</tr></tfoot>'


def _sums(sector: PrintedSector) -> str:
    pairs = "".join(
        f"<div><dt>{term}</dt><dd>{html.escape(said)}</dd></div>" for term, said in figures(sector)
    )
    return f'<dl class="sums">{pairs}</dl>'


def figures(printed: PrintedSector) -> Iterator[tuple[str, str]]:
    """What is said under a sector: times, fuel by phase, reserve, margin, sun."""
    sector, verdict = printed.sector, printed.verdict
    fuel, reserve = sector.fuel, sector.reserve
    yield "Take-off", dated_clock(sector.take_off, sector.start_zone, ALWAYS)
    yield "Landing", dated_clock(sector.landing, sector.end_zone, sector.local_date)
    if printed.days:
        yield "ETA +1d", wording.NEXT_DAY
    yield "On board", f"{printed.fuel_at_start:.1f} {fuel.unit}"
    for name, amount in printed.fuel_parts:
        yield name.capitalize(), amount
    yield "Left on landing", verdict.words(verdict.left)
    yield "Endurance", wording.time_left(fuel.endurance_min)
    yield (
        "Reserve",
        f"{reserve.minutes:.0f} min, {verdict.words(verdict.reserve)} ({reserve.reading}) "
        f"[{reserve.source}]",
    )
    yield "Margin", margin(sector)
    yield from _sun(sector)


def _sun(sector: Sector) -> Iterator[tuple[str, str]]:
    if sector.start_sun.light != "day":
        yield "Sun at take-off", sun_said(sector.start_sun, sector.start_zone, sector.local_date)
    yield "Sun at landing", light_said(sector.end_sun)
    day = local_date(sector.landing, sector.end_zone)
    yield from events_said(sector.end_sun, sector.end_zone, day)


def _fields(log: NavigationLog) -> str:
    if not log.fields:
        return ""
    rows = (_field(report) for report in log.fields)
    table = framed("fields-table", "Weather at the fields", FIELD_HEADS, rows)
    return f'<section class="log">{table}</section>\n'


def field_cells(report: FieldReport) -> list[str]:
    """What is printed of the weather at a field, as plain words."""
    return [
        wording.NOT_IN_DATA
        if report.elevation_ft is None
        else wording.altitude(report.elevation_ft),
        *(_rounded(value) for value in (report.pressure_altitude_ft, report.density_altitude_ft)),
        Shown.of(report.runway) if report.runway else "",
        _knots(report.headwind_kt),
        f"{_knots(report.crosswind_kt)} {report.crosswind_from}".strip(),
    ]


def _field(report: FieldReport) -> str:
    return (
        f'<tr><th scope="row">{shown(report.point)}</th>'
        + "".join(
            f"<td>{shown(each) if isinstance(each, Shown) else each}</td>"
            for each in field_cells(report)
        )
        + "</tr>\n"
    )


def _rounded(height_ft: float | None) -> str:
    return "" if height_ft is None else wording.altitude(round(height_ft, -1))


def _knots(speed_kt: float | None) -> str:
    return "" if speed_kt is None else f"{speed_kt:.0f} kt"
