"""A whole forecast of winds and temperatures aloft: read, dated, refused when it is not the one."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.errors import InputError
from plotter.flight.air.forecast import Bulletin, check_in_use, read_winds_aloft, use_period
from plotter.flight.wind import Wind

TEXT = (Path(__file__).parent / "published" / "winds_aloft_bulletin.txt").read_text(
    encoding="utf-8"
)
HOUR = dt.timedelta(hours=1)


def at(text: str) -> dt.datetime:
    return dt.datetime.fromisoformat(text).replace(tzinfo=dt.UTC)


def bulletin_of(day: int, valid: float, start: float, end: float) -> Bulletin:
    return Bulletin(day, valid * HOUR, start * HOUR, end * HOUR, ())


def test_every_station_of_a_real_bulletin() -> None:
    bulletin = read_winds_aloft(TEXT)
    names = [one.station for one in bulletin.stations]
    assert names == ["BRL", "DSM", "FWA", "GCK", "GLD", "ICT", "ECK", "MKC", "GRI", "OMA", "RAP"]
    assert (bulletin.valid_day, bulletin.valid_time) == (18, 6 * HOUR)
    assert (bulletin.use_start, bulletin.use_end) == (2 * HOUR, 9 * HOUR)


@pytest.mark.parametrize(
    ("station", "altitude", "wind", "temperature"),
    # Read off the bulletin by eye.
    [
        ("BRL", 3000.0, Wind(350.0, 13.0), None),
        ("BRL", 24_000.0, Wind(280.0, 37.0), -25.0),
        ("BRL", 39_000.0, Wind(270.0, 104.0), -55.0),
        ("FWA", 6000.0, Wind(330.0, 22.0), -4.0),
        ("ECK", 24_000.0, Wind(320.0, 102.0), -29.0),
        ("ECK", 30_000.0, Wind(300.0, 119.0), -44.0),
        ("GLD", 6000.0, Wind(190.0, 23.0), None),
        ("GLD", 9000.0, Wind(200.0, 22.0), 3.0),
        ("ICT", 9000.0, Wind(0.0, 0.0), 5.0),
        ("MKC", 6000.0, Wind(10.0, 17.0), 5.0),
    ],
)
def test_single_figures_of_it(
    station: str, altitude: float, wind: Wind, temperature: float | None
) -> None:
    levels = read_winds_aloft(TEXT, [station]).station(station).levels
    (level,) = [level for level in levels if level.altitude_ft == altitude]
    assert (level.wind, level.temperature_c) == (wind, temperature)


def test_nothing_is_read_below_the_lowest_group() -> None:
    levels = read_winds_aloft(TEXT).station("GCK").levels
    assert levels[0].altitude_ft == 6000.0
    assert len(levels) == 8


def test_light_and_variable_is_noted() -> None:
    levels = read_winds_aloft(TEXT).station("MKC").levels
    assert levels[0].note == "MKC 3,000 ft is light and variable, taken as calm"
    assert not any(level.note for level in levels[1:])


def test_the_top_of_the_code_is_noted() -> None:
    text = TEXT.replace("770455", "779955")
    level = read_winds_aloft(text).station("BRL").levels[-1]
    assert level.note == "BRL 39,000 ft is 199 kt or more, taken as 199 kt"


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
@pytest.mark.parametrize("indent", ["", "    "])
def test_indents_and_line_ends_do_not_matter(newline: str, indent: str) -> None:
    text = newline.join(indent + line for line in TEXT.splitlines())
    assert read_winds_aloft(text) == read_winds_aloft(TEXT)


def test_lower_case_and_squeezed_spaces_do_not_matter() -> None:
    text = "\n".join(" ".join(line.split()) for line in TEXT.lower().splitlines())
    assert read_winds_aloft(text) == read_winds_aloft(TEXT)


def test_the_heading_may_stand_on_one_line() -> None:
    """As an encyclopedia prints its example (Wikipedia, "Winds aloft")."""
    text = """
 FBUS31 KWNO 190440
 DATA BASED ON 190000Z DATA VALID 190600Z FOR USE 0600-1200Z.
 TEMPS NEG ABV 24000
 FT 3000 6000 9000 12000 18000 24000 30000 34000 39000
 ABR 1027 1326+01 1428-03 1431-09 1639-21 1749-34 175849 175957 174758
 ABI 2849+04 2857-02 2760-07 2670-20 2682-32 760344 760648 259451
"""
    bulletin = read_winds_aloft(text)
    assert bulletin.station("ABI").levels[0].altitude_ft == 6000.0
    assert bulletin.station("ABI").levels[5].wind == Wind(260.0, 103.0)
    assert bulletin.station("abr").levels[0].wind == Wind(100.0, 27.0)


def test_lines_of_other_stations_are_not_read() -> None:
    text = TEXT.replace("DSM 3008", "DSM 30")
    assert read_winds_aloft(text, ["oma"]).stations[0].station == "OMA"
    with pytest.raises(InputError, match="30 is not a whole group"):
        read_winds_aloft(text, ["DSM"])


def test_a_second_part_under_the_same_heading() -> None:
    more = TEXT + "\nFBUS33 KWNO 180158\n000\nFD1US3\n" + "\n".join(TEXT.splitlines()[2:6])
    more += "\nALS                      2720+01 2731-12 2742-25 275040 275549 265555\n"
    bulletin = read_winds_aloft(more)
    assert bulletin.station("ALS").levels[0].altitude_ft == 12_000.0
    assert len(bulletin.stations) == 12


def test_another_station_is_refused_with_those_there_are() -> None:
    with pytest.raises(
        InputError, match=r"BRL, DSM, FWA, GCK, GLD, ICT, ECK, MKC, GRI, OMA, RAP\)"
    ) as caught:
        read_winds_aloft(TEXT, ["kden"])
    assert "OMA" in caught.value.candidates
    with pytest.raises(InputError, match=r"station GLD is not in the winds aloft \(in it"):
        read_winds_aloft(TEXT, ["OMA"]).station("GLD")


def fault_of(text: str, *stations: str) -> InputError:
    with pytest.raises(InputError) as caught:
        read_winds_aloft(text, stations)
    return caught.value


def pointed_at(fault: InputError) -> str:
    assert fault.where is not None
    return fault.where.text[fault.where.start : fault.where.end]


@pytest.mark.parametrize("text", ["", "\n", "OMA 2219", TEXT.replace("VALID", "VALD")])
def test_without_its_heading_is_refused(text: str) -> None:
    fault = fault_of(text)
    assert "the winds aloft have no heading with their period of use" in fault.message
    assert "VALID 180600Z" in fault.message


@pytest.mark.parametrize(
    "heading",
    [
        "320600Z   FOR USE 0200-0900Z",
        "000600Z   FOR USE 0200-0900Z",
        "182560Z   FOR USE 0200-0900Z",
        "180600Z   FOR USE 0200-2500Z",
    ],
)
def test_a_day_or_time_that_cannot_be_is_refused(heading: str) -> None:
    fault = fault_of(TEXT.replace("180600Z   FOR USE 0200-0900Z", heading))
    assert "a day or time that cannot be" in fault.message
    assert pointed_at(fault) == f"VALID {heading}"
    assert fault.where is not None
    assert fault.where.line == 4


def test_two_forecasts_pasted_into_one_are_refused() -> None:
    later = TEXT.replace("180600Z   FOR USE 0200-0900Z", "181200Z   FOR USE 0900-1800Z")
    fault = fault_of(TEXT + later)
    assert "two forecasts are pasted into one" in fault.message
    assert pointed_at(fault) == "VALID 181200Z   FOR USE 0900-1800Z"


def test_a_station_twice_is_refused() -> None:
    fault = fault_of(TEXT + TEXT.splitlines()[-1])
    assert fault.message == "RAP has two lines in the bulletin; keep one"


def test_without_the_altitudes_is_refused() -> None:
    fault = fault_of("\n".join(line for line in TEXT.splitlines() if not line.startswith("FT")))
    assert "the line that starts with FT" in fault.message


def test_a_name_alone_is_refused() -> None:
    fault = fault_of(TEXT + "LNK\n", "LNK")
    assert fault.message == "LNK has no groups; paste its whole line"


@pytest.mark.parametrize("cut", range(1, 66))
def test_a_line_cut_off_anywhere_is_never_read_wrong(cut: str) -> None:
    """With the last characters of OMA's line gone, it is refused or read as it was."""
    lines = TEXT.splitlines()
    number = next(k for k, line in enumerate(lines) if line.startswith("OMA"))
    lines[number] = lines[number][: -int(cut)]
    fault = fault_of("\n".join(lines), "OMA")
    assert fault.where is not None
    assert fault.where.line == number + 1
    assert fault.code == "winds-aloft"


def test_a_group_that_cannot_be_is_pointed_at() -> None:
    fault = fault_of(TEXT.replace("3417+02", "4517+02"), "OMA")
    assert pointed_at(fault) == "4517+02"
    assert fault.where is not None
    assert fault.where.line == 16


def test_for_use_within_a_day() -> None:
    period = use_period(read_winds_aloft(TEXT), at("2026-06-18T05:00"))
    assert period.valid == at("2026-06-18T06:00")
    assert (period.start, period.end) == (at("2026-06-18T02:00"), at("2026-06-18T09:00"))


@pytest.mark.parametrize(
    ("bulletin", "flight", "start", "end"),
    # Headings as they are sent: VALID 040000Z FOR USE 2000-0300Z; VALID 081800Z FOR USE 1200-0000Z;
    # VALID 090000Z FOR USE 1800-0600Z; and the turns of a month and of a year.
    [
        (bulletin_of(4, 0, 20, 3), "2026-06-03T22:00", "2026-06-03T20:00", "2026-06-04T03:00"),
        (bulletin_of(8, 18, 12, 0), "2026-06-08T23:00", "2026-06-08T12:00", "2026-06-09T00:00"),
        (bulletin_of(9, 0, 18, 6), "2026-06-09T01:00", "2026-06-08T18:00", "2026-06-09T06:00"),
        (bulletin_of(1, 0, 20, 3), "2026-02-28T21:00", "2026-02-28T20:00", "2026-03-01T03:00"),
        (bulletin_of(31, 18, 14, 24), "2027-01-01T00:00", "2026-12-31T14:00", "2027-01-01T00:00"),
        (bulletin_of(31, 12, 6, 18), "2026-04-01T00:00", "2026-03-31T06:00", "2026-03-31T18:00"),
        (bulletin_of(29, 12, 6, 18), "2026-03-01T12:00", "2026-03-29T06:00", "2026-03-29T18:00"),
    ],
)
def test_for_use_over_midnight_and_month(
    bulletin: Bulletin, flight: str, start: str, end: str
) -> None:
    period = use_period(bulletin, at(flight))
    assert (period.start, period.end) == (at(start), at(end))
    assert period.start <= period.valid <= period.end


@pytest.mark.parametrize("flight", ["2026-06-18T02:00", "2026-06-18T06:30", "2026-06-18T09:00"])
def test_a_flight_in_the_period(flight: str) -> None:
    assert check_in_use(read_winds_aloft(TEXT), at(flight)).valid == at("2026-06-18T06:00")


@pytest.mark.parametrize(
    "flight", ["2026-06-18T01:59", "2026-06-18T09:01", "2026-06-25T06:00", "2026-07-03T06:00"]
)
def test_a_flight_outside_the_period_is_refused(flight: str) -> None:
    with pytest.raises(InputError, match="paste the forecast that covers the flight") as caught:
        check_in_use(read_winds_aloft(TEXT), at(flight))
    assert caught.value.code == "winds-aloft-period"


def test_the_zone_of_the_flight_does_not_matter() -> None:
    local = dt.datetime(2026, 6, 18, 3, 30, tzinfo=dt.timezone(dt.timedelta(hours=-5)))
    assert check_in_use(read_winds_aloft(TEXT), local).start == at("2026-06-18T02:00")


def test_valid_outside_for_use_is_refused() -> None:
    with pytest.raises(
        InputError, match="the VALID time of the bulletin is outside its FOR USE period"
    ):
        use_period(bulletin_of(9, 12, 14, 21), at("2026-06-09T15:00"))


def test_a_flight_without_a_zone_is_refused() -> None:
    with pytest.raises(InputError, match="00 has no offset from UTC"):
        check_in_use(read_winds_aloft(TEXT), dt.datetime(2026, 6, 18, 6))


@given(st.datetimes(dt.datetime(2025, 1, 1), dt.datetime(2030, 1, 1)))
def test_any_valid_time_is_found_again_from_a_flight_near_it(valid: dt.datetime) -> None:
    valid = valid.replace(minute=0, second=0, microsecond=0, tzinfo=dt.UTC)
    start, end = valid - 4 * HOUR, valid + 3 * HOUR
    bulletin = bulletin_of(valid.day, valid.hour, start.hour, end.hour)
    for flight in (start, valid, end):
        period = check_in_use(bulletin, flight)
        assert (period.start, period.valid, period.end) == (start, valid, end)
