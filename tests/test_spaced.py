"""Positions typed with spaces: one fault, what to type, and that what is to be typed is read."""

from __future__ import annotations

import pytest

from plotter.errors import RouteError
from plotter.places.store import Store
from plotter.route.reading.text import read_route


@pytest.mark.parametrize(
    ("typed", "wanted", "latitude_deg"),
    [
        ("43°54'N 92°30'W", "\"43°54'N 92°30'W\"", 43.9),
        ("N43° 54' 30\" W92° 30' 0\"", '"N43 54 30 W92 30 0"', 43.0 + 54.5 / 60),
        ("43 54 N 92 30 W", '"43 54 N 92 30 W"', 43.9),
        ("BARN=43°54'N 92°30'W", "\"BARN=43°54'N 92°30'W\"", 43.9),
    ],
)
def test_a_position_with_spaces_is_told_as_one_and_read_in_its_quotes(
    real_store: Store, typed: str, wanted: str, latitude_deg: float
) -> None:
    whole = f"KRST {typed} KLSE"
    with pytest.raises(RouteError) as raised:
        read_route(whole, real_store)
    (fault,) = raised.value.faults
    assert fault.code == "quotes"
    assert fault.candidates == (wanted,)
    assert fault.where is not None
    assert whole[fault.where.start : fault.where.end] == typed
    point = read_route(f"KRST {wanted} KLSE", real_store).waypoints[1]
    assert point.position.latitude_deg == pytest.approx(latitude_deg, abs=1e-9)
    assert point.position.longitude_deg == pytest.approx(-92.5, abs=1e-9)


def test_other_faults_stand_as_they_were(real_store: Store) -> None:
    with pytest.raises(RouteError) as raised:
        read_route("KRST 43°54'N 92°30'W KDHL", real_store)
    assert [fault.code for fault in raised.value.faults] == ["quotes", "unknown-identifier"]
    with pytest.raises(RouteError) as raised:
        read_route("KRST 43°54'N KLSE", real_store)
    assert [fault.code for fault in raised.value.faults] == ["coordinate"]
