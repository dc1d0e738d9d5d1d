"""What the datasets say of one place, as values."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from plots import airport, short

from plotter.flight.fields import is_called
from plotter.maps.drawing import drawn_legs, sheet
from plotter.places.airports import Beside
from plotter.places.model import Airport, Runway
from plotter.places.store import Store
from plotter.route.reading.text import read_route


def strip(ends: str, length_ft: float, surface: str = "ASPH", closed: bool = False) -> Runway:
    first, second = ends.split("/")
    heading_deg = float(first.rstrip("W")) * 10
    return Runway(
        first, second, length_ft, 75.0, surface, False, closed, heading_deg, heading_deg + 180
    )


def field(kind: str, *runways: Runway) -> Airport:
    return replace(airport("XZZZ", "Invented field", 44.0, -93.0), kind=kind, runways=runways)


PAVED, LANE = strip("14/32", 3050.0), strip("13W/31W", 10_000.0, "WATER")


def test_a_water_lane_is_no_runway_of_an_airfield() -> None:
    assert field("small_airport", PAVED, LANE).longest_runway_ft == 3050.0
    assert field("small_airport", LANE).longest_runway_ft is None


def test_but_it_is_one_of_a_seaplane_base() -> None:
    assert field("seaplane_base", PAVED, LANE).longest_runway_ft == 10_000.0


def test_a_closed_runway_does_not_count() -> None:
    closed = strip("18/36", 9000.0, closed=True)
    assert field("small_airport", PAVED, closed).open_runways == (PAVED,)


@pytest.mark.parametrize(
    ("country", "icao", "gps", "local", "codes"),
    [
        ("US", "", "K47K", "47K", ("47K", "K47K")),  # Moundridge, Kansas: 47K on its chart
        ("US", "KRST", "KRST", "RST", ("KRST", "RST")),
        ("US", "", "KABC", "ABC", ("KABC", "ABC")),  # may be a location indicator: four letters
        ("US", "", "KTBX", "49U", ("KTBX", "49U")),
        ("ZZ", "", "K47K", "47K", ("K47K", "47K")),
    ],
)
def test_a_us_field_without_a_location_indicator_goes_by_its_local_code(
    country: str, icao: str, gps: str, local: str, codes: tuple[str, ...]
) -> None:
    place = replace(field("small_airport"), country=country, icao=icao, gps=gps, local=local)
    assert replace(place, ident=codes[-1]).codes == codes


def test_both_codes_of_such_a_field_can_be_typed(real_store: Store) -> None:
    for typed in ("47K", "K47K", "k47k"):
        (waypoint, _) = read_route(f"{typed} KMCI", real_store).waypoints
        assert (waypoint.name, waypoint.ident) == ("47K", "47K")
        assert is_called(waypoint, "47K")
        assert is_called(waypoint, "K47K")


def test_the_bar_on_the_map_lies_as_the_runway_the_table_names() -> None:
    plot = short()
    beside = Beside(field("small_airport", PAVED, LANE), 1, 1.0, 2.0)
    shown = sheet(replace(plot, near=(beside,)), drawn_legs(plot.route), sm=False)
    assert shown["airports"][0]["turn"] == 140


@pytest.mark.parametrize(
    ("zone", "apart_nm", "assumed"),
    [("America/Chicago", None, True), ("America/Chicago", 0.0, False), ("", None, False)],
)
def test_a_zone_that_no_source_gives_is_assumed(
    zone: str, apart_nm: float | None, assumed: bool
) -> None:
    place = replace(airport("XZZZ", "Invented", 44.0, -93.0), time_zone=zone)
    assert replace(place, sources_apart_nm=apart_nm).time_zone_assumed is assumed


def test_assumed_zones_are_as_many_as_the_builder_took_from_neighbours(real_store: Store) -> None:
    counted = 0
    for latitude in range(-90, 90, 10):
        places = real_store.airports_in(latitude, -180.0, latitude + 10 - 1e-9, 180.0)
        counted += sum(place.time_zone_assumed for place in places)
    register = (Path(__file__).parent.parent / "data" / "register.json").read_text("utf-8")
    assert f": {counted}" in register
