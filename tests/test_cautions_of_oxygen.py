"""Oxygen: how long a flight is above the altitudes of 14 CFR 91.211(a), worked by hand."""

from __future__ import annotations

from typing import Any

import pytest
from flights import all_cruise, plan, wind

from plotter.flight.aircraft import Airspeed, VerticalRate
from plotter.flight.cautions.oxygen import RULES, highest_pressure_altitude_ft, minutes_above
from plotter.flight.log import navigation_log
from plotter.flight.log_values import NavigationLog
from plotter.flight.plan.values import Stop, Weather
from plotter.places.store import Store
from plotter.route.values import Caution

CALM = (wind(0.0, 0.0),)


def high(store: Store, altitude_ft: float, **changes: Any) -> NavigationLog:
    given = {"route": "KRST KDLH", "winds": CALM, "aircraft": all_cruise(), **changes}
    return navigation_log(plan(cruise_altitudes_ft=(altitude_ft,), **given), store)


def oxygen(log: NavigationLog) -> Caution | None:
    return next((one for one in log.cautions if one.code.startswith("oxygen")), None)


def test_the_rule_as_it_is_written() -> None:
    """14 CFR 91.211(a)(1) to (3): "above 12,500 feet (MSL) up to and including 14,000 feet",
    "of more than 30 minutes duration", "above 14,000", "above 15,000 ... each occupant"."""
    assert RULES["US"][:3] == (12_500.0, 14_000.0, 15_000.0)


@pytest.mark.parametrize(
    ("altitude_ft", "required"),
    [
        (12_500.0, None),
        (12_501.0, ("crew-later",)),
        (14_000.0, ("crew-later",)),
        (14_500.0, ("crew", "crew-later")),
        (15_000.0, ("crew", "crew-later")),
        (15_500.0, ("crew", "crew-later", "everyone")),
    ],
)
def test_what_is_required_at_each_altitude(
    real_store: Store, altitude_ft: float, required: tuple[str, ...] | None
) -> None:
    """176 NM at 110 kt take 96 min, all of them at one altitude."""
    caution = oxygen(high(real_store, altitude_ft))
    if required is None:
        assert caution is None
        return
    assert caution is not None
    assert (caution.rank, caution.said["minutes"]) == ("CHECK", 97)
    limits = {"crew": 14_000.0, "crew-later": 12_500.0, "everyone": 15_000.0}
    assert [(each.key, each["above_ft"]) for each in caution.said["requirements"]] == [
        (f"oxygen.{key}", limits[key]) for key in required
    ]


def test_thirty_minutes_are_counted_where_they_are_flown(real_store: Store) -> None:
    """KRST to KLSE, 54.0 NM: at 110 kt 29.5 min, at 105 kt 30.9."""
    route = {"route": "KRST KLSE"}
    short = oxygen(high(real_store, 13_500.0, **route))
    assert short is not None
    assert (short.rank, short.code) == ("NOTE", "oxygen-later")
    slow = all_cruise(cruise=all_cruise().cruise.__class__(Airspeed(105.0), 8.5))
    long = oxygen(high(real_store, 13_500.0, **route, aircraft=slow))
    assert long is not None
    assert (long.rank, long.code) == ("CHECK", "oxygen")


def test_a_climb_counts_from_where_it_passes_the_altitude(real_store: Store) -> None:
    """1,000 ft/min from 12,500 to 13,500 ft is a minute; 79.6 NM of cruise follow the climb."""
    climb = all_cruise(climb=VerticalRate(1000.0, Airspeed(110.0), 12.0))
    (sector,) = high(real_store, 13_500.0, aircraft=climb).sectors
    below_min = (12_500.0 - 1317.0) / 1000.0  # KRST lies at 1,317 ft
    assert minutes_above(sector, 12_500.0) == pytest.approx(sector.ete_min - below_min, abs=1e-6)
    assert minutes_above(sector, 13_500.0) == 0.0
    assert minutes_above(sector, 0.0) == pytest.approx(sector.ete_min)


def test_it_is_the_pressure_altitude_that_counts(real_store: Store) -> None:
    """Half an inch below standard adds some 470 ft (FAA-H-8083-25: 1 inHg for 1,000 ft)."""
    low = (Weather("KRST", altimeter_hpa=996.3),)
    log = high(real_store, 12_500.0, weather=low)
    assert highest_pressure_altitude_ft(log.sectors[0]) == pytest.approx(12_968.0, abs=10.0)
    found = oxygen(log)
    assert found is not None
    assert "pressure altitude of 12,970 ft" in found.text
    assert found.said["assumed"].key == "oxygen.assumed"
    unset = oxygen(high(real_store, 13_500.0))
    assert unset is not None
    assert unset.said["assumed"].key == "oxygen.assumed-standard"


def test_a_landing_begins_anew(real_store: Store) -> None:
    """27 NM to KONA and 35 NM on take less than 30 min each, together more."""
    changes = {"route": "KRST KONA KLSE KEAU", "stops": (Stop("KONA"), Stop("KLSE"))}
    log = high(real_store, 13_500.0, **changes)
    assert all(minutes_above(sector, 12_500.0) == sector.ete_min for sector in log.sectors)
    longest = max(sector.ete_min for sector in log.sectors)
    found = oxygen(log)
    assert found is not None
    assert (found.code == "oxygen") is (longest > 30.0)


def test_abroad_the_lower_altitudes_of_icao_are_asked(real_store: Store) -> None:
    """700 hPa is 9,880 ft and 620 hPa 13,000 ft of the standard atmosphere."""
    from plotter.earth.atmosphere import pressure_ratio

    assert 1013.25 * pressure_ratio(9_880.0) == pytest.approx(700.0, abs=0.5)
    assert 1013.25 * pressure_ratio(13_000.0) == pytest.approx(620.0, abs=1.0)
    changes = {"route": "EDNY LOWI LIPB", "cruise_altitudes_ft": (11_500.0,)}
    log = navigation_log(plan(winds=CALM, aircraft=all_cruise(), **changes), real_store)
    found = oxygen(log)
    assert found is not None
    assert "above 10,000 ft" in found.text
    assert "ICAO" in found.source
