"""The columns of a navigation log: what each is called, its value, how it is printed.

Every output (terminal, page, CSV, JSON, working) takes its columns from here, so a figure is
printed alike wherever it stands. Values are unrounded; what is printed comes from
:mod:`plotter.flight.printed`, where the figures of a row are rounded so that they add up.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import NamedTuple

from plotter import wording
from plotter.flight.log_values import LogRow, Sector
from plotter.flight.printed import PrintedRow, verdict
from plotter.flight.sun_clock import iso_instant

Value = float | str | None


class Column(NamedTuple):
    """One column: its key, short heading, unit, what it is, its value and printed form.

    ``value`` is unrounded; ``plain`` is the printed figure as a number, an ETA as an instant.
    """

    key: str
    heading: str
    unit: str
    title: str
    value: Callable[[LogRow], Value]
    plain: Callable[[PrintedRow], Value]
    printed: Callable[[PrintedRow], str]
    rounding: str


def _direction(angle_deg: float) -> int:
    return wording.whole(angle_deg) % 360 or 360


def _tens_ft(row: PrintedRow) -> int:
    return 10 * wording.whole(row.row.altitude_ft / 10.0)


_DEGREES = "to a whole degree; north is 360"
_KNOTS = "to a whole knot"
_BY_TOTALS = "as the difference of rounded running totals"

_COLUMNS = (
    Column(
        "altitude_ft",
        "ALT",
        "ft",
        "Altitude at the end of the row",
        lambda row: row.altitude_ft,
        _tens_ft,
        lambda row: f"{_tens_ft(row):,d}",
        "to 10 ft",
    ),
    Column(
        "distance_nm",
        "NM",
        "NM",
        "Distance",
        lambda row: row.distance_nm,
        lambda row: row.distance_nm,
        lambda row: f"{row.distance_nm:.1f}",
        f"to a tenth of a nautical mile, {_BY_TOTALS}",
    ),
    Column(
        "distance_to_go_nm",
        "TO GO",
        "NM",
        "Distance to go in the sector",
        lambda row: row.distance_to_go_nm,
        lambda row: row.distance_to_go_nm,
        lambda row: f"{row.distance_to_go_nm:.1f}",
        f"to a tenth of a nautical mile, {_BY_TOTALS}",
    ),
    Column(
        "true_course_deg",
        "TC",
        "°T",
        "True course",
        lambda row: row.triangle.true_course_deg,
        lambda row: row.true_course_deg,
        lambda row: f"{row.true_course_deg:03d}",
        _DEGREES,
    ),
    Column(
        "magnetic_course_deg",
        "MC",
        "°M",
        "Magnetic course",
        lambda row: row.course.magnetic_course_deg,
        lambda row: row.magnetic_course_deg,
        lambda row: f"{row.magnetic_course_deg:03d}",
        "printed TC less printed VAR",
    ),
    Column(
        "wind_from_true_deg",
        "WIND",
        "°T",
        "Direction the wind is from",
        lambda row: row.triangle.wind.from_true_deg,
        lambda row: _direction(row.row.triangle.wind.from_true_deg),
        lambda row: f"{_direction(row.row.triangle.wind.from_true_deg):03d}",
        _DEGREES,
    ),
    Column(
        "wind_speed_kt",
        "KT",
        "kt",
        "Wind speed",
        lambda row: row.triangle.wind.speed_kt,
        lambda row: wording.whole(row.row.triangle.wind.speed_kt),
        lambda row: f"{wording.whole(row.row.triangle.wind.speed_kt)}",
        _KNOTS,
    ),
    Column(
        "true_airspeed_kt",
        "TAS",
        "kt",
        "True airspeed",
        lambda row: row.triangle.true_airspeed_kt,
        lambda row: wording.whole(row.row.triangle.true_airspeed_kt),
        lambda row: f"{wording.whole(row.row.triangle.true_airspeed_kt)}",
        _KNOTS,
    ),
    Column(
        "wind_correction_angle_deg",
        "WCA",
        "°",
        "Wind correction angle",
        lambda row: row.triangle.wind_correction_angle_deg,
        lambda row: row.wind_correction_angle_deg,
        lambda row: wording.correction(row.wind_correction_angle_deg),
        "to a whole degree; L left, R right",
    ),
    Column(
        "true_heading_deg",
        "TH",
        "°T",
        "True heading",
        lambda row: row.triangle.true_heading_deg,
        lambda row: row.true_heading_deg,
        lambda row: f"{row.true_heading_deg:03d}",
        "printed TC plus printed WCA",
    ),
    Column(
        "variation_deg_east",
        "VAR",
        "°",
        "Variation, east positive",
        lambda row: row.course.variation_deg_east,
        lambda row: row.variation_deg_east,
        lambda row: wording.variation(row.variation_deg_east),
        "to a whole degree",
    ),
    Column(
        "magnetic_heading_deg",
        "MH",
        "°M",
        "Magnetic heading",
        lambda row: row.magnetic_heading_deg,
        lambda row: row.magnetic_heading_deg,
        lambda row: f"{row.magnetic_heading_deg:03d}",
        "printed TH less printed VAR",
    ),
    Column(
        "compass_card_correction_deg",
        "DEV",
        "°",
        "Deviation from the compass card, steer − for",
        lambda row: row.compass_card_correction_deg,
        lambda row: row.deviation_deg,
        lambda row: "" if row.deviation_deg is None else wording.signed(row.deviation_deg),
        "to a whole degree, read off the card at the printed MH",
    ),
    Column(
        "compass_heading_deg",
        "CH",
        "°",
        "Compass heading",
        lambda row: row.compass_heading_deg,
        lambda row: row.compass_heading_deg,
        lambda row: f"{row.compass_heading_deg:03d}",
        "printed MH plus printed DEV",
    ),
    Column(
        "groundspeed_kt",
        "GS",
        "kt",
        "Groundspeed",
        lambda row: row.triangle.groundspeed_kt,
        lambda row: wording.whole(row.row.triangle.groundspeed_kt),
        lambda row: f"{wording.whole(row.row.triangle.groundspeed_kt)}",
        _KNOTS,
    ),
    Column(
        "ete_min",
        "ETE",
        "min",
        "Estimated time en route",
        lambda row: row.ete_min,
        lambda row: row.ete_min,
        lambda row: wording.duration(row.ete_min),
        f"to a whole minute, {_BY_TOTALS}",
    ),
    Column(
        "eta",
        "ETA",
        "UTC",
        "Estimated time of arrival at the end of the row",
        lambda row: iso_instant(row.eta),
        lambda row: iso_instant(row.eta),
        lambda row: row.clock,
        "to a whole minute",
    ),
    Column(
        "fuel_used",
        "USED",
        "",
        "Fuel used in the row",
        lambda row: row.fuel_used,
        lambda row: row.fuel_used,
        lambda row: f"{row.fuel_used:.1f}",
        f"to a tenth, {_BY_TOTALS}",
    ),
    Column(
        "fuel_remaining",
        "LEFT",
        "",
        "Fuel left at the end of the row",
        lambda row: row.fuel_remaining,
        lambda row: row.fuel_remaining,
        lambda row: f"{row.fuel_remaining:.1f}",
        "to a tenth, down",
    ),
)
COLUMNS: Mapping[str, Column] = {column.key: column for column in _COLUMNS}


def cell(row: PrintedRow, key: str) -> str:
    """What is printed of a row in a column, as plain words; the wind with its speed."""
    if key != "wind_from_true_deg":
        return COLUMNS[key].printed(row)
    speed = COLUMNS["wind_speed_kt"].printed(row)
    return "calm" if speed == "0" else f"{COLUMNS[key].printed(row)}/{speed}"


def margin(sector: Sector) -> str:
    """What is left beyond the reserve, as time and fuel, or how much is missing."""
    unit, found = sector.fuel.unit, verdict(sector)
    if sector.margin_fuel < 0.0:
        return f"{found.words(-found.margin)} {unit} short"
    return f"{wording.time_left(sector.margin_min)}, {found.words(found.margin)} {unit}"
