"""Fields of a flight: names a plan may use, pressure and density altitude, runway wind."""

from __future__ import annotations

from typing import Any

import pytest
from flights import plan

from plotter.earth.position import Position
from plotter.errors import InputError
from plotter.flight.fields import (
    field_elevation_ft,
    field_reports,
    is_called,
    runways_to_use,
)
from plotter.flight.log import wishes_of
from plotter.flight.log_values import FieldReport
from plotter.flight.plan.values import GivenWind, Limits, Weather
from plotter.places.store import Store
from plotter.route.measuring import FlightMagnetism
from plotter.route.plotting import plot_route
from plotter.route.values import Waypoint


def reports(store: Store, *weather: Weather, **changes: Any) -> tuple[FieldReport, ...]:
    made = plan(weather=weather, **changes)
    wishes = wishes_of(made)
    route = plot_route(made.route, store, wishes).route
    return field_reports(made, route, FlightMagnetism(wishes.date, 0.0, False))


def test_a_point_answers_to_name_and_ident_in_any_case() -> None:
    point = Waypoint("BARN", "BARN=KONA", "airport", Position(44.0, -91.0), ident="KONA")
    assert is_called(point, "kona")
    assert is_called(point, " barn ")
    assert not is_called(point, "")
    assert field_elevation_ft(point) is None


def test_pressure_and_density_altitude_by_hand(real_store: Store) -> None:
    # 29.42 inHg is half an inch low: some 500 ft more (FAA-H-8083-25: 1 inHg for 1,000 ft).
    (report,) = reports(real_store, Weather("KRST", altimeter_hpa=996.3, temperature_c=30.0))
    assert report.pressure_altitude_ft == pytest.approx(1317.0 + 468.0, abs=15.0)
    # ISA at 1,785 ft is 11.5 °C; 18.5 above it, some 120 ft a degree (common practice, rounded up).
    assert report.density_altitude_ft == pytest.approx(1785.0 + 120.0 * 18.5, rel=0.03)


def test_the_runway_with_the_most_headwind(real_store: Store) -> None:
    (report,) = reports(real_store, Weather("KRST", wind=GivenWind(310.0, "true", 20.0)))
    assert report.runway == "31"
    assert report.headwind_kt is not None
    assert report.headwind_kt > 19.0


@pytest.mark.parametrize(
    ("runway_ft", "runway", "across_kt"),
    # Duluth in the data: 03/21 of 5,699 ft on 032°T, 09/27 of 10,152 ft on 092°T. A wind of 25 kt
    # from 210°T is 2° off runway 21 and 62° off runway 27: 25 × sin 2° and 25 × sin 62°.
    [(None, "21", 0.87), (5699.0, "21", 0.87), (5700.0, "27", 22.1), (10_152.0, "27", 22.1)],
)
def test_the_runway_is_long_enough_where_one_is(
    real_store: Store, runway_ft: float | None, runway: str, across_kt: float
) -> None:
    wind = Weather("KDLH", wind=GivenWind(210.0, "true", 25.0))
    (report,) = reports(real_store, wind, limits=Limits(runway_ft=runway_ft))
    assert report.runway == runway
    assert report.crosswind_kt == pytest.approx(across_kt, abs=0.25)  # headings to half a degree


def test_where_no_runway_is_long_enough_all_are_asked(real_store: Store) -> None:
    wind = Weather("KDLH", wind=GivenWind(210.0, "true", 25.0))
    (report,) = reports(real_store, wind, limits=Limits(runway_ft=20_000.0))
    assert report.runway == "21"
    assert runways_to_use(Waypoint("B", "44,-91", "position", Position(44.0, -91.0)), 1.0) == ()


def test_a_wind_spoken_by_a_tower_is_turned_first(real_store: Store) -> None:
    true, spoken = (
        reports(real_store, Weather("KRST", wind=GivenWind(30.0, reference, 20.0)))[0]
        for reference in ("true", "magnetic")
    )
    assert true.crosswind_kt != spoken.crosswind_kt


def test_weather_of_a_point_that_is_not_on_the_route(real_store: Store) -> None:
    with pytest.raises(InputError, match="is not on the route"):
        reports(real_store, Weather("KMSP", temperature_c=20.0))
