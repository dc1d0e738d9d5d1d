"""Wind and temperature between levels, beyond them, and between stations."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.earth.angles import half_turn
from plotter.earth.atmosphere import standard_temperature_c
from plotter.errors import InputError
from plotter.flight.air.levels import Air, AirNote, WindLevel, air_at, blend, mean_wind, weights
from plotter.flight.wind import CALM, Wind, components_kt

LEVELS = (
    WindLevel(3000.0, Wind(180.0, 10.0)),
    WindLevel(6000.0, Wind(200.0, 20.0), 8.0),
    WindLevel(9000.0, Wind(260.0, 30.0), 2.0, "a word on it"),
)
WEST, EAST = AirNote("level", "west"), AirNote("level", "east")
WINDS = st.builds(
    Wind, st.floats(min_value=0.0, max_value=360.0), st.floats(min_value=0.0, max_value=150.0)
)


def level_at(altitude_ft: float, wind: Wind) -> WindLevel:
    return WindLevel(altitude_ft, wind, 5.0)


@pytest.mark.parametrize("level", LEVELS)
def test_at_a_level_it_is_that_level(level: WindLevel) -> None:
    air = air_at(LEVELS, level.altitude_ft)
    assert air.wind == level.wind
    assert air.wind_beyond == ""
    assert level.temperature_c in (air.temperature_c, None)


def test_half_way_by_hand() -> None:
    """(10 from 180 + 20 from 200) / 2: from the north −14.397, from the east −3.420 kt."""
    air = air_at(LEVELS, 4500.0)
    assert components_kt(air.wind) == pytest.approx((-14.397, -3.420), abs=0.001)
    assert air.wind.speed_kt == pytest.approx(14.798, abs=0.001)
    assert air.wind.from_true_deg == pytest.approx(193.363, abs=0.001)


def test_temperature_in_proportion() -> None:
    assert air_at(LEVELS, 7000.0).temperature_c == pytest.approx(6.0)
    assert air_at(LEVELS, 7000.0).temperature_beyond == ""


def test_round_through_north() -> None:
    levels = (level_at(3000.0, Wind(350.0, 20.0)), level_at(6000.0, Wind(10.0, 20.0)))
    wind = air_at(levels, 4500.0).wind
    assert half_turn(wind.from_true_deg) == pytest.approx(0.0, abs=1e-9)
    assert wind.speed_kt == pytest.approx(20.0 * math.cos(math.radians(10.0)))


def test_opposite_winds_cancel_to_calm() -> None:
    levels = (level_at(3000.0, Wind(90.0, 20.0)), level_at(6000.0, Wind(270.0, 20.0)))
    assert air_at(levels, 4500.0).wind == CALM


def words(air: Air) -> tuple[str, ...]:
    return tuple(note.words for note in air.notes)


def test_below_the_lowest_is_said() -> None:
    air = air_at(LEVELS, 1500.0)
    assert air.wind == LEVELS[0].wind
    assert (air.wind_beyond, air.temperature_beyond) == ("below", "below")
    assert words(air) == (
        "wind below 3,000 ft as at that level",
        "temperature below 6,000 ft by the standard lapse rate",
    )
    by_lapse = 8.0 + standard_temperature_c(1500.0) - standard_temperature_c(6000.0)
    assert air.temperature_c == pytest.approx(by_lapse)
    assert by_lapse == pytest.approx(16.9, abs=0.05)


def test_above_the_highest_is_said() -> None:
    air = air_at(LEVELS, 11_000.0)
    assert air.wind == LEVELS[-1].wind
    assert (air.wind_beyond, air.temperature_beyond) == ("above", "above")
    assert words(air)[0] == "a word on it"
    assert words(air)[1:] == (
        "wind above 9,000 ft as at that level",
        "temperature above 9,000 ft by the standard lapse rate",
    )


def test_a_note_is_given_only_with_its_level() -> None:
    assert air_at(LEVELS, 6000.0).notes == ()
    assert words(air_at(LEVELS, 6001.0)) == ("a word on it",)


def test_no_temperature_known_is_none() -> None:
    air = air_at(LEVELS[:1], 5000.0)
    assert air.temperature_c is None
    assert air.temperature_beyond == ""


def test_the_order_of_levels_does_not_matter() -> None:
    assert air_at(LEVELS[::-1], 5000.0) == air_at(LEVELS, 5000.0)


@given(WINDS, WINDS, st.floats(min_value=3000.0, max_value=6000.0))
def test_between_two_levels_no_wind_is_stronger_than_both(
    low: Wind, high: Wind, altitude: float
) -> None:
    wind = air_at((level_at(3000.0, low), level_at(6000.0, high)), altitude).wind
    assert wind.speed_kt <= max(low.speed_kt, high.speed_kt) + 1e-9


@given(WINDS, WINDS)
def test_nothing_jumps_at_a_level(low: Wind, high: Wind) -> None:
    levels = (level_at(3000.0, low), level_at(6000.0, high))
    for altitude in (3000.0, 6000.0):
        for beside in (altitude - 1e-6, altitude + 1e-6):
            here, there = (components_kt(air_at(levels, ft).wind) for ft in (altitude, beside))
            assert there == pytest.approx(here, abs=1e-6)


def test_no_level_is_refused() -> None:
    with pytest.raises(InputError, match="no wind given; enter one, or calm as 0 kt") as caught:
        air_at((), 3000.0)
    assert caught.value.code == "wind-levels"


def test_two_winds_at_one_altitude_are_refused() -> None:
    with pytest.raises(InputError, match="two winds at 3,000 ft; keep one of them"):
        air_at((level_at(3000.0, CALM), level_at(3000.0, Wind(10.0, 5.0))), 3000.0)


@pytest.mark.parametrize("temperature", [-101.0, 61.0, math.nan])
def test_a_temperature_that_cannot_be_is_refused(temperature: float) -> None:
    with pytest.raises(InputError, match="enter the air temperature in degrees Celsius"):
        WindLevel(3000.0, CALM, temperature)


@pytest.mark.parametrize("altitude", [-20_000.0, 100_000.0, math.nan])
def test_an_altitude_that_cannot_be_is_refused(altitude: float) -> None:
    with pytest.raises(InputError) as caught:
        WindLevel(altitude, CALM)
    assert caught.value.code == "altitude"


def test_weights_are_the_inverse_of_distance() -> None:
    assert weights([20.0, 60.0]) == pytest.approx([0.75, 0.25])
    assert weights([50.0]) == [1.0]
    assert weights([0.05, 80.0]) == [1.0, 0.0]


@given(st.lists(st.floats(min_value=0.0, max_value=500.0), min_size=1, max_size=5))
def test_weights_make_one_and_nearer_counts_more(distances: list[float]) -> None:
    counted = weights(distances)
    assert math.fsum(counted) == pytest.approx(1.0)
    for one, weight in zip(distances, counted, strict=True):
        for other, other_weight in zip(distances, counted, strict=True):
            assert weight >= other_weight - 1e-12 or one > other or one < 0.1


def test_between_stations() -> None:
    west = Air(6000.0, Wind(270.0, 10.0), 4.0, notes=(WEST,))
    east = Air(6000.0, Wind(180.0, 30.0), None, "below", "", (EAST,))
    air = blend([(west, 10.0), (east, 30.0)])
    assert components_kt(air.wind) == pytest.approx((-7.5, -7.5))
    assert air.temperature_c == 4.0
    assert air.wind_beyond == "below"
    assert air.notes == (WEST, EAST)


def test_over_a_station_only_that_station_counts() -> None:
    here = Air(6000.0, Wind(270.0, 10.0), None, notes=(WEST,))
    there = Air(6000.0, Wind(180.0, 30.0), 3.0, "below", "", (EAST,))
    air = blend([(there, 40.0), (here, 0.0)])
    assert (air.wind.speed_kt, air.wind_beyond, air.notes) == (10.0, "", (WEST,))
    assert air.temperature_c == 3.0


def test_without_a_station_is_refused() -> None:
    with pytest.raises(InputError, match="no station to take the winds aloft from; name one"):
        blend([])


def test_no_station_with_a_temperature_gives_none() -> None:
    assert blend([(Air(3000.0, CALM, None), 5.0)]).temperature_c is None


def test_mean_of_weighted_winds() -> None:
    mean = mean_wind([(Wind(90.0, 10.0), 0.5), (Wind(90.0, 20.0), 0.5)])
    assert mean.speed_kt == pytest.approx(15.0)
    assert mean.from_true_deg == pytest.approx(90.0)
