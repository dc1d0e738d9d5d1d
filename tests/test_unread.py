"""Words of a route that name nothing: what was probably meant, and what to type."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from plotter.earth.position import Position
from plotter.errors import InputError, RouteError
from plotter.places.store import Store
from plotter.route.reading.points import OwnPoint, OwnPoints, PointReader
from plotter.route.reading.text import LONGEST_WORD, MOST_FAULTS, MOST_WORDS, read_point, read_route

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
    assert "write six, three of bearing and three of distance, such as ODI090020" in fault.message
    assert fault.where is not None
    assert fault.where.text[fault.where.start : fault.where.end] == "90020"


@pytest.mark.parametrize(
    ("text", "spaced"),
    [("KRST,KLSE", "KRST KLSE"), ("KRST→KLSX", "KRST KLSX"), ("KRST-KLSE", "KRST KLSE")],
)
def test_points_with_something_else_between(faults: Faults, text: str, spaced: str) -> None:
    assert faults(f"{text} KDLH").candidates == (spaced,)


def test_a_dash_in_an_identifier_parts_nothing(faults: Faults) -> None:
    assert faults("KRST US-99999").code != "not-parted"


def test_an_airway_that_is_in_no_data_is_said_to_look_like_one(faults: Faults) -> None:
    fault = faults("KRST V23 KLSE")
    assert fault.code == "airway"
    assert "did you mean" in fault.message
    assert "'V23' looks like an airway, and airways are not supported" in fault.message


def test_what_is_like_nothing_is_answered_with_examples(faults: Faults) -> None:
    assert faults("KRST ????????").said.key == "unknown-identifier.examples"


@given(st.integers(-89, 89), st.integers(0, 179), st.integers(-89, 89), st.integers(0, 179))
@example(47, 5, 8, 5)
def test_decimal_commas_are_not_two_points(
    real_store: Store, one: int, two: int, three: int, four: int
) -> None:
    """``47,5 8,5`` may be one position or two: both are offered, each is read as what it is."""
    with pytest.raises(RouteError) as raised:
        read_route(f"{one},{two} {three},{four}", real_store)
    (fault,) = raised.value.faults
    single, double = fault.candidates
    point = read_point(single, real_store).waypoint.position
    assert point == Position(float(f"{one}.{two}"), float(f"{three}.{four}"))
    ends = (Position(one, two), Position(three, four))
    if ends[0] != ends[1]:
        assert tuple(each.position for each in read_route(double, real_store).waypoints) == ends
    assert (fault.said["one"], fault.said["two"]) == (single, double)


def test_decimal_commas_are_refused_wherever_one_point_is_typed(real_store: Store) -> None:
    for typed in ("47,5 8,5", ["47,5", "8,5"]):
        with pytest.raises(RouteError) as raised:
            read_point(typed, real_store)
        assert "point" in raised.value.message


@pytest.mark.parametrize(
    "route", ["44,-92 45,-93", "47,5 DCT 8,5", "47,5 KRST 8,5", "47.0,5 8.0,5"]
)
def test_what_cannot_be_a_decimal_comma_stays_two_points(real_store: Store, route: str) -> None:
    assert len(read_route(route, real_store).waypoints) >= 2


_SCRIPTS = [
    0x0660,
    0x06F0,
    0x0966,
    0xFF10,
    0x1D7CE,
]  # first digits of blocks of The Unicode Standard


@given(
    st.sampled_from(
        [
            "DUB180040",
            "KRST090020",
            "4354N09230W",
            "43.9,-92.5",
            "46N078W",
            "navaid:ODI090020",
            "43-54-30N 92-30-00W",
            "+4354.5-09230.0/",
            "N43 54 30 W92 30 00",
            "V23",
            "1A",
        ]
    ),
    st.sampled_from(_SCRIPTS),
    st.integers(0, 12),
)
def test_digits_of_other_scripts_are_refused_alike(
    real_store: Store, typed: str, zero: int, first: int
) -> None:
    """From some place on the digits are of another script; what to type is offered."""
    turned = typed[:first] + "".join(
        chr(zero + int(each)) if each in "0123456789" else each for each in typed[first:]
    )
    reader = PointReader(real_store, OwnPoints(), lambda _: 2.0)
    if turned == typed:
        return
    with pytest.raises(InputError) as raised:
        reader.read(turned, None)
    assert raised.value.code == "digits"
    assert raised.value.candidates == (typed,)


def test_a_speed_group_in_other_digits_is_no_group(real_store: Store) -> None:
    with pytest.raises(RouteError, match="has digits other than 0 to 9; enter N0105A055"):
        read_route("KRST N٠١٠٥A٠٥٥ KDLH", real_store)


def test_own_points_keep_whatever_digits_their_names_have(real_store: Store) -> None:
    own = OwnPoints([OwnPoint("Silo٣", Position(44.0, -92.0))])
    assert read_route("KRST Silo٣", real_store, own).waypoints[1].name == "Silo٣"


@pytest.mark.parametrize(
    ("route", "says"),
    [
        ("KRST " * (MOST_WORDS + 1), f"{MOST_WORDS + 1:,} words, more than {MOST_WORDS:,}"),
        ("KRST " + "9" * (LONGEST_WORD + 1), f"a point has {LONGEST_WORD} at most"),
        ("KRST DUB" + "180040" * 600, f"a point has {LONGEST_WORD} at most"),
    ],
)
def test_a_text_longer_than_any_route_is_refused_first(
    faults: Faults, route: str, says: str
) -> None:
    fault = faults(route)
    assert says in fault.message
    assert fault.code == "too-many-points"


def test_only_the_first_faults_are_looked_into(faults: Faults) -> None:
    assert len(faults("QZXQW " * 1000).faults) == MOST_FAULTS
    assert len(faults("44 92 " * 4000).faults) == MOST_FAULTS
