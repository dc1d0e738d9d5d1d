"""What the map's script is given: unrolled lines, labels, signs."""

from __future__ import annotations

import json
from dataclasses import replace
from itertools import pairwise

import plots
import pytest

from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position
from plotter.maps.drawing import (
    MOST_AIRPORTS,
    beyond_the_map,
    drawn_legs,
    route_bounds,
    sheet,
    shown_airports,
    sign,
)
from plotter.places.airports import Beside
from plotter.route.plotting import Plot

ALL = [plots.short(), plots.mountain(), plots.across_180(), plots.far_north(), plots.rhumb()]


def made(plot: Plot, *, sm: bool = False) -> dict:  # type: ignore[type-arg]
    return sheet(plot, drawn_legs(plot.route), sm=sm)


@pytest.mark.parametrize("plot", ALL, ids=lambda plot: plot.name)
def test_legs_join_without_a_jump(plot: Plot) -> None:
    drawn = drawn_legs(plot.route)
    for one, next_one in pairwise(drawn):
        assert one[-1] == pytest.approx(next_one[0], abs=1e-9)
    for leg in drawn:
        assert all(abs(b[1] - a[1]) < 180.0 for a, b in pairwise(leg))


@pytest.mark.parametrize("plot", ALL, ids=lambda plot: plot.name)
def test_each_leg_runs_from_its_start_to_its_end(plot: Plot) -> None:
    for leg, points in zip(plot.route.legs, drawn_legs(plot.route), strict=True):
        for end, (latitude, longitude) in ((leg.start, points[0]), (leg.end, points[-1])):
            assert latitude == pytest.approx(end.position.latitude_deg, abs=1e-9)
            turns = (longitude - end.position.longitude_deg) / 360.0
            assert turns == pytest.approx(round(turns), abs=1e-9)


def test_a_route_across_180_runs_on_past_it() -> None:
    box = route_bounds(drawn_legs(plots.across_180().route))
    assert 178.0 < box.west < 180.0 < box.east < 181.0


@pytest.mark.parametrize("plot", ALL, ids=lambda plot: plot.name)
def test_all_that_is_drawn_lies_in_the_same_turn_as_its_leg(plot: Plot) -> None:
    found = made(plot)
    south, west, north, east = found["view"]
    for mark in found["checkpoints"]:
        assert south - 1e-4 <= mark["at"][0] <= north + 1e-4
        assert west - 1e-4 <= mark["at"][1] <= east + 1e-4
    for leg in found["legs"]:
        assert west - 1e-4 <= leg["mid"][1] <= east + 1e-4


def test_a_longitude_is_written_to_a_metre() -> None:
    found = made(plots.short())
    start = plots.short().route.waypoints[0].position
    latitude, longitude = found["legs"][0]["line"][:2]
    assert distance_nm(start, Position(latitude, longitude)) * 1852 < 1.2


def test_labels_of_a_leg() -> None:
    plot = plots.mountain()
    leg = made(plot)["legs"][0]
    assert leg["above"].endswith("°M")
    assert leg["below"] == f"{plot.route.legs[0].distance_nm:.1f} NM"
    assert made(plot, sm=True)["legs"][0]["below"].endswith(" SM")
    assert -90 <= leg["angle"] <= 90


def test_the_number_of_everything_matches_the_plot() -> None:
    for plot in ALL:
        found = made(plot)
        assert len(found["legs"]) == len(plot.route.legs)
        assert len(found["points"]) == len(plot.route.waypoints)
        assert [mark["n"] for mark in found["checkpoints"]] == [m.number for m in plot.checkpoints]
        assert len(found["airports"]) == len(plot.near)


def test_an_airport_carries_sign_runway_and_details() -> None:
    (field,) = made(plots.short())["airports"]
    assert (field["code"], field["sign"], field["turn"], field["rank"]) == (
        "XDMC",
        "airport",
        134,
        1,
    )
    runways, frequencies = field["more"]
    assert runways[0].startswith("13/31: 4,200")
    assert frequencies == ["CTAF 122.800 MHz Demo traffic"]


def test_an_airport_the_route_turns_at_has_no_second_sign() -> None:
    plot = plots.short()
    place = plot.route.waypoints[0].place
    assert place
    plot = replace(plot, near=(Beside(place, 1, 0.0, 0.0), *plot.near))  # type: ignore[arg-type]
    assert [field["rank"] for field in made(plot)["airports"]] == [9, 1]


@pytest.mark.parametrize(
    ("kind", "expected"),
    [
        ("large_airport", "airport"),
        ("small_airport", "airport"),
        ("heliport", "heliport"),
        ("seaplane_base", "seaplane"),
        ("balloonport", "balloon"),
        ("closed", "closed"),
    ],
)
def test_every_kind_has_its_sign(kind: str, expected: str) -> None:
    assert sign(replace(plots.airport("XDMX", "Demo", 44.0, -92.0), kind=kind)) == expected


def test_without_a_heading_in_the_data_no_bar_is_drawn() -> None:
    bare = replace(plots.airport("XDMX", "Demo", 44.0, -92.0), runways=())
    plot = replace(plots.short(), near=(Beside(bare, 1, 5.0, 1.0),))
    assert made(plot)["airports"][0]["turn"] is None


def test_of_too_many_airports_the_nearest_stay_in_flying_order() -> None:
    fields = tuple(
        Beside(plots.airport(f"X{n:04d}", "Demo", 44.0, -92.0), 1, float(n), (n * 7919) % 1000 / 50)
        for n in range(1000)
    )
    shown = shown_airports(replace(plots.short(), near=fields))
    assert len(shown) == MOST_AIRPORTS
    assert [field.along_nm for field in shown] == sorted(field.along_nm for field in shown)
    farthest = max(abs(field.off_nm) for field in shown)
    left_out = [field for field in fields if field not in shown]
    assert all(abs(field.off_nm) >= farthest for field in left_out)


def test_beyond_85_degrees_is_noticed() -> None:
    far = plots.plot_of([plots.at_point("A", 84.0, 10.0), plots.at_point("B", 86.0, 12.0)])
    assert beyond_the_map(drawn_legs(far.route), 85.05)
    assert not beyond_the_map(drawn_legs(plots.far_north().route), 85.05)


def test_the_sheet_is_json_without_nan() -> None:
    for plot in ALL:
        json.dumps(made(plot), allow_nan=False)
