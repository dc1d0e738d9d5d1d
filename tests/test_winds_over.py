"""The air over a place from the stations around it."""

from __future__ import annotations

from pathlib import Path

import pytest

from plotter.earth.geodesic import along, distance_nm, measure
from plotter.earth.position import Position
from plotter.errors import InputError
from plotter.flight.air.forecast import air_over, read_winds_aloft, said_stations, said_weights
from plotter.flight.air.levels import AirNote, air_at
from plotter.flight.wind import components_kt

TEXT = (Path(__file__).parent / "published" / "winds_aloft_bulletin.txt").read_text(
    encoding="utf-8"
)
BULLETIN = read_winds_aloft(TEXT)
STATIONS = {"OMA": Position(41.167, -95.737), "DSM": Position(41.438, -93.648)}
"""Where the two stand, near enough; the bulletin does not say."""


def test_over_a_station_it_is_that_station() -> None:
    air = air_over(BULLETIN, STATIONS, STATIONS["OMA"], 6000.0)
    assert air.wind.from_true_deg == pytest.approx(290.0)
    assert air.wind.speed_kt == pytest.approx(19.0)
    assert air.temperature_c == pytest.approx(6.0)


@pytest.mark.parametrize("part", [0.25, 0.5, 0.8])
def test_on_the_line_between_two_stations_it_is_plain_proportion(part: float) -> None:
    line = measure(STATIONS["OMA"], STATIONS["DSM"])
    (place,) = along(line, [part * line.distance_nm])
    air = air_over(BULLETIN, STATIONS, place, 7500.0)
    oma, dsm = (air_at(BULLETIN.station(name).levels, 7500.0) for name in STATIONS)
    for ours, first, second in zip(
        components_kt(air.wind), components_kt(oma.wind), components_kt(dsm.wind), strict=True
    ):
        assert ours == pytest.approx(first + (second - first) * part, abs=1e-6)
    assert oma.temperature_c is not None
    assert dsm.temperature_c is not None
    expected = oma.temperature_c + (dsm.temperature_c - oma.temperature_c) * part
    assert air.temperature_c == pytest.approx(expected, abs=1e-6)


def test_what_each_counts_is_said_first() -> None:
    place = Position(41.3, -95.0)
    away = {name: distance_nm(place, position) for name, position in STATIONS.items()}
    air = air_over(BULLETIN, STATIONS, place, 1500.0)
    assert air.notes[0] == AirNote("stations", said_weights(away), said_stations(list(away)))
    assert "wind below 3,000 ft as at that level" in [note.words for note in air.notes]
    assert air.wind_beyond == "below"


def test_the_words_of_three_stations() -> None:
    assert said_weights({"A": 20.0, "B": 20.0, "C": 10.0}) == (
        "wind of A (20 NM, 25 %), B (20 NM, 25 %) and C (10 NM, 50 %), "
        "by the inverse of the distance"
    )


def test_one_station_is_said_with_its_distance() -> None:
    air = air_over(BULLETIN, {"GLD": Position(39.371, -101.7)}, Position(39.371, -100.7), 9000.0)
    assert air.notes == (AirNote("stations", "wind of GLD (47 NM)", "wind of GLD"),)
    assert air.wind.speed_kt == pytest.approx(22.0)


def test_a_station_that_is_not_in_it_is_refused() -> None:
    with pytest.raises(InputError, match=r"station DEN is not in the winds aloft \(in it"):
        air_over(BULLETIN, {"DEN": Position(39.8, -104.7)}, Position(39.0, -104.0), 9000.0)


def test_no_station_is_refused() -> None:
    with pytest.raises(InputError, match="no station to take the winds aloft from; name one"):
        air_over(BULLETIN, {}, Position(39.0, -104.0), 9000.0)
