"""Stations of a winds aloft forecast: three letters become a place near the flight."""

from __future__ import annotations

from pathlib import Path

import pytest
from small_tables import write_tables

from plotter.datastore.opening import open_store
from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position
from plotter.errors import InputError
from plotter.flight.air.sky import station_positions
from plotter.places.store import Store

IOWA = Position(41.5, -93.5)


def test_a_station_is_the_place_near_the_flight(real_store: Store) -> None:
    found = station_positions(real_store, ["oma", "DSM"], [IOWA])
    assert list(found) == ["OMA", "DSM"]
    # Omaha's airport and beacon lie within 15 NM of 41.3 N 95.9 W.
    assert distance_nm(found["OMA"], Position(41.3, -95.9)) < 15.0


@pytest.mark.parametrize(("name", "words"), [("QQ9", "is not in the data"), ("SFO", "NM from the")])
def test_a_station_that_cannot_serve_is_refused(real_store: Store, name: str, words: str) -> None:
    with pytest.raises(InputError, match=words) as caught:
        station_positions(real_store, [name], [IOWA])
    assert caught.value.code == "winds-aloft-station"


def test_a_station_near_any_part_of_a_long_flight_serves(real_store: Store) -> None:
    """Denver lies far from both ends of a flight from Iowa to Oregon, and near its middle."""
    ends = [IOWA, Position(45.0, -122.0)]
    with pytest.raises(InputError, match="NM from the route"):
        station_positions(real_store, ["DEN"], ends)
    found = station_positions(real_store, ["DEN"], [*ends, Position(41.0, -107.0)])
    assert distance_nm(found["DEN"], Position(39.8, -104.7)) < 15.0


def test_a_closed_airport_is_no_station(tmp_path: Path) -> None:
    """DDD is an old field and a new one 7 NM from it, LLL an old field alone; all are invented."""
    old_field = Position(44.2, -92.2)
    tables = write_tables(tmp_path / "tables")
    with open_store(tables=tables, cache=tmp_path / "cache") as store:
        assert store.by_code("DDD")[0].place.position in (old_field, Position(44.3, -92.3))
        found = station_positions(store, ["DDD"], [old_field])
        assert found == {"DDD": Position(44.3, -92.3)}
        assert store.by_code("LLL")
        with pytest.raises(InputError, match="is not in the data"):
            station_positions(store, ["LLL"], [Position(45.0, 180.0)])
