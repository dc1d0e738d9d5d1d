"""The cautions of wind, forecast and weather: each arises where it must and only there."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest
from cautioned import ALOFT, cautions
from flights import TAKE_OFF, aircraft, all_cruise, plan, wind

from plotter.errors import InputError
from plotter.flight.aircraft import Airspeed, Cruise
from plotter.flight.log import navigation_log
from plotter.flight.plan.values import Weather
from plotter.places.store import Store


@pytest.mark.parametrize(
    ("rank", "code", "changes", "words"),
    [
        (
            "CHECK",
            "strong-wind",
            {"winds": (wind(0.0, 55.2),), "aircraft": all_cruise()},
            "wind of 56 kt is more than half the true airspeed of 110 kt",
        ),
        (
            "CHECK",
            "low-groundspeed",
            {"winds": (wind(85.0, 92.0),), "route": "KRST KLSE", "aircraft": all_cruise()},
            "Leg 1: groundspeed is 18 kt, below 20 kt",
        ),
        ("CHECK", "no-wind", {"winds": ()}, "calm air"),
        ("CHECK", "two-winds", {"winds_aloft": ALOFT}, "the forecast is used"),
        ("CHECK", "wind-beyond", {"cruise_altitudes_ft": (11500.0,)}, "above every altitude"),
        (
            "NOTE",
            "rests-on",
            {"aircraft": aircraft(cruise=Cruise(Airspeed(100.0, "calibrated"), 8.5))},
            "no altimeter setting is given",
        ),
        (
            "CHECK",
            "weather-no-elevation",
            {"route": "KRST 44,-92 KLSE", "weather": (Weather("44,-92", 1003.0, 30.0),)},
            "no pressure or density altitude",
        ),
        (
            "CHECK",
            "winds-aloft-period",
            {"winds_aloft": ALOFT, "winds": (), "departure": TAKE_OFF + dt.timedelta(hours=6)},
            "for use until 21:00Z",
        ),
        (
            "CHECK",
            "winds-aloft-far",
            {"winds_aloft": ALOFT, "winds": (), "route": "KRST KBIL"},
            "Leg 1: the nearest station whose winds are used is up to",
        ),
        (
            "CHECK",
            "winds-aloft-far",
            {"winds_aloft": ALOFT, "winds": (), "route": "KBIL KRST"},
            "Leg 1: the nearest station whose winds are used is up to",
        ),
        (
            "NOTE",
            "rests-on",
            {"winds_aloft": ALOFT, "winds": (), "route": "KBIL KRST"},
            "Assumed: wind of MSP;",
        ),
    ],
)
def test_a_caution_arises(
    real_store: Store, rank: str, code: str, changes: dict[str, Any], words: str
) -> None:
    found = cautions(real_store, **changes)[code]
    assert found.rank == rank
    assert words in found.text


@pytest.mark.parametrize(
    ("code", "changes"),
    [
        ("winds-aloft-period", {"winds_aloft": ALOFT, "winds": ()}),
        ("winds-aloft-far", {"winds_aloft": ALOFT, "winds": ()}),
        ("strong-wind", {"winds": (wind(0.0, 55.0),), "aircraft": all_cruise()}),
        (
            "low-groundspeed",
            {"winds": (wind(85.0, 85.0),), "route": "KRST KLSE", "aircraft": all_cruise()},
        ),
        ("weather-no-elevation", {"weather": (Weather("KRST", 1003.0, 30.0),)}),
    ],
)
def test_a_caution_stays_away(real_store: Store, code: str, changes: dict[str, Any]) -> None:
    assert code not in cautions(real_store, **changes)


def test_a_level_wind_exactly_at_cruise_is_not_beyond(real_store: Store) -> None:
    found = cautions(real_store, winds=(wind(240.0, 10.0, 6500.0),), departure=TAKE_OFF)
    assert "wind-beyond" not in found


def test_the_forecast_is_refused_only_where_it_is_not_in_use_at_take_off(
    real_store: Store,
) -> None:
    """1400–2100Z: its ends count, a minute before or after does not."""
    changes = {"winds_aloft": ALOFT, "winds": ()}
    for hours in (14.0, 21.0):
        noon = dt.datetime(2026, 7, 4, tzinfo=dt.UTC) + dt.timedelta(hours=hours)
        navigation_log(plan(**changes, departure=noon), real_store)
        minute = dt.timedelta(minutes=-1 if hours == 14.0 else 1)
        with pytest.raises(InputError) as caught:
            navigation_log(plan(**changes, departure=noon + minute), real_store)
        assert caught.value.code == "winds-aloft-period"


def test_what_the_figures_rest_on_names_a_station_once(real_store: Store) -> None:
    said = cautions(real_store, winds_aloft=ALOFT, winds=(), route="KRST KBIL")["rests-on"].text
    assert said.count("wind of MSP") == 1
