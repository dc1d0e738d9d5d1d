"""One function a column: the formula, the numbers put into it, the lines of arithmetic."""

from __future__ import annotations

import datetime as dt
import itertools
from collections.abc import Callable, Iterator, Mapping

from plotter.flight.aircraft import Cruise, VerticalRate
from plotter.flight.log_values import LogRow, NavigationLog
from plotter.flight.performance import ClimbTable
from plotter.flight.plan.values import PlannedWind
from plotter.flight.sun_clock import iso_instant
from plotter.flight.track import Flown
from plotter.flight.wind import Wind, components_kt
from plotter.flight.working.values import PILOTS_HANDBOOK, Made, Place, Put, angle, figure

# The stretches of a climb or descent row, written out line by line.


def steps_of(row: LogRow) -> tuple[str, ...]:
    """One line a stretch of a row that has several; none for a row of one.

    Each stretch was flown with one wind and one airspeed, taken at the middle of its 500 ft.
    """
    if len(row.flown) == 1:
        return ()
    return tuple(_line(one) for one in row.flown)


def _line(one: Flown) -> str:
    triangle = one.triangle
    wind = triangle.wind
    return (
        f"{one.from_ft:,.0f} to {one.to_ft:,.0f} ft: wind {round(wind.from_true_deg) or 360:03d}°T "
        f"{wind.speed_kt:.1f} kt, TAS {triangle.true_airspeed_kt:.1f}, "
        f"GS {triangle.groundspeed_kt:.1f}; {one.minutes:.2f} min, {one.distance_nm:.2f} NM, "
        f"fuel {one.fuel:.2f}"
    )


# How a wind between two altitudes is worked: by its parts from north and east.


def wind_lines(log: NavigationLog, row: LogRow) -> Iterator[str]:
    """The lines between the winds that are given and the wind of a row with one stretch.

    Empty for a wind typed for the leg, read from a forecast's stations, or outside the altitudes
    that are given, where the nearest is used as it is.
    """
    course = row.course
    if len(row.flown) > 1 or course.notes.wind or log.plan.winds_aloft:
        return
    altitude_ft = row.flown[0].air.altitude_ft
    given = sorted(log.plan.winds, key=lambda one: one.altitude_ft)
    for lower, upper in itertools.pairwise(given):
        if lower.altitude_ft < altitude_ft < upper.altitude_ft:
            yield from _between(lower, upper, altitude_ft, course.variation_deg_east)


def _between(
    lower: PlannedWind, upper: PlannedWind, altitude_ft: float, variation_deg_east: float
) -> Iterator[str]:
    low = lower.wind.true_wind(variation_deg_east)
    high = upper.wind.true_wind(variation_deg_east)
    share = (altitude_ft - lower.altitude_ft) / (upper.altitude_ft - lower.altitude_ft)
    yield _level(lower.altitude_ft, low)
    yield _level(upper.altitude_ft, high)
    yield (
        f"({figure(altitude_ft, 0)} − {figure(lower.altitude_ft, 0)}) / "
        f"({figure(upper.altitude_ft, 0)} − {figure(lower.altitude_ft, 0)}) = {figure(share, 3)} "
        "of the way up"
    )
    for name, below, above in zip(
        ("north", "east"), components_kt(low), components_kt(high), strict=True
    ):
        part = below + (above - below) * share
        yield (
            f"from {name}: {figure(below)} + {figure(share, 3)} × ({figure(above)} − "
            f"({figure(below)})) = {figure(part)} kt"
        )


def _level(altitude_ft: float, wind: Wind) -> str:
    north, east = components_kt(wind)
    return (
        f"{figure(altitude_ft, 0)} ft: {figure(wind.from_true_deg, 0)}°T "
        f"{figure(wind.speed_kt)} kt is {figure(north)} from north, {figure(east)} from east"
    )


def _altitude(place: Place) -> Made:
    row = place.row
    put = (
        Put("from", row.start_altitude_ft, "ft", f"altitude at {row.start.name}"),
        Put("ETE", row.ete_min, "min", "time in the row"),
    )
    if row.start_altitude_ft == row.altitude_ft == row.cruise_altitude_ft:
        said = f"cruising altitude of leg {row.course.leg.number}, as planned"
        return Made("level", put[:1], (said,), "the plan")
    change = row.altitude_ft - row.start_altitude_ft
    rate = f"{figure(abs(change), 0)} ft in {figure(row.ete_min)} min"
    sign = "+" if change >= 0 else "−"
    line = f"{figure(row.start_altitude_ft, 0)} {sign} {figure(abs(change), 0)} ft ({rate})"
    return Made("altitude = from + rate × time", put, (line, *steps_of(row)))


def _distance(place: Place) -> Made:
    row, course = place.row, place.row.course
    put = (
        Put("start", row.start.at_nm, "NM", f"{row.start.name}, from the start of the flight"),
        Put("end", row.end.at_nm, "NM", f"{row.end.name}, from the start of the flight"),
    )
    line = f"{figure(row.end.at_nm, 2)} − {figure(row.start.at_nm, 2)} NM"
    typed = ("the length of the leg is the pilot's own",) if course.notes.distance_nm else ()
    kind = "geodesic" if course.line.kind == "geodesic" else "rhumb line"
    source = f"{kind} on WGS 84 (Karney 2013); 1 NM = 1,852 m"
    return Made("distance = end − start", put, (line,), source, typed)


def _to_go(place: Place) -> Made:
    last, row = place.sector.rows[-1].end, place.row
    put = (
        Put("last", last.at_nm, "NM", f"{last.name}, from the start of the flight"),
        Put("end", row.end.at_nm, "NM", f"{row.end.name}, from the start of the flight"),
    )
    line = f"{figure(last.at_nm, 2)} − {figure(row.end.at_nm, 2)} NM"
    return Made("to go = last − end", put, (line,))


def _true_course(place: Place) -> Made:
    course = place.row.course
    if course.notes.true_course_deg is not None:
        computed = f"computed: {angle(course.line.true_course_deg)}T"
        return Made(
            "TC as read from the chart", (), ("typed for this leg",), "the plan", (computed,)
        )
    part = f", part {course.part} of {course.parts}" if course.parts > 1 else ""
    leg = course.leg
    line = (
        f"course at the middle of leg {leg.number}, {leg.start.name} to {leg.end.name}{part}: "
        f"{angle(course.true_course_deg)}"
    )
    return Made(
        "TC at mid-leg", (), (line,), f"{PILOTS_HANDBOOK}; geodesic on WGS 84 (Karney 2013)"
    )


def _magnetic_course(place: Place) -> Made:
    row = place.row
    put = (_put_course(row), _put_variation(row))
    line = _less_variation(row.triangle.true_course_deg, row.course.variation_deg_east)
    return Made("MC = TC − VAR (east positive)", put, (line,))


def _variation(place: Place) -> Made:
    course = place.row.course
    if course.notes.variation_deg_east is not None:
        computed = f"computed: {angle(course.leg.variation.degrees_east)}"
        return Made(
            "VAR as read from the chart", (), ("typed for this leg",), "the plan", (computed,)
        )
    model = course.leg.variation
    line = f"{model.model} on {place.log.plot.date_said} at mid-leg"
    return Made("VAR of the magnetic model", (), (line,), "World Magnetic Model, NOAA NCEI")


def _wind(place: Place) -> Made:
    row = place.row
    here = row.flown[0].air
    line = (
        f"{figure(row.triangle.wind.from_true_deg)}°T {figure(row.triangle.wind.speed_kt)} kt at "
        f"{figure(here.altitude_ft, 0)} ft"
        if len(row.flown) == 1
        else f"mean by components, over time, of {len(row.flown)} stretches"
    )
    typed = ("typed for this leg",) if row.course.notes.wind else ()
    method = "between altitudes by components from north and east, in proportion to altitude"
    worked = (*wind_lines(place.log, row), line, *steps_of(row))
    source = "the plan's winds; FAA-H-8083-28 (interpolation between levels, from memory)"
    return Made(method, (), worked, source, (*typed, *row.rests_on))


def _airspeed(place: Place) -> Made:
    """Only what an airspeed is made of is put in: no pressure where none enters it."""
    row, triangle = place.row, place.row.triangle
    if len(row.flown) > 1:
        put = (
            Put("GS", triangle.groundspeed_kt, "kt", "groundspeed over the stretches of the row"),
            Put("H", triangle.headwind_kt, "kt", "headwind, mean of the row"),
            Put("X", triangle.crosswind_kt, "kt", "crosswind, mean of the row"),
        )
        formula = "TAS = √((GS + H)² + X²), the way through the air of all stretches / time"
        given = _speed_source(place)
        return Made(formula, put, (given.formula, *steps_of(row)), given.source, given.notes)
    if row.phase == "cruise" and row.course.notes.true_airspeed_kt:
        return Made("TAS as typed for this leg", (), (), "the plan")
    return _speed_source(place)


def _speed_source(place: Place) -> Made:
    """How the airspeed of a phase is given: a table, true, or calibrated."""
    row = place.row
    given, here = getattr(place.log.plan.aircraft, row.phase), row.flown[0].air
    tas = f"{figure(row.triangle.true_airspeed_kt)} kt"
    source = "the plan's aircraft"
    if isinstance(given, ClimbTable):
        return Made("TAS = distance / time of the climb table, whole climb", (), (tas,), source)
    pressure = Put("PA", here.pressure_altitude_ft, "ft", "pressure altitude")
    if not isinstance(given, Cruise | VerticalRate):
        formula = f"TAS by the {row.phase} table at PA"
        return Made(formula, (pressure,), (tas,), source, row.rests_on)
    if given.airspeed.kind == "true":
        return Made("TAS as given", (), (tas,), source)
    cas = f"CAS {figure(given.airspeed.knots)} kt"
    return Made(
        "TAS from CAS, PA and OAT (compressible flow)",
        (pressure, Put("OAT", here.temperature_c, "°C", "air temperature")),
        (f"{cas} gives TAS {tas}",),
        f"{source}; ICAO Doc 7488",
        row.rests_on,
    )


def _wca(place: Place) -> Made:
    row, triangle = place.row, place.row.triangle
    put = (_put_course(row), *_put_wind(row), _put_airspeed(row))
    wind = triangle.wind
    lines = (
        f"crosswind = {figure(wind.speed_kt)} × sin({figure(wind.from_true_deg)} − "
        f"{figure(triangle.true_course_deg)}) = {figure(triangle.crosswind_kt)} kt",
        f"WCA = asin({figure(triangle.crosswind_kt)} / {figure(triangle.true_airspeed_kt)}) = "
        f"{angle(triangle.wind_correction_angle_deg)}",
    )
    return Made("WCA = asin(W × sin(wind − TC) / TAS), right positive", put, lines)


def _true_heading(place: Place) -> Made:
    triangle = place.row.triangle
    wca = triangle.wind_correction_angle_deg
    put = (_put_course(place.row), Put("WCA", wca, "°", "wind correction angle, right positive"))
    sign = "+" if wca >= 0 else "−"
    line = f"{figure(triangle.true_course_deg)} {sign} {figure(abs(wca))} = " + angle(
        triangle.true_heading_deg
    )
    return Made("TH = TC + WCA", put, (line,))


def _magnetic_heading(place: Place) -> Made:
    row = place.row
    put = (
        Put("TH", row.triangle.true_heading_deg, "°T", "true heading"),
        _put_variation(row),
    )
    line = _less_variation(row.triangle.true_heading_deg, row.course.variation_deg_east)
    return Made("MH = TH − VAR (east positive)", put, (line,))


def _card(place: Place) -> Made:
    card = place.log.plan.aircraft.compass_card
    if card is None:
        return Made("DEV = steer − for", (), ("no compass card is given",))
    pairs = ", ".join(
        f"for {p.for_magnetic_deg:03.0f} steer {p.steer_deg:03.0f}" for p in card.pairs
    )
    put = (Put("MH", place.row.magnetic_heading_deg, "°M", "magnetic heading"),)
    line = f"between the headings of the card ({pairs}), in proportion"
    return Made("DEV = steer − for", put, (line,))


def _compass_heading(place: Place) -> Made:
    row = place.row
    correction = row.compass_card_correction_deg
    put = (
        Put("MH", row.magnetic_heading_deg, "°M", "magnetic heading"),
        Put("DEV", correction, "°", "deviation from the compass card"),
    )
    if correction is None:
        return Made("CH = MH", put[:1], ("no compass card is given",))
    sign = "+" if correction >= 0 else "−"
    heading = figure(row.magnetic_heading_deg)
    line = f"{heading} {sign} {figure(abs(correction))} = {angle(row.compass_heading_deg)}"
    return Made("CH = MH + DEV", put, (line,))


def _groundspeed(place: Place) -> Made:
    row, triangle = place.row, place.row.triangle
    put = (
        _put_airspeed(row),
        Put("WCA", triangle.wind_correction_angle_deg, "°", "wind correction angle"),
        _put_course(row),
        *_put_wind(row),
    )
    wind = triangle.wind
    lines = (
        f"headwind = {figure(wind.speed_kt)} × cos({figure(wind.from_true_deg)} − "
        f"{figure(triangle.true_course_deg)}) = {figure(triangle.headwind_kt)} kt",
        f"GS = {figure(triangle.true_airspeed_kt)} × "
        f"cos({angle(triangle.wind_correction_angle_deg)}) − "
        f"({figure(triangle.headwind_kt)}) = {figure(triangle.groundspeed_kt)} kt",
    )
    return Made("GS = TAS × cos WCA − W × cos(wind − TC)", put, lines)


def _ete(place: Place) -> Made:
    row = place.row
    put = (
        Put("D", row.distance_nm, "NM", "distance"),
        Put("GS", row.triangle.groundspeed_kt, "kt", "groundspeed"),
    )
    line = (
        f"{figure(row.distance_nm, 2)} / {figure(row.triangle.groundspeed_kt)} × 60 = "
        f"{figure(row.ete_min)} min"
    )
    return Made("ETE = D / GS × 60", put, (line, *steps_of(row)))


def _eta(place: Place) -> Made:
    row = place.row
    since = place.before.eta if place.before else place.sector.take_off
    word = "ETA of the row before" if place.before else "take-off"
    put = (
        Put("before", iso_instant(since), "UTC", word),
        Put("ETE", row.ete_min, "min", "time in the row"),
    )
    line = f"{_clock(since)} + {figure(row.ete_min)} min = {_clock(row.eta)}"
    return Made("ETA = before + ETE", put, (line,))


def _clock(instant: dt.datetime) -> str:
    """A time in UTC to the nearest second, as the row's own ETA is rounded."""
    return iso_instant(instant)[11:]


def _fuel_used(place: Place) -> Made:
    row, unit = place.row, place.log.plan.aircraft.fuel_unit
    per_hour = (
        row.flown[0].fuel_per_hour if len(row.flown) == 1 else row.fuel_used / row.ete_min * 60.0
    )
    put = (
        Put("flow", per_hour, f"{unit}/h", f"fuel flow in {row.phase}"),
        Put("ETE", row.ete_min, "min", "time in the row"),
    )
    line = f"{figure(per_hour)} × {figure(row.ete_min)} / 60 = {figure(row.fuel_used, 2)} {unit}"
    return Made("fuel = flow × ETE / 60", put, (line, *steps_of(row)))


def _fuel_remaining(place: Place) -> Made:
    row, fuel = place.row, place.sector.fuel
    unit = fuel.unit
    before = place.before.fuel_remaining if place.before else fuel.at_start - fuel.taxi
    word = "left after the row before" if place.before else "on board less taxi"
    put = (
        Put("before", before, unit, word),
        Put("used", row.fuel_used, unit, "used in the row"),
    )
    line = (
        f"{figure(before, 2)} − {figure(row.fuel_used, 2)} = {figure(row.fuel_remaining, 2)} {unit}"
    )
    return Made("left = before − used", put, (line,))


def _put_course(row: LogRow) -> Put:
    return Put("TC", row.triangle.true_course_deg, "°T", "true course")


def _put_variation(row: LogRow) -> Put:
    return Put("VAR", row.course.variation_deg_east, "°", "variation, east positive")


def _put_airspeed(row: LogRow) -> Put:
    return Put("TAS", row.triangle.true_airspeed_kt, "kt", "true airspeed")


def _put_wind(row: LogRow) -> tuple[Put, Put]:
    wind = row.triangle.wind
    return (
        Put("wind", wind.from_true_deg, "°T", "direction the wind is from"),
        Put("W", wind.speed_kt, "kt", "wind speed"),
    )


def _less_variation(true_deg: float, variation_deg_east: float) -> str:
    result = (true_deg - variation_deg_east) % 360.0
    sign = "−" if variation_deg_east >= 0 else "+"
    return f"{figure(true_deg)} {sign} {figure(abs(variation_deg_east))} = {angle(result)}"


MAKERS: Mapping[str, Callable[[Place], Made]] = {
    "altitude_ft": _altitude,
    "distance_nm": _distance,
    "distance_to_go_nm": _to_go,
    "true_course_deg": _true_course,
    "magnetic_course_deg": _magnetic_course,
    "wind_from_true_deg": _wind,
    "wind_speed_kt": _wind,
    "true_airspeed_kt": _airspeed,
    "wind_correction_angle_deg": _wca,
    "true_heading_deg": _true_heading,
    "variation_deg_east": _variation,
    "magnetic_heading_deg": _magnetic_heading,
    "compass_card_correction_deg": _card,
    "compass_heading_deg": _compass_heading,
    "groundspeed_kt": _groundspeed,
    "ete_min": _ete,
    "eta": _eta,
    "fuel_used": _fuel_used,
    "fuel_remaining": _fuel_remaining,
}
