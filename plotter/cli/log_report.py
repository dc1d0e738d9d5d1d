"""A navigation log printed for people: cautions, rows, fuel, sun, and any figure's working."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path

from plotter import wording
from plotter.cli.plot_report import caution_paragraph, data_dates, files_block
from plotter.cli.printing import apart, paragraph, say, shorter, shown, table
from plotter.flight.columns import COLUMNS, cell, margin
from plotter.flight.log_values import FieldReport, LogRow, NavigationLog, Sector
from plotter.flight.sun_clock import ALWAYS, dated_clock, local_date
from plotter.flight.sun_words import sun_said
from plotter.route.cautions import Caution

MOST_CHECKS = 5
NAME_WIDTH = 10

_SHOWN = (
    "altitude_ft",
    "distance_nm",
    "distance_to_go_nm",
    "true_course_deg",
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
    blocks = [
        _heading(log),
        _first_cautions(log.told, all_cautions),
        *(block for sector in log.sectors for block in _sector(log, sector)),
        _fields(log.fields),
        "\n".join(caution_paragraph(one) for one in _ranked(log.told, "NOTE")),
        _silenced(log),
        files_block(files),
        _foot(log),
    ]
    say("\n\n".join(block for block in blocks if block))


def _heading(log: NavigationLog) -> str:
    plan = log.plan
    first = log.sectors[0]
    aircraft = shown(plan.aircraft.name)
    take_off = dated_clock(first.take_off, first.start_zone, ALWAYS)
    return "\n".join(
        [
            f"{shown(log.plot.name)}: {wording.distance(log.distance_nm)}, "
            f"{wording.duration(log.ete_min)} in the air, "
            f"{wording.fuel_used(log.fuel_used)} {plan.aircraft.fuel_unit} with taxi",
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


def _sector(log: NavigationLog, sector: Sector) -> Iterator[str]:
    title = f"{shown(sector.start.name)} to {shown(sector.end.name)}: "
    if len(log.sectors) > 1:
        title = f"Sector {sector.number}, {title}"
    times = (
        f"take-off {dated_clock(sector.take_off, sector.start_zone, log.local_date)}, "
        f"landing {dated_clock(sector.landing, sector.end_zone, sector.local_date)}"
    )
    yield f"{paragraph(title + times)}\n\n{_rows(sector)}"
    yield _fuel(sector)


def _rows(sector: Sector) -> str:
    headings = ["#", "TO", *(_heading_of(key) for key in _SHOWN)]
    names = apart([shown(row.end.name) for row in sector.rows], NAME_WIDTH)
    rows = [_row(row, name) for row, name in zip(sector.rows, names, strict=True)]
    total = ["", "Total", *("" for _ in _SHOWN)]
    for key, text in (
        ("distance_nm", f"{sector.distance_nm:.1f}"),
        ("ete_min", wording.duration(sector.ete_min)),
        ("fuel_used", wording.fuel_used(sector.fuel.flown)),
    ):
        total[2 + _SHOWN.index(key)] = text
    return table(headings, [*rows, total], "rl" + "r" * len(_SHOWN), tight=True)


def _heading_of(key: str) -> str:
    return "COR" if key == "compass_card_correction_deg" else COLUMNS[key].heading


def _row(row: LogRow, name: str) -> list[str]:
    cells = [str(row.number), name]
    return cells + [cell(row, key) for key in _SHOWN]


def _fuel(sector: Sector) -> str:
    fuel, reserve = sector.fuel, sector.reserve
    used, left = wording.fuel_used, wording.fuel_left
    parts = [f"taxi {used(fuel.taxi)}"] if fuel.taxi else []
    parts += [
        f"{phase} {used(amount)}"
        for phase, amount in (
            ("climb", fuel.climb),
            ("cruise", fuel.cruise),
            ("descent", fuel.descent),
        )
        if amount
    ]
    lines = [
        f"Fuel ({fuel.unit}): {left(fuel.at_start)} at the start, {', '.join(parts)}; "
        f"{left(fuel.remaining)} left on landing. Endurance at take-off "
        f"{wording.time_left(fuel.endurance_min)}.",
        f"Reserve {reserve.minutes:.0f} min, {used(sector.reserve_fuel)} {fuel.unit} "
        f"({reserve.reading}) [{reserve.source}]; margin {margin(sector)}.",
        *_sun(sector),
    ]
    if sector.days_in_utc:
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
    texts = (wording.ROUNDED, *wording.STANDING, data_dates(log.plot))
    return "\n".join(paragraph(text) for text in texts)
