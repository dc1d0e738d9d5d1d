"""The columns of a navigation log: what each is called, its value, how it is printed.

Every output (terminal, page, CSV, JSON, working) takes its columns from here, so a figure is
printed alike wherever it stands. Values are unrounded; what is printed is no finer than it is
known: whole degrees, knots and minutes, tens of feet, tenths of a mile; fuel used is rounded up,
fuel left down.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import NamedTuple

from plotter import wording
from plotter.flight.log_values import LogRow, Sector
from plotter.flight.sun_clock import iso_instant

Value = float | str | None


class Column(NamedTuple):
    """One column: its key, short heading, unit, what it is, its value and printed form."""

    key: str
    heading: str
    unit: str
    title: str
    value: Callable[[LogRow], Value]
    printed: Callable[[LogRow], str]
    rounding: str


def _whole(value: float) -> str:
    return f"{round(value):d}"


def _direction(angle_deg: float) -> str:
    return f"{round(angle_deg) % 360 or 360:03d}"


_DEGREES = "to a whole degree; north is 360"
_KNOTS = "to a whole knot"
_TENTH = "to a tenth of a nautical mile"

_COLUMNS = (
    Column(
        "altitude_ft",
        "ALT",
        "ft",
        "Altitude at the end of the row",
        lambda row: row.altitude_ft,
        lambda row: f"{round(row.altitude_ft, -1):,.0f}",
        "to 10 ft",
    ),
    Column(
        "distance_nm",
        "NM",
        "NM",
        "Distance",
        lambda row: row.distance_nm,
        lambda row: f"{row.distance_nm:.1f}",
        _TENTH,
    ),
    Column(
        "distance_to_go_nm",
        "TO GO",
        "NM",
        "Distance to go in the sector",
        lambda row: row.distance_to_go_nm,
        lambda row: f"{row.distance_to_go_nm:.1f}",
        _TENTH,
    ),
    Column(
        "true_course_deg",
        "TC",
        "°T",
        "True course",
        lambda row: row.triangle.true_course_deg,
        lambda row: _direction(row.triangle.true_course_deg),
        _DEGREES,
    ),
    Column(
        "magnetic_course_deg",
        "MC",
        "°M",
        "Magnetic course",
        lambda row: row.course.magnetic_course_deg,
        lambda row: _direction(row.course.magnetic_course_deg),
        _DEGREES,
    ),
    Column(
        "wind_from_true_deg",
        "WIND",
        "°T",
        "Direction the wind is from",
        lambda row: row.triangle.wind.from_true_deg,
        lambda row: _direction(row.triangle.wind.from_true_deg),
        _DEGREES,
    ),
    Column(
        "wind_speed_kt",
        "KT",
        "kt",
        "Wind speed",
        lambda row: row.triangle.wind.speed_kt,
        lambda row: _whole(row.triangle.wind.speed_kt),
        _KNOTS,
    ),
    Column(
        "true_airspeed_kt",
        "TAS",
        "kt",
        "True airspeed",
        lambda row: row.triangle.true_airspeed_kt,
        lambda row: _whole(row.triangle.true_airspeed_kt),
        _KNOTS,
    ),
    Column(
        "wind_correction_angle_deg",
        "WCA",
        "°",
        "Wind correction angle",
        lambda row: row.triangle.wind_correction_angle_deg,
        lambda row: wording.correction(row.triangle.wind_correction_angle_deg),
        "to a whole degree; L left, R right",
    ),
    Column(
        "true_heading_deg",
        "TH",
        "°T",
        "True heading",
        lambda row: row.triangle.true_heading_deg,
        lambda row: _direction(row.triangle.true_heading_deg),
        _DEGREES,
    ),
    Column(
        "variation_deg_east",
        "VAR",
        "°",
        "Variation, east positive",
        lambda row: row.course.variation_deg_east,
        lambda row: wording.variation(row.course.variation_deg_east),
        "to a whole degree",
    ),
    Column(
        "magnetic_heading_deg",
        "MH",
        "°M",
        "Magnetic heading",
        lambda row: row.magnetic_heading_deg,
        lambda row: _direction(row.magnetic_heading_deg),
        _DEGREES,
    ),
    Column(
        "compass_card_correction_deg",
        "CORR",
        "°",
        "Correction of the compass card, steer − for",
        lambda row: row.compass_card_correction_deg,
        lambda row: (
            ""
            if row.compass_card_correction_deg is None
            else wording.signed(row.compass_card_correction_deg)
        ),
        "to a whole degree",
    ),
    Column(
        "compass_heading_deg",
        "CH",
        "°",
        "Compass heading",
        lambda row: row.compass_heading_deg,
        lambda row: _direction(row.compass_heading_deg),
        _DEGREES,
    ),
    Column(
        "groundspeed_kt",
        "GS",
        "kt",
        "Groundspeed",
        lambda row: row.triangle.groundspeed_kt,
        lambda row: _whole(row.triangle.groundspeed_kt),
        _KNOTS,
    ),
    Column(
        "ete_min",
        "ETE",
        "min",
        "Estimated time en route",
        lambda row: row.ete_min,
        lambda row: wording.duration(row.ete_min),
        "to a whole minute",
    ),
    Column(
        "eta",
        "ETA",
        "UTC",
        "Estimated time of arrival at the end of the row",
        lambda row: iso_instant(row.eta),
        lambda row: wording.zulu_since(row.take_off, row.eta),
        "to a whole minute",
    ),
    Column(
        "fuel_used",
        "USED",
        "",
        "Fuel used in the row",
        lambda row: row.fuel_used,
        lambda row: wording.fuel_used(row.fuel_used),
        "to a tenth, up",
    ),
    Column(
        "fuel_remaining",
        "LEFT",
        "",
        "Fuel left at the end of the row",
        lambda row: row.fuel_remaining,
        lambda row: wording.fuel_left(row.fuel_remaining),
        "to a tenth, down",
    ),
)
COLUMNS: Mapping[str, Column] = {column.key: column for column in _COLUMNS}


def cell(row: LogRow, key: str) -> str:
    """What is printed of a row in a column, as plain words; the wind with its speed."""
    if key != "wind_from_true_deg":
        return COLUMNS[key].printed(row)
    speed = COLUMNS["wind_speed_kt"].printed(row)
    return "calm" if speed == "0" else f"{COLUMNS[key].printed(row)}/{speed}"


def margin(sector: Sector) -> str:
    """What is left beyond the reserve, as time and fuel, or how much is missing."""
    unit = sector.fuel.unit
    if sector.margin_fuel < 0.0:
        return f"{wording.fuel_used(-sector.margin_fuel)} {unit} short"
    left = wording.fuel_left(sector.margin_fuel)
    return f"{wording.time_left(sector.margin_min)}, {left} {unit}"
