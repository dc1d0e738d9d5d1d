"""The state a position lies in, by the borders and coasts of the base map and the fields inside."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.earth.geodesic import destination
from plotter.earth.position import Position
from plotter.places.states import BORDER_KNOWN_TO_NM, state_at
from plotter.places.store import Store

DATA = Path(__file__).parent.parent / "data"


@pytest.mark.parametrize(
    ("latitude", "longitude", "state"),
    [
        (44.0, -92.0, "US"),  # Minnesota
        (39.5, -98.35, "US"),  # Kansas
        (36.2, -116.9, "US"),  # Death Valley
        (64.0, -150.5, "US"),  # Alaska
        (18.2, -66.4, "PR"),  # Puerto Rico
        (43.5, -87.0, "US"),  # Lake Michigan
        (44.5, -79.6, "CA"),  # Ontario
        (43.0, -80.5, "CA"),  # Ontario, south of Rochester, Minnesota
        (25.7, -100.6, "MX"),  # Nuevo León
        (-44.6, 169.5, "NZ"),  # Otago
        (-43.6, 172.0, "NZ"),  # Canterbury
        (47.0, 8.3, "CH"),
        (47.3, 13.3, "AT"),
        (-29.5, 28.3, "LS"),  # Lesotho, inside South Africa
        (-17.8, 178.0, "FJ"),  # Viti Levu, near 180°
        (66.5, 179.5, "RU"),  # Chukotka, beside 180° and across it
        (67.0, -179.0, "RU"),
    ],
)
def test_a_place_inside_a_state(
    real_store: Store, latitude: float, longitude: float, state: str
) -> None:
    assert state_at(real_store, Position(latitude, longitude)) == state


@pytest.mark.parametrize(
    ("latitude", "longitude"),
    [
        (40.0, -40.0),  # the Atlantic
        (51.0, 1.5),  # the Strait of Dover: no border is drawn in it
        (42.2, -81.2),  # Lake Erie
        (49.0, -100.0),  # on the border of Canada and the US
        (49.03, -100.0),  # 1.8 NM north of it: nearer than it is drawn to
        (90.0, 180.0),
    ],
)
def test_at_sea_on_a_border_and_at_the_pole_none_is_said(
    real_store: Store, latitude: float, longitude: float
) -> None:
    assert state_at(real_store, Position(latitude, longitude)) == ""


def test_either_side_of_a_border(real_store: Store) -> None:
    """The 49th parallel, west of the Lake of the Woods (Treaty of 1818)."""
    for longitude in (-98.0, -104.0, -111.0, -118.0):
        assert state_at(real_store, Position(49.2, longitude)) == "CA"
        assert state_at(real_store, Position(48.8, longitude)) == "US"


def test_towns_lie_in_their_own_states(real_store: Store) -> None:
    """GeoNames gives each town its state, and knows nothing of airports or of Natural Earth."""
    with (DATA / "towns.csv").open(encoding="utf-8", newline="") as table:
        towns = list(csv.DictReader(table))[::300]
    found = {
        (town["name"], town["country"]): state_at(
            real_store, Position(float(town["latitude_deg"]), float(town["longitude_deg"]))
        )
        for town in towns
    }
    assert [(name, state) for name, state in found.items() if state not in (name[1], "")] == []
    assert sum(state != "" for state in found.values()) > 0.9 * len(found)


@given(
    st.floats(min_value=-60.0, max_value=75.0),
    st.floats(min_value=-180.0, max_value=180.0),
)
def test_what_is_said_of_a_place_holds_of_its_neighbourhood(
    real_store: Store, latitude: float, longitude: float
) -> None:
    """No border is nearer than it is drawn to, so a step of a tenth of that crosses none."""
    here = Position(latitude, longitude)
    beside = destination(here, 45.0, BORDER_KNOWN_TO_NM / 10.0)
    assert len({state_at(real_store, here), state_at(real_store, beside)} - {""}) <= 1
