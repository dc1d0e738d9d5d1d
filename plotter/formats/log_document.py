"""The ``log-1`` document: a navigation log as plain values, key for key as published, unrounded."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from pathlib import Path

from plotter.earth.sun import Daylight
from plotter.flight.columns import COLUMNS
from plotter.flight.log_values import FieldReport, FuelPlan, LogRow, NavigationLog, Sector
from plotter.flight.sun_clock import iso_instant, local
from plotter.flight.whose_rules import rules_of_flight
from plotter.flight.working.answers import working
from plotter.flight.working.values import Put, Working
from plotter.formats.document import STANDING_CAUTIONS, Node, caution_node, data_node
from plotter.formats.names import clean_name, clean_text
from plotter.route.values import Waypoint

SCHEMA = "log-1"


def log_document(
    log: NavigationLog,
    files: Mapping[str, Path],
    worked: Mapping[int, tuple[str, ...]] | None = None,
) -> Node:
    """The document of a log and of the files written from it.

    Angles in degrees (true, magnetic or compass by their key), variation east positive, fuel in
    the unit ``flight.fuel_unit`` names, instants in UTC (ISO 8601). ``worked`` names the rows, and
    the columns of each, whose working is to be in it.
    """
    return {
        "schema": SCHEMA,
        "warning": log.plot.warning,
        "invented": list(log.plan.invented),
        "flight": _flight(log),
        "sectors": [_sector(sector) for sector in log.sectors],
        "rows": [_row(log, row, (worked or {}).get(row.number)) for row in log.rows],
        "totals": _totals(log),
        "sun": [day for sector in log.sectors for day in _sun(sector)],
        "fields": [_field(report) for report in log.fields],
        "files": {name: str(path) for name, path in files.items()},
        "cautions": [caution_node(caution) for caution in (*log.cautions, *STANDING_CAUTIONS)],
        "silenced": [
            {**caution_node(one.caution), "reason": clean_text(one.reason)} for one in log.silenced
        ],
        "data": data_node(log.plot.data),
    }


def _flight(log: NavigationLog) -> Node:
    plan, route = log.plan, log.plot.route
    return {
        "name": clean_name(log.plot.name),
        "route": clean_text(plan.route),
        "points": [clean_name(point.name) for point in route.waypoints],
        "line": route.line,
        "departure": iso_instant(plan.departure),
        "date": log.plot.date.isoformat(),
        "aircraft": clean_name(plan.aircraft.name),
        "registered_in": plan.aircraft.registered_in.upper() or None,
        "fuel_unit": plan.aircraft.fuel_unit,
        "visual_rules": plan.visual_rules or rules_of_flight(plan, route),
        "aircraft_category": plan.aircraft_category,
    }


def _sector(sector: Sector) -> Node:
    return {
        "number": sector.number,
        "from": clean_name(sector.start.name),
        "to": clean_name(sector.end.name),
        "take_off": iso_instant(sector.take_off),
        "take_off_local": local(sector.take_off, sector.start_zone).isoformat("T", "seconds"),
        "landing": iso_instant(sector.landing),
        "landing_local": local(sector.landing, sector.end_zone).isoformat("T", "seconds"),
        "sun_at_take_off": _light(sector.start_sun),
        "sun_at_landing": _light(sector.end_sun),
        "distance_nm": sector.distance_nm,
        "ete_min": sector.ete_min,
        "fuel": _fuel(sector.fuel),
        "reserve": {
            "minutes": sector.reserve.minutes,
            "rule_min": sector.reserve.rule_min,
            "fuel": sector.reserve_fuel,
            "reading": sector.reserve.reading,
            "source": sector.reserve.source,
        },
        "margin_min": sector.margin_min,
        "margin_fuel": sector.margin_fuel,
    }


def _fuel(fuel: FuelPlan) -> Node:
    return {
        "at_start": fuel.at_start,
        "taxi": fuel.taxi,
        "climb": fuel.climb,
        "cruise": fuel.cruise,
        "descent": fuel.descent,
        "used": fuel.used,
        "remaining": fuel.remaining,
        "endurance_min": fuel.endurance_min,
        "cruise_per_hour": fuel.per_hour_cruise,
    }


def _row(log: NavigationLog, row: LogRow, columns: tuple[str, ...] | None) -> Node:
    made: Node = {
        "number": row.number,
        "sector": row.sector,
        "leg": row.course.leg.number,
        "from": clean_name(row.start.name),
        "to": clean_name(row.end.name),
        "to_kind": row.end.kind,
        "to_latitude_deg": row.end.position.latitude_deg,
        "to_longitude_deg": row.end.position.longitude_deg,
        "phase": row.phase,
        "start_altitude_ft": row.start_altitude_ft,
        **{key: column.value(row) for key, column in COLUMNS.items()},
        "elapsed_min": row.elapsed_min,
        "marked": [
            {
                "name": top.name,
                "beyond_nm": top.beyond_nm,
                "from_start_nm": top.at_nm,
                "eta": iso_instant(top.eta),
            }
            for top in row.tops
        ],
        "terrain": terrain(row),
        "rests_on": list(row.rests_on),
    }
    if columns is not None:
        made["working"] = {key: working_node(working(log, row.number, key)) for key in columns}
    return made


def terrain(row: LogRow) -> str:
    """What a row says of the ground below it.

    It is never checked by this program: the pilot reads it off the chart.
    """
    notes = row.course.notes
    typed = (("ground", notes.highest_ground_ft), ("obstacle", notes.highest_obstacle_ft))
    said = [f"highest {name} {feet:,.0f} ft, " for name, feet in typed if feet is not None]
    return f"{''.join(said)}as typed" if said else "terrain not checked"


def working_node(made: Working) -> Node:
    """One working as plain values."""
    return {
        "title": made.title,
        "formula": made.formula,
        "put_in": [_put(put) for put in made.put_in],
        "arithmetic": list(made.arithmetic),
        "result": made.result,
        "unit": made.unit,
        "printed": made.printed,
        "rounding": made.rounding,
        "source": made.source,
        "notes": list(made.notes),
    }


def _put(put: Put) -> Node:
    return {"symbol": put.symbol, "value": put.value, "unit": put.unit, "words": put.words}


def _totals(log: NavigationLog) -> Node:
    last = log.sectors[-1]
    return {
        "distance_nm": log.distance_nm,
        "ete_min": log.ete_min,
        "fuel_used": log.fuel_used,
        "fuel_remaining": last.fuel.remaining,
        "reserve_min": last.reserve.minutes,
        "margin_min": last.margin_min,
        "margin_fuel": last.margin_fuel,
    }


def _sun(sector: Sector) -> list[Node]:
    """The solar days of a take-off and of a landing: a field may be flown from and landed at."""
    number = {"sector": sector.number}
    return [
        number | _sun_of("take-off", sector.start, sector.start_sun, sector.start_zone),
        number | _sun_of("landing", sector.end, sector.end_sun, sector.end_zone),
    ]


def _sun_of(of: str, field: Waypoint, sun: Daylight, zone: str) -> Node:
    """The solar day of take-off or landing, its date that of its noon by the field's clock."""
    day = sun.day
    return {
        "of": of,
        "point": clean_name(field.name),
        "local_date": local(day.noon, zone).date().isoformat(),
        "time_zone": zone,
        "civil_twilight_begin": _or_none(day.civil_twilight_begin),
        "sunrise": _or_none(day.sunrise),
        "sunset": _or_none(day.sunset),
        "civil_twilight_end": _or_none(day.civil_twilight_end),
        "sun": day.sun,
        "twilight": day.twilight,
    }


def _light(sun: Daylight) -> Node:
    events = [{"event": one.name, "at": iso_instant(one.instant)} for one in sun.events]
    return {"light": sun.light, "events": events}


def _field(report: FieldReport) -> Node:
    return {
        "point": clean_name(report.point),
        "elevation_ft": report.elevation_ft,
        "pressure_altitude_ft": report.pressure_altitude_ft,
        "density_altitude_ft": report.density_altitude_ft,
        "runway": clean_name(report.runway) if report.runway else None,
        "headwind_kt": report.headwind_kt,
        "crosswind_kt": report.crosswind_kt,
        "crosswind_from": report.crosswind_from or None,
    }


def _or_none(moment: dt.datetime | None) -> str | None:
    return None if moment is None else iso_instant(moment)
