"""A route as it is typed: what each word means, and every fault at once, with its caret."""

from __future__ import annotations

import pytest
from examples import TIMES
from hypothesis import given, settings
from hypothesis import strategies as st

from plotter.earth.geodesic import distance_nm, measure
from plotter.earth.position import Position
from plotter.errors import InputError, RouteError
from plotter.messages import message
from plotter.places.store import Store
from plotter.route.reading.points import OwnPoint, OwnPoints
from plotter.route.reading.text import TypedRoute, read_point, read_route

BARN = OwnPoint("Red barn", Position(43.95, -92.41), 1180.0, "silo")


@pytest.fixture(scope="module")
def store(real_store: Store) -> Store:
    return real_store


def read(store: Store, route: str | list[str], *own: OwnPoint) -> TypedRoute:
    return read_route(route, store, OwnPoints(own), lambda position: 2.0)


def faults(store: Store, route: str | list[str], *own: OwnPoint) -> list[InputError]:
    with pytest.raises(RouteError) as caught:
        read(store, route, *own)
    return [fault for fault in caught.value.faults if isinstance(fault, InputError)]


def test_identifiers_positions_and_names(store: Store) -> None:
    route = read(store, "KRST DCT BARN=43.95,-92.41 4354N09230W KONA")
    names = [point.name for point in route.waypoints]
    kinds = [point.kind for point in route.waypoints]
    assert names == ["KRST", "BARN", "4354N09230W", "KONA"]
    assert kinds == ["airport", "position", "position", "airport"]
    assert route.waypoints[1].text == "43.95,-92.41"
    assert route.waypoints[2].position == Position(43.9, -92.5)


@pytest.mark.parametrize("route", ["krst kona", "KRST KONA", "airport:krst Airport:KONA"])
def test_identifiers_whatever_the_case(store: Store, route: str) -> None:
    assert [point.name for point in read(store, route).waypoints] == ["KRST", "KONA"]


def test_a_leading_minus_is_a_latitude(store: Store) -> None:
    route = read(store, ["-37.5,-122.1", "-36,-122"])
    assert route.waypoints[0].position == Position(-37.5, -122.1)


def test_a_quoted_coordinate_in_one_text_and_as_an_argument(store: Store) -> None:
    whole = read(store, 'KRST "43 54.5 N 092 30.0 W" KONA')
    parts = read(store, ["KRST", "43 54.5 N 092 30.0 W", "KONA"])
    assert whole.waypoints[1].position == parts.waypoints[1].position
    assert whole.waypoints[1].position.latitude_deg == pytest.approx(43 + 54.5 / 60)


def test_own_points_by_name_come_first(store: Store) -> None:
    route = read(store, ["KRST", "red barn", "KONA"], BARN)
    assert route.waypoints[1].kind == "own"
    assert route.waypoints[1].elevation_ft == 1180.0
    clash = read(store, "KRST KONA", OwnPoint("KONA", BARN.position))
    assert clash.waypoints[1].position == BARN.position
    assert [caution.code for caution in clash.cautions] == ["own-point-first"]


def test_the_last_equals_sign_parts_the_name(store: Store) -> None:
    assert read(store, "KRST A=B=KONA").waypoints[1].name == "A=B"


def test_speed_and_level_groups_are_kept_with_their_point(store: Store) -> None:
    route = read(store, "N0105A055 KRST KONA/N0110A065 VFR KLSE")
    assert [(change.from_waypoint, change.group.text) for change in route.cruise] == [
        (0, "N0105A055"),
        (1, "N0110A065"),
        (1, "VFR"),
    ]
    assert len(route.waypoints) == 3


def test_a_magnetic_bearing_from_an_airport_uses_the_model(store: Store) -> None:
    route = read(store, "KRST KRST090020")
    origin, point = route.waypoints
    line = measure(origin.position, point.position)
    assert line.distance_nm == pytest.approx(20.0)
    assert line.initial_true_course_deg == pytest.approx(92.0)
    assert "magnetic model" in route.cautions[0].text


def test_a_magnetic_bearing_from_a_vor_uses_its_own_declination(store: Store) -> None:
    route = read(store, "navaid:ODI navaid:ODI090020")
    (caution,) = [each for each in route.cautions if each.code == "bearing-reference"]
    assert caution.said["bearing_deg"] == 90
    assert caution.said["reference"] == message("bearing-reference.station", declination_deg=1.006)
    assert distance_nm(route.waypoints[0].position, route.waypoints[1].position) == pytest.approx(
        20
    )


@pytest.mark.parametrize("figures", ["090010" * 2, "1" * 480])
def test_a_bearing_and_distance_is_laid_off_once(store: Store, figures: str) -> None:
    with pytest.raises(RouteError) as caught:
        read(store, f"KRST ODI{figures}")
    assert caught.value.said.key == "bearing.twice"
    assert "such as DUB180040" in str(caught.value)


@pytest.mark.parametrize(
    ("route", "words"),
    [
        ("", "no point"),
        ("   ", "no point"),
        ("DCT", "no point"),
        ("KRST", "only one point"),
        ("KRST KRST", "same place"),
        ("KRST airport:KRST", "same place"),
        ("90N000E 90N090E", "same place"),
        ("00N180E 00N180W", "same place"),
        ("KRST 95.0,10", "latitude"),
        ("KRST nan,10", "nan"),
        ("KRST =KONA", "one side"),
        ("KRST BARN=", "one side"),
        ("KRST KRST400020", "over 360"),
        ("KRST KRST090000", "itself"),
        ("KRST QQQQQ", "QQQQQ"),
    ],
)
def test_faults_say_what_is_wrong(store: Store, route: str, words: str) -> None:
    found = faults(store, route)
    assert words in found[0].message


def test_all_faults_come_at_once_each_with_its_caret(store: Store) -> None:
    route = "KRSQ 4660N07805W KRST =KONA"
    found = faults(store, route)
    assert len(found) == 3
    wheres = [fault.where for fault in found]
    assert all(where is not None and where.text == route for where in wheres)
    starts = [where.start for where in wheres if where]
    assert starts == sorted(starts)
    assert route[starts[0] :].startswith("KRSQ")


def test_a_pair_that_can_only_be_longitude_first_is_offered_swapped(store: Store) -> None:
    (fault,) = faults(store, "KRST -122.1,37.5")
    assert fault.candidates == ("37.5,-122.1",)


def test_a_misspelt_identifier_gets_suggestions(store: Store) -> None:
    (fault,) = faults(store, "KRST KDHL")
    assert "KDLH" in fault.candidates


@pytest.mark.parametrize("word", ["KLSE,KONA", "KLSE-KONA", "KLSE->KONA", "KLSE;KONA"])
def test_points_run_together_are_offered_apart(store: Store, word: str) -> None:
    (fault,) = faults(store, f"KRST {word}")
    assert fault.candidates == ("KLSE KONA",)


def test_a_word_like_nothing_in_the_data_is_told_what_to_type(store: Store) -> None:
    (fault,) = faults(store, "KRST Qwertzuiopasdf")
    assert "'Qwertzuiopasdf'" in fault.message
    assert "44.0,-92.5" in fault.message


def test_an_identifier_of_several_places_is_refused_with_what_to_type(store: Store) -> None:
    (fault,) = faults(store, "KRST BOS")
    assert fault.code == "ambiguous-identifier"
    assert "airport:KBOS" in fault.candidates
    assert "navaid:BOS" in fault.candidates
    assert "NM" in fault.message


def test_words_that_are_all_ambiguous_order_each_others_lists(real_store: Store) -> None:
    """Nothing is chosen, but the places that lie together come first; so does a known point."""
    for route in ("RST LSE", "KMSP RST", "RST XXXXX KMSP"):
        with pytest.raises(RouteError) as caught:
            read_route(route, real_store)
        rst = next(fault for fault in caught.value.faults if "'RST' means" in fault.message)
        first = "airport:KRST"
        assert rst.candidates[0] == first, route
    with pytest.raises(RouteError) as caught:
        read_route("RST LSE", real_store)
    assert [fault.candidates[:2] for fault in caught.value.faults] == [
        ("airport:KRST", "navaid:RST-VOR-DME-US"),
        ("airport:KLSE", "navaid:LSE-VOR-DME-US"),
    ]


def test_another_reference_system_is_noted(store: Store) -> None:
    route = read(store, "KRST +44.0-092.5CRSNAD27/")
    assert [caution.code for caution in route.cautions] == ["reference-system"]


def test_two_thousand_points(store: Store) -> None:
    route = " ".join(f"{10 + i * 0.02:.2f},{(-1) ** i * 0.5:.2f}" for i in range(2000))
    assert len(read(store, route).waypoints) == 2000


@settings(max_examples=150 * TIMES, deadline=None)
@given(st.text(max_size=30))
def test_any_text_is_a_route_or_a_fault(real_store: Store, route: str) -> None:
    try:
        assert len(read(real_store, route).waypoints) >= 2
    except RouteError as fault:
        assert fault.message


def test_an_airway_is_never_taken_for_a_beacon(store: Store) -> None:
    (fault,) = faults(store, "KRST V2 KLSE")
    assert fault.code == "airway"
    assert fault.candidates == ("navaid:V2",)
    assert read(store, "KRST navaid:V2").waypoints[1].kind == "navaid"


def test_a_station_set_long_ago_is_a_check(store: Store) -> None:
    found = read_route("navaid:ODI navaid:ODI090020", store, None, lambda position: 20.0)
    assert "station-declination" in [caution.code for caution in found.cautions]
    kept = read_route("navaid:ODI navaid:ODI090020", store, None, lambda position: 1.0)
    assert "station-declination" not in [caution.code for caution in kept.cautions]


def test_an_own_point_named_like_a_coordinate_is_noted(store: Store) -> None:
    route = read(store, "KRST 46N078W", OwnPoint("46N078W", BARN.position))
    assert [caution.code for caution in route.cautions] == ["own-point-first"]


@pytest.mark.parametrize("system", ["WGS_84", "EPSG:4326", "WGS84"])
def test_wgs_84_by_any_of_its_names_is_not_noted(store: Store, system: str) -> None:
    assert read(store, f"KRST +44.0-092.5CRS{system}/").cautions == ()


@pytest.mark.parametrize("route", [["KRST", "Red bran", "KONA"], 'KRST "Red bran" KONA'])
def test_a_slip_in_an_own_name_is_suggested_whole(store: Store, route: str | list[str]) -> None:
    (fault,) = faults(store, route, BARN)
    assert fault.candidates == ('"Red barn"',)
    assert 'did you mean "Red barn"?' in fault.message
    assert fault.where
    assert fault.where.text[fault.where.start : fault.where.end] == "Red bran"


def test_an_own_name_does_not_swallow_points_that_are_known(store: Store) -> None:
    own = OwnPoint("KRST KONB", Position(44.0, -92.0))
    assert len(read(store, ["KRST KONA", "KDLH"], own).waypoints) == 3


def test_own_names_come_before_identifiers_of_the_data(store: Store) -> None:
    (fault,) = faults(store, "KRST KDHM KONA", OwnPoint("KDHN", BARN.position))
    assert fault.candidates[0] == "KDHN"
    assert len(fault.candidates) > 1


@pytest.mark.parametrize(
    "typed",
    ["KRST", ["44.0,", "-92.5"], ["43", "54.5", "N", "092", "30.0", "W"], "Red barn", "X=KRST"],
)
def test_one_point_in_any_notation(store: Store, typed: str | list[str]) -> None:
    point = read_point(typed, store, OwnPoints([BARN]), lambda position: 2.0)
    assert distance_nm(point.waypoint.position, Position(43.91, -92.5)) < 10.0


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("", "no point given; enter one, such as KRST"),
        ("KRST KONA", "2 points given; enter one, such as KRST"),
        ("DCT", "no point given; enter one, such as KRST"),
        ("KRSQQ", "no place 'KRSQQ'"),
        ("BOS", "means"),
        ("91,10", "latitude"),
        ("X=", "nothing on one side"),
    ],
)
def test_what_is_not_one_point_is_refused(store: Store, typed: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        read_point(typed, store)
