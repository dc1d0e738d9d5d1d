"""Published figures through the whole of a navigation log, from a plan to its rows.

The modules are tried with these figures one by one elsewhere; here each is asked of
:func:`~plotter.flight.log.navigation_log` and nothing else. A course, distance or variation of a
book is typed for the leg, as a pilot would type one read from a chart.
"""

from __future__ import annotations

import csv
import datetime as dt
import math
from pathlib import Path
from typing import Any

import pytest
from flights import TAKE_OFF, all_cruise, plan, wind
from published_rows import PUBLISHED, published

from plotter.earth.atmosphere import hpa_from_inhg
from plotter.earth.sun import SunDay
from plotter.flight.aircraft import Airspeed, Cruise
from plotter.flight.columns import COLUMNS
from plotter.flight.log import navigation_log
from plotter.flight.log_values import Sector
from plotter.flight.plan.values import LegNotes, Weather, WindsAloft
from plotter.flight.printed import PrintedRow, printed_sector
from plotter.flight.rules import rule_applies
from plotter.places.store import Store

WIND, TIME, AIR = published("wind"), published("time_fuel"), published("atmosphere")
ALOFT, RULES, MAGNETISM = (
    published(name) for name in ("winds_aloft", "cruising_altitudes", "magnetism")
)
BULLETIN = (PUBLISHED / "winds_aloft_bulletin.txt").read_text(encoding="utf-8")


def flown(store: Store, tas_kt: float = 110.0, per_hour: float = 8.5, **changes: Any) -> Sector:
    """A flight of one leg that is all cruise, at one airspeed."""
    plane = all_cruise(
        cruise=Cruise(Airspeed(tas_kt), per_hour), usable_fuel=999.0, fuel_on_board=999.0
    )
    given = {"route": "KRST KLSE", "aircraft": plane, "every_nm": 500.0}
    (sector,) = navigation_log(plan(**{**given, **changes}), store).sectors
    return sector


def typed(course_deg: float = 90.0, distance_nm: float = 100.0, **more: Any) -> dict[str, Any]:
    """One leg as a book gives it."""
    notes = LegNotes(1, true_course_deg=course_deg, distance_nm=distance_nm, **more)
    return {"legs": (notes,)}


def on_paper(sector: Sector) -> PrintedRow:
    """The one row of a sector in printed figures."""
    (row,) = printed_sector(plan(), sector).rows
    return row


def printed(row: PrintedRow, key: str) -> str:
    return COLUMNS[key].printed(row)


def test_the_triangle_of_the_pilots_handbook(real_store: Store) -> None:
    """FAA-H-8083-25: course 090, 120 kt, wind 045/40: heading 076, WCA 14 left, 88 kt."""
    given = WIND["wind-phak-EP"]["inputs"]
    blowing = wind(given["wind_from_deg"], given["wind_kt"])
    sector = flown(real_store, given["tas_kt"], winds=(blowing,), **typed(given["true_course_deg"]))
    row = on_paper(sector)
    heading = WIND["wind-phak-EP-heading"]["expected"]
    assert printed(row, "groundspeed_kt") == str(WIND["wind-phak-EP"]["expected"]["groundspeed_kt"])
    assert printed(row, "true_heading_deg") == f"{heading['true_heading_deg']:03d}"
    assert printed(row, "wind_correction_angle_deg") == f"{-heading['wca_deg']}L"


def test_wind_from_the_right_is_added(real_store: Store) -> None:
    """The 1940s booklet, example 15: course 236, correction 8° to the right, heading 244."""
    row = WIND["si-wca-ex15"]
    course, wca = row["inputs"]["course_deg"], row["inputs"]["wca_deg"]
    across = wind((course + 90.0) % 360.0, 100.0 * math.sin(math.radians(wca)))
    own = on_paper(flown(real_store, 100.0, winds=(across,), **typed(course)))
    assert printed(own, "true_heading_deg") == str(row["expected"]["heading_deg"])
    assert printed(own, "wind_correction_angle_deg") == "8R"


@pytest.mark.parametrize("course", [0.0, 73.0, 200.0, 359.5])
def test_the_formulas_of_the_aviation_formulary(real_store: Store, course: float) -> None:
    """HD = CRS + asin((WS/TAS) sin(WD−CRS)); GS = TAS √(1−SWC²) − WS cos(WD−CRS)."""
    tas, speed, direction = 105.0, 31.0, 255.0
    (row,) = flown(real_store, tas, winds=(wind(direction, speed),), **typed(course)).rows
    angle = math.radians(direction - course)
    swc = speed / tas * math.sin(angle)
    heading = (course + math.degrees(math.asin(swc))) % 360.0
    assert row.triangle.true_heading_deg == pytest.approx(heading)
    made = tas * math.sqrt(1.0 - swc**2) - speed * math.cos(angle)
    assert row.triangle.groundspeed_kt == pytest.approx(made)


def test_the_navys_component_is_not_the_triangle(real_store: Store) -> None:
    """P-305 leaves the crab out and has 165 kt; its triangle, as the row notes, gives 162.5."""
    row = WIND["navy-p305-ex"]
    given = row["inputs"]
    blowing = wind(given["wind_from_deg"], given["wind_kt"])
    (own,) = flown(real_store, given["tas_kt"], winds=(blowing,), **typed(given["course_deg"])).rows
    assert own.triangle.groundspeed_kt == pytest.approx(162.5, abs=0.05)
    tail = -own.triangle.headwind_kt
    assert tail == pytest.approx(row["expected"]["tailwind_kt"], abs=row["tolerance"]["gs_kt"])


@pytest.mark.parametrize(
    ("code", "distance_nm", "speed_kt", "minutes"),
    [
        ("phak-tsd-3", 210.0, 140.0, 90),
        ("phak-tsd-4", 210.0, 120.0, 105),
        ("phak-tsd-5", 270.0, 90.0, 180),
    ],
)
def test_time_speed_and_distance(
    real_store: Store, code: str, distance_nm: float, speed_kt: float, minutes: int
) -> None:
    """FAA-H-8083-25: each of the three found from the other two."""
    row = TIME[code]
    told = {**row["inputs"], **row["expected"]}
    assert distance_nm == told["distance_nm"]
    assert speed_kt == told["gs_kt"]
    hours, rest = divmod(minutes, 60)
    assert told.get("hours", minutes / 60) == minutes / 60
    assert told.get("time", f"{hours}:{rest:02d}") == f"{hours}:{rest:02d}"
    sector = flown(real_store, speed_kt, winds=(wind(0.0, 0.0),), **typed(10.0, distance_nm))
    own = on_paper(sector)
    assert printed(own, "ete_min") == f"{hours}:{rest:02d}"
    assert printed(own, "distance_nm") == f"{distance_nm:.1f}"
    assert sector.landing - sector.take_off == dt.timedelta(minutes=minutes)


def test_fuel_of_the_pilots_handbook(real_store: Store) -> None:
    """400 NM at 100 kt and 5 gallons an hour: 4 hours, 20 gallons (from memory)."""
    given, expected = TIME["phak-fuel-1"]["inputs"], TIME["phak-fuel-1"]["expected"]
    sector = flown(
        real_store,
        given["gs_kt"],
        given["gph"],
        winds=(wind(0.0, 0.0),),
        **typed(10.0, given["distance_nm"]),
    )
    assert sector.ete_min / 60.0 == pytest.approx(expected["hours"])
    assert sector.fuel.used == pytest.approx(expected["gallons"])


def test_fuel_of_the_booklet(real_store: Store) -> None:
    """3.5 hours at 95 gallons an hour, read off a slide rule: 330 gallons."""
    row = TIME["si-fuel-ex6"]
    given = row["inputs"]
    sector = flown(
        real_store,
        100.0,
        given["gph"],
        winds=(wind(0.0, 0.0),),
        **typed(10.0, 100.0 * given["hours"]),
    )
    close = row["tolerance"]["abs"]
    assert sector.fuel.used == pytest.approx(row["expected"]["gallons"], abs=close)


@pytest.mark.parametrize("thousands", range(2, 18))
def test_the_standard_atmosphere_is_taken_where_none_is_given(
    real_store: Store, thousands: int
) -> None:
    """US Standard Atmosphere 1976, as reprinted: temperature by altitude."""
    row = AIR[f"isa-{1000 * thousands}"]
    sector = flown(real_store, cruise_altitudes_ft=(1000.0 * thousands,), winds=())
    air = sector.rows[0].flown[0].air
    assert air.pressure_altitude_ft == row["inputs"]["pressure_altitude_ft"]
    fahrenheit = air.temperature_c * 1.8 + 32.0
    assert fahrenheit == pytest.approx(row["expected"]["T_F"], abs=row["tolerance"]["T_F"])


@pytest.mark.parametrize("inhg", [28.92, 29.42, 29.92, 30.42])
def test_pressure_altitude_follows_the_altimeter_setting(real_store: Store, inhg: float) -> None:
    """Aviation Formulary: 145,442.2 × (1 − (A / 29.92126)^0.190261) ft are added."""
    assert "145442.2" in AIR["pressure-altitude"]["expected"]["exact"]
    weather = (Weather("KRST", altimeter_hpa=hpa_from_inhg(inhg)),)
    sector = flown(real_store, cruise_altitudes_ft=(5500.0,), weather=weather)
    added = sector.rows[0].flown[0].air.pressure_altitude_ft - 5500.0
    formula = 145_442.2 * (1.0 - (inhg / 29.92126) ** 0.190261)
    assert added == pytest.approx(formula, abs=0.1)


@pytest.mark.parametrize("altitude_ft", [2500.0, 5500.0, 9500.0])
def test_true_airspeed_from_calibrated(real_store: Store, altitude_ft: float) -> None:
    """Aviation Formulary, for low speeds: TAS = CAS / (1 − 6.8755856e−6 × DA)^2.127940."""
    formula = AIR["tas-low-speed"]["expected"]["formula"]
    assert formula == "TAS = CAS/(1-6.8755856e-6*DA)^2.127940"
    plane = all_cruise(cruise=Cruise(Airspeed(100.0, "calibrated"), 8.5))
    sector = flown(real_store, aircraft=plane, winds=(), cruise_altitudes_ft=(altitude_ft,))
    expected = 100.0 / (1.0 - 6.8755856e-6 * altitude_ft) ** 2.127940
    # Compressibility, which the formula leaves out, is below half a knot at 100 kt.
    assert sector.rows[0].triangle.true_airspeed_kt == pytest.approx(expected, abs=0.5)


GROUPS = [row for row in ALOFT.values() if "group" in row["inputs"]]


@pytest.mark.parametrize("row", GROUPS, ids=lambda row: row["inputs"]["group"])
def test_single_groups_of_a_forecast(real_store: Store, row: dict[str, Any]) -> None:
    """CNATRA P-304 and AC 00-45: each group flown through, at its own level."""
    level_ft, group = row["inputs"]["level_ft"], row["inputs"]["group"]
    text = f"VALID 041800Z   FOR USE 1400-2100Z. TEMPS NEG ABV 24000\nFT  {level_ft}\nMSP {group}"
    sector = flown(
        real_store,
        450.0,
        winds=(),
        winds_aloft=WindsAloft(text, ("MSP",)),
        cruise_altitudes_ft=(float(level_ft),),
    )
    air, expected = sector.rows[0].flown[0].air, row["expected"]
    if expected.get("light_and_variable"):
        assert air.wind.speed_kt == 0.0
        assert any("light and variable" in note for note in air.rests_on)
    else:
        assert air.wind.from_true_deg == pytest.approx(expected["dir"])
        assert air.wind.speed_kt == pytest.approx(expected["kt"])
    if "temp" in expected:
        assert air.temperature_c == pytest.approx(expected["temp"])
    assert any("199 kt or more" in note for note in air.rests_on) == ("at_least" in expected)


@pytest.mark.parametrize(
    ("altitude_ft", "direction", "speed_kt", "celsius"),
    [(3000.0, 300.0, 8.0, None), (6000.0, 320.0, 22.0, 4.0), (9000.0, 330.0, 25.0, 1.0)],
)
def test_a_forecast_as_it_was_sent(
    real_store: Store,
    altitude_ft: float,
    direction: float,
    speed_kt: float,
    celsius: float | None,
) -> None:
    """FBUS31 KWNO 180158, Des Moines: 3008 3222+04 3325+01."""
    assert "DSM 3008 3222+04 3325+01" in BULLETIN
    sector = flown(
        real_store,
        route="KDSM KAMW",
        winds=(),
        winds_aloft=WindsAloft(BULLETIN, ("DSM",)),
        departure=dt.datetime(2026, 6, 18, 5, tzinfo=dt.UTC),
        cruise_altitudes_ft=(altitude_ft,),
    )
    air = sector.rows[0].flown[0].air
    assert air.wind.from_true_deg == pytest.approx(direction)
    assert air.wind.speed_kt == pytest.approx(speed_kt)
    if celsius is not None:
        assert air.temperature_c == pytest.approx(celsius)


def codes(store: Store, altitude_ft: float, **changes: Any) -> dict[str, str]:
    made = plan(
        route="KRST KLSE", aircraft=all_cruise(), cruise_altitudes_ft=(altitude_ft,), **changes
    )
    return {one.code: one.text for one in navigation_log(made, store).cautions}


COURSES = [row for row in RULES.values() if "altitudes_ft_msl_such_as" in row["expected"]]


@pytest.mark.parametrize("row", COURSES, ids=lambda row: row["id"])
def test_visual_cruising_altitudes(real_store: Store, row: dict[str, Any]) -> None:
    """14 CFR 91.159: what it names fits, a thousand feet off does not."""
    leg = typed(row["inputs"]["magnetic_course_deg"], 50.0, variation_deg_east=0.0)
    for altitude_ft in row["expected"]["altitudes_ft_msl_such_as"]:
        assert "cruising-altitude" not in codes(real_store, float(altitude_ft), **leg)
        off = codes(real_store, altitude_ft + 1000.0, **leg)["cruising-altitude"]
        assert "if more than 3,000 ft above the surface" in off


def test_course_not_heading_and_magnetic_not_true_decide(real_store: Store) -> None:
    """True course 350, variation 13°W: magnetic course 003, so odd; 6,500 ft is wrong."""
    row = RULES["vfr-alt-magnetic-not-true"]
    given, expected = row["inputs"], row["expected"]
    leg = typed(given["true_course_deg"], 50.0, variation_deg_east=given["variation_deg"])
    for altitude_ft in expected["altitudes_ft"]:
        assert "cruising-altitude" not in codes(real_store, float(altitude_ft), **leg)
    text = codes(real_store, float(expected["not_altitude"]), **leg)["cruising-altitude"]
    assert f"{expected['magnetic_course_deg']:03d}°M" in text


def test_low_above_the_ground_the_rule_asks_nothing(real_store: Store) -> None:
    row = RULES["vfr-alt-below-3000agl"]
    assert row["expected"]["rule_applies"] is False
    course, height_ft = row["inputs"]["magnetic_course_deg"], row["inputs"]["height_agl_ft"]
    assert rule_applies("US", 1500.0 + height_ft, 1500.0) is False
    assert rule_applies("US", 1500.0 + height_ft + 1000.0, 1500.0) is True
    # The log knows no lower surface than sea level: nothing lower is typed.
    leg = typed(course, 50.0, variation_deg_east=0.0)
    assert "cruising-altitude" not in codes(real_store, height_ft, **leg)
    assert "cruising-altitude" in codes(real_store, height_ft + 1000.0, **leg)


@pytest.mark.parametrize("rules", ["US", "ICAO"])
def test_both_rules_agree_where_both_are_written(real_store: Store, rules: str) -> None:
    """ICAO Annex 2, Appendix 3: levels 035, 055… on 000 to 179, 045, 065… on 180 to 359."""
    table = RULES["icao-annex2-app3"]["expected"]
    for course, side in ((100.0, "t000_179"), (280.0, "t180_359")):
        leg = typed(course, 50.0, variation_deg_east=0.0)
        for level in table[side]["vfr"]:
            found = codes(real_store, 100.0 * level, visual_rules=rules, **leg)
            assert "cruising-altitude" not in found


@pytest.mark.parametrize(
    ("category", "hours", "key"),
    [
        ("airplane", 0.0, "airplane_day_min"),
        ("airplane", 14.0, "airplane_night_min"),
        ("rotorcraft", 0.0, "rotorcraft_min"),
        ("rotorcraft", 14.0, "rotorcraft_min"),
    ],
)
def test_the_reserve_of_the_rule(real_store: Store, category: str, hours: float, key: str) -> None:
    """14 CFR 91.151: 30 min by day, 45 by night, 20 in a rotorcraft; at 09:00 and at 23:00."""
    sector = flown(
        real_store, departure=TAKE_OFF + dt.timedelta(hours=hours), aircraft_category=category
    )
    assert sector.reserve.minutes == TIME["cfr-91.151"]["expected"][key]


NOAA = [row for row in MAGNETISM.values() if row["id"].startswith("wmm2025-noaa-calc")]


@pytest.mark.parametrize("row", NOAA, ids=lambda row: row["id"])
def test_variation_of_noaas_calculator(real_store: Store, row: dict[str, Any]) -> None:
    """A leg laid evenly about the place, on the day, low enough to be at sea level."""
    given = row["inputs"]
    ends = (f"{given['lat']},{given['lon'] + off:.4f}" for off in (-0.05, 0.05))
    sector = flown(
        real_store,
        route=" ".join(ends),
        departure=dt.datetime.fromisoformat(given["date"]).replace(tzinfo=dt.UTC),
        cruise_altitudes_ft=(100.0,),
    )
    # 100 ft up and a bow of a few feet in the leg change it by less than a thousandth more.
    close = row["tolerance"]["D_deg"] + 0.001
    east = sector.rows[0].course.variation_deg_east
    assert east == pytest.approx(row["expected"]["D_deg"], abs=close)


with (PUBLISHED / Path("usno_sun.csv")).open(encoding="utf-8", newline="") as _file:
    SUN = [row for row in csv.DictReader(_file) if row["date"][5:7] in ("01", "04", "06", "10")]
ALMANAC_MIN = 1.0
"""The tables print whole minutes; half of one is their rounding, the rest is ours."""


def sun_there(store: Store, row: dict[str, str], hours: str, sooner_min: float) -> SunDay:
    """The solar day of a short flight that lands at the place about a time of the table [UTC]:
    after a sunrise, before a sunset, as these may come close to a solar midnight.
    """
    latitude, longitude = float(row["latitude_deg"]), float(row["longitude_deg"])
    moment = dt.datetime.fromisoformat(f"{row['date']}T{hours}+00:00")
    made = plan(
        route=f"{latitude},{longitude - 0.1:.6f} {latitude},{longitude}",
        aircraft=all_cruise(),
        departure=moment - dt.timedelta(minutes=sooner_min),
    )
    return navigation_log(made, store, allow_old_model=True).sectors[0].end_sun.day


@pytest.mark.parametrize("row", SUN, ids=lambda row: f"{row['place']} {row['event']} {row['date']}")
def test_the_sun_where_a_flight_lands(real_store: Store, row: dict[str, str]) -> None:
    """US Naval Observatory: sunrise, sunset and civil twilight, polar day and night."""
    is_sun = row["event"] == "sun"
    rise_at, set_at = row["rise_utc"] or "12:00", row["set_utc"] or "12:00"
    morning = sun_there(real_store, row, rise_at, 0.0)
    evening = sun_there(real_store, row, set_at, 30.0)
    word = evening.sun if is_sun else evening.twilight
    expected = {"NORMAL": "changes", "ALL_DAY": "above all day", "ALL_NIGHT": "below all day"}
    assert word == expected[row["kind"]]
    rise = morning.sunrise if is_sun else morning.civil_twilight_begin
    fall = evening.sunset if is_sun else evening.civil_twilight_end
    for instant, told in ((rise, row["rise_utc"]), (fall, row["set_utc"])):
        if told:
            assert instant is not None
            off = instant - dt.datetime.fromisoformat(f"{row['date']}T{told}+00:00")
            assert abs(off) <= dt.timedelta(minutes=ALMANAC_MIN)
