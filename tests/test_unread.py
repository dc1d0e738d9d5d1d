"""Words of a route that name nothing: what was probably meant, and what to type."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from plotter.errors import RouteError
from plotter.places.store import Store
from plotter.route.own_points import OwnPoint, OwnPoints
from plotter.route.route_text import read_route
from plotter.route.unread import EXAMPLES

Faults = Callable[..., RouteError]


@pytest.fixture
def faults(real_store: Store) -> Faults:
    def _faults(route: str | list[str]) -> RouteError:
        with pytest.raises(RouteError) as caught:
            read_route(route, real_store)
        return caught.value

    return _faults


@pytest.mark.parametrize(
    ("route", "typed", "wrong"),
    [
        (["KRST", "43.9", "-92.5"], "43.9,-92.5", "43.9 -92.5"),
        (["KRST", "43.9,", "-92.5", "KLSE"], "43.9,-92.5", "43.9, -92.5"),
        ("KRST BARN=43.9 -92.5 KLSE", "BARN=43.9,-92.5", "BARN=43.9 -92.5"),
        ("KRST 44 92", "44,92", "44 92"),
    ],
)
def test_a_position_with_a_space_in_it_is_one_fault(
    faults: Faults, real_store: Store, route: str | list[str], typed: str, wrong: str
) -> None:
    fault = faults(route)
    assert len(fault.faults) == 1
    assert fault.candidates == (typed,)
    assert fault.where is not None
    assert fault.where.text[fault.where.start : fault.where.end] == wrong
    assert read_route(["KDLH", typed], real_store).waypoints


def test_two_such_positions_are_two_faults(faults: Faults) -> None:
    said = [fault.candidates for fault in faults("43.9 -92.5 44.1 -93.0").faults]
    assert said == [("43.9,-92.5",), ("44.1,-93.0",)]


def test_own_points_called_by_figures_are_no_halves(real_store: Store) -> None:
    places = read_route("43.9,-92.5 44.1,-93", real_store).waypoints
    own = OwnPoints(
        [OwnPoint(name, place.position) for name, place in zip("12", places, strict=True)]
    )
    assert [point.name for point in read_route("1 2", real_store, own).waypoints] == ["1", "2"]


@pytest.mark.parametrize("text", ["43N092", "4354N09230", "435430S0923000"])
def test_a_longitude_without_its_letter_gets_both(
    faults: Faults, real_store: Store, text: str
) -> None:
    fault = faults(f"KRST {text}")
    assert fault.candidates == (f"{text}E", f"{text}W")
    for typed in fault.candidates:
        assert read_route(["KRST", typed], real_store).waypoints


@pytest.mark.parametrize("text", ["4354N", "435430n", "09230W", "0923000E"])
def test_half_a_position_is_said_to_be_one(faults: Faults, text: str) -> None:
    assert "half a position" in faults(f"KRST {text}").message


def test_a_bearing_with_too_few_figures(faults: Faults) -> None:
    fault = faults("KRST ODI90020")
    assert "as in ODI090020" in fault.message
    assert fault.where is not None
    assert fault.where.text[fault.where.start : fault.where.end] == "90020"


@pytest.mark.parametrize(
    ("text", "spaced"),
    [("KRST,KLSE", "KRST KLSE"), ("KRST→KLSX", "KRST KLSX"), ("KRST-KLSE", "KRST KLSE")],
)
def test_points_with_something_else_between(faults: Faults, text: str, spaced: str) -> None:
    assert faults(f"{text} KDLH").candidates == (spaced,)


def test_a_dash_in_an_identifier_parts_nothing(faults: Faults) -> None:
    assert "parted by spaces" not in faults("KRST US-99999").message


def test_an_airway_that_is_in_no_data_is_said_to_look_like_one(faults: Faults) -> None:
    fault = faults("KRST V23 KLSE")
    assert fault.code == "airway"
    assert "did you mean" in fault.message
    assert "airways are not read" in fault.message


def test_what_is_like_nothing_is_answered_with_examples(faults: Faults) -> None:
    assert faults("KRST ????????").message.endswith(f"type {EXAMPLES}")
