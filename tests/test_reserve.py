"""The fuel reserve: read twice, the larger taken, the reading said."""

from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published_rows import published

from plotter.earth.position import Position
from plotter.earth.sun import CIVIL_TWILIGHT_DEG, is_night, next_crossing
from plotter.errors import InputError
from plotter.flight.reserve import AircraftCategory, reserve, reserve_at

RULE = published("time_fuel")["cfr-91.151"]["expected"]
OMAHA = Position(41.3, -95.9)
MINUTE = dt.timedelta(minutes=1)


def dusk() -> dt.datetime:
    after = dt.datetime(2026, 6, 22, 0, tzinfo=dt.UTC)
    found = next_crossing(OMAHA, after, CIVIL_TWILIGHT_DEG, rising=False)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("at_eta", "later", "category", "key", "words"),
    [
        (False, False, "airplane", "airplane_day_min", "day at the ETA and 45 min after it"),
        (False, True, "airplane", "airplane_night_min", "night 45 min after the ETA, though day"),
        (
            True,
            False,
            "airplane",
            "airplane_night_min",
            "night at the ETA, though day 45 min after",
        ),
        (True, True, "airplane", "airplane_night_min", "night at the ETA and 45 min after it"),
        (False, False, "rotorcraft", "rotorcraft_min", "rotorcraft, by day and by night"),
        (True, True, "rotorcraft", "rotorcraft_min", "rotorcraft, by day and by night"),
    ],
)
def test_the_rule(
    at_eta: bool, later: bool, category: AircraftCategory, key: str, words: str
) -> None:
    held = reserve(at_eta, later, category)
    assert held.rule_min == held.minutes == RULE[key]
    assert held.reading.startswith(words)
    assert held.reading.endswith(f"{RULE[key]} min")
    assert (held.night_at_eta, held.night_later) == (at_eta, later)
    assert held.source == f"14 CFR 91.151({'b' if category == 'rotorcraft' else 'a'})"


@pytest.mark.parametrize(
    ("minutes_before_dusk", "rule_min"), [(46, 30.0), (44, 45.0), (1, 45.0), (-1, 45.0)]
)
def test_at_a_place_and_time(minutes_before_dusk: int, rule_min: float) -> None:
    assert reserve_at(OMAHA, dusk() - minutes_before_dusk * MINUTE).minutes == rule_min


def test_before_dawn_it_is_still_night_at_the_eta() -> None:
    dawn = next_crossing(OMAHA, dusk(), CIVIL_TWILIGHT_DEG, rising=True)
    assert dawn is not None
    held = reserve_at(OMAHA, dawn - MINUTE)
    assert (held.minutes, held.night_at_eta, held.night_later) == (45.0, True, False)
    assert reserve_at(OMAHA, dawn + MINUTE).minutes == 30.0


def test_whose_rule_it_is_stands_as_it_is_given() -> None:
    held = reserve(True, True, source="ICAO Annex 6, Part II, 2.2.3.6")
    assert (held.minutes, held.source) == (45.0, "ICAO Annex 6, Part II, 2.2.3.6")


def test_the_pilots_own_reserve_if_it_is_more() -> None:
    held = reserve(False, False, own_min=60.0)
    assert (held.rule_min, held.minutes) == (30.0, 60.0)
    assert held.reading == (
        "day at the ETA and 45 min after it: 30 min; "
        "the pilot's own reserve of 60 min is more and is used"
    )


@pytest.mark.parametrize("own", [None, 0.0, 10.0, 30.0])
def test_the_pilots_own_is_never_below_the_rule(own: float | None) -> None:
    held = reserve(False, False, own_min=own)
    assert held.minutes == 30.0
    assert "own" not in held.reading


def test_the_fuel_it_takes() -> None:
    assert reserve(True, True).fuel(8.0) == 6.0


@given(st.floats(min_value=0.0, max_value=240.0), st.booleans(), st.booleans())
def test_later_fuel_never_less(own: float, at_eta: bool, later: bool) -> None:
    held = reserve(at_eta, later, own_min=own)
    assert held.minutes >= max(own, held.rule_min)
    assert held.rule_min >= reserve(at_eta, at_eta).rule_min


@given(st.datetimes(dt.datetime(2025, 1, 1), dt.datetime(2030, 1, 1)))
def test_at_a_place_is_the_rule_with_the_sun_of_that_place(when: dt.datetime) -> None:
    eta = when.replace(tzinfo=dt.UTC)
    night, later = is_night(OMAHA, eta), is_night(OMAHA, eta + 45 * MINUTE)
    assert reserve_at(OMAHA, eta) == reserve(night, later)


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(InputError, match="reserve_min is -1; enter 0 or more") as caught:
        reserve(False, False, own_min=-1.0)
    assert caught.value.code == "reserve_min"
    with pytest.raises(
        InputError, match="aircraft_category is 'glider'; enter airplane or rotorcraft"
    ) as caught:
        reserve(False, False, "glider")  # type: ignore[arg-type]
    assert caught.value.candidates == ("airplane", "rotorcraft")
    with pytest.raises(InputError, match="has no offset from UTC"):
        reserve_at(OMAHA, dt.datetime(2026, 6, 22, 2))
