"""What two sets of tables say differently, on an invented world."""

from __future__ import annotations

from collections.abc import Iterable

import pytest
import small_tables
from small_tables import Row, airport, navaid

from plotter.datastore.comparing import compare
from plotter.places.model import Change, Changes, What

HERE = airport("KAAA", 44.0, -92.5, icao="KAAA")
STRIP = ("KAAA", "13", "31", "4200", "75", "asphalt", "1", "0", "134.0", "314.0")
RADIO = ("KAAA", "CTAF", "", "122.8")
BEACON = navaid("AAA-VOR-ZZ", 44.02, -92.52)


def changes(
    airports: Iterable[Row] = (HERE,),
    runways: Iterable[Row] = (STRIP,),
    frequencies: Iterable[Row] = (RADIO,),
    navaids: Iterable[Row] = (BEACON,),
) -> list[Change]:
    before = {"airports": [HERE], "runways": [STRIP], "frequencies": [RADIO], "navaids": [BEACON]}
    after = {
        "airports": list(airports),
        "runways": list(runways),
        "frequencies": list(frequencies),
        "navaids": list(navaids),
    }
    return compare(before, after)


def strip(end_1: str, end_2: str, length: str = "4200", closed: str = "0") -> Row:
    return ("KAAA", end_1, end_2, length, "75", "asphalt", "1", closed, "", "")


def test_the_same_is_no_change() -> None:
    assert changes() == []


def test_moved_by_how_much() -> None:
    # A tenth of a degree of latitude at 44 N: 6.0 NM within 0.1 %
    (moved,) = changes([airport("KAAA", 44.1, -92.5, icao="KAAA")])
    assert (moved.key, moved.what) == ("KAAA", What.MOVED)
    assert moved.moved_nm == pytest.approx(6.0, abs=0.006)
    assert (moved.before, moved.after) == ("44.0 -92.5", "44.1 -92.5")
    assert changes([airport("KAAA", 44.001, -92.5, icao="KAAA")]) == [], "0.06 NM is polish"


def test_closed_gone_new_and_other_codes() -> None:
    closed = airport("KAAA", 44.0, -92.5, "closed", icao="KAAA")
    assert [c.what for c in changes([closed])] == [What.CLOSED]
    far = airport("KNEW", 10.0, 10.0, name="Demo New")
    found = changes([far], [], [])
    assert [(c.key, c.what) for c in found] == [("KAAA", What.GONE), ("KNEW", What.NEW)]
    coded = changes([airport("KAAA", 44.0, -92.5, icao="KAAA", iata="AAA")])
    assert [(c.what, c.before, c.after) for c in coded] == [(What.CODES, "KAAA", "KAAA AAA")]


def test_opened_again() -> None:
    old = {name: [] for name in ("runways", "frequencies", "navaids")}
    closed = airport("KAAA", 44.0, -92.5, "closed", icao="KAAA")
    found = compare(old | {"airports": [closed]}, old | {"airports": [HERE]})
    assert [c.what for c in found] == [What.OPENED]


def test_another_identifier_at_the_same_place_is_the_same_field() -> None:
    now = airport("KBBB", 44.001, -92.5, icao="KAAA")
    found = changes([now], [("KBBB", *STRIP[1:])], [("KBBB", *RADIO[1:])])
    assert [(c.key, c.what, c.before, c.after) for c in found] == [
        ("KBBB", What.RENAMED, "KAAA", "KBBB")
    ]
    assert Changes({}, found).of("KAAA") == Changes({}, found).of("KBBB") == tuple(found)
    elsewhere = airport("KBBB", 44.01, -92.5, icao="KAAA")
    assert [c.what for c in changes([elsewhere], [], [])] == [What.GONE, What.NEW]


@pytest.mark.parametrize(
    ("after", "what", "words"),
    [
        ([strip("14", "32")], [What.RENUMBERED], ("13/31", "14/32")),
        ([strip("13L", "31R")], [What.RENUMBERED], ("13/31", "13L/31R")),
        ([strip("13", "31", "3900")], [What.RUNWAY_LENGTH], ("13/31 4200 ft", "13/31 3900 ft")),
        ([strip("13", "31", "4201")], [], ()),
        ([strip("13", "31", closed="1")], [What.RUNWAY_CLOSED], ("13/31", "")),
        ([], [What.RUNWAY_CLOSED], ("13/31", "")),
        ([STRIP, strip("09", "27")], [What.RUNWAY_NEW], ("", "09/27")),
        ([strip("09", "27")], [What.RUNWAY_CLOSED, What.RUNWAY_NEW], ("13/31", "")),
        ([strip("14", "32", "9000")], [What.RUNWAY_CLOSED, What.RUNWAY_NEW], ("13/31", "")),
        ([STRIP, strip("", "")], [What.RUNWAY_NEW], ("", "unnamed")),
    ],
)
def test_runways(after: list[Row], what: list[What], words: tuple[str, ...]) -> None:
    found = changes(runways=after)
    assert [c.what for c in found] == what
    if words:
        assert (found[0].before, found[0].after) == words


def test_a_number_wanders_across_north() -> None:
    before = {"airports": [HERE], "frequencies": [], "navaids": []}
    found = compare(
        before | {"runways": [strip("36", "18")]}, before | {"runways": [strip("01", "19")]}
    )
    assert [c.what for c in found] == [What.RENUMBERED]


def test_frequencies_and_beacons() -> None:
    found = changes(frequencies=[("KAAA", "CTAF", "Demo", "123.0")])
    assert [(c.what, c.before, c.after) for c in found] == [
        (What.FREQUENCIES, "CTAF 122.8", "CTAF 123.0")
    ]
    moved = (*BEACON[:4], "44.12", *BEACON[5:7], "114000", *BEACON[8:])
    assert [c.what for c in changes(navaids=[moved])] == [What.MOVED, What.FREQUENCY]


@pytest.mark.parametrize(
    ("before", "after", "found"),
    [
        ("1.5", "1.6", [("1.5", "1.6")]),
        ("1.5", "1.50", []),
        ("1.5", "1.55", []),
        ("1.5", "-1.5", [("1.5", "-1.5")]),
        ("1.5", "", [("1.5", "")]),
        ("", "1.5", [("", "1.5")]),
        ("180", "-180", []),
    ],
)
def test_declinations(before: str, after: str, found: list[tuple[str, str]]) -> None:
    world = {"airports": [], "runways": [], "frequencies": []}
    old, new = (
        world | {"navaids": [navaid("AAA-VOR-ZZ", 44.0, -92.5, each)]} for each in (before, after)
    )
    made = compare(old, new)
    assert [(c.before, c.after) for c in made] == found
    assert {c.what for c in made} <= {What.DECLINATION}


def test_beacons_of_one_name_are_told_apart_by_where_they_lie() -> None:
    """The first of two is gone and the second has got its number: neither has moved."""
    near, far = (navaid("BBB-NDB-ZZ", *where) for where in ((44.0, -92.0), (10.0, 20.0)))
    second = ("BBB-NDB-ZZ-2", *far[1:])
    before = {"airports": [], "runways": [], "frequencies": [], "navaids": [near, second]}
    found = compare(before, before | {"navaids": [far]})
    assert [(c.key, c.what) for c in found] == [("BBB-NDB-ZZ", What.GONE)]


def test_there_and_back_is_as_many() -> None:
    world = {
        "airports": small_tables.AIRPORT_ROWS,
        "runways": small_tables.RUNWAY_ROWS,
        "frequencies": small_tables.FREQUENCY_ROWS,
        "navaids": small_tables.NAVAID_ROWS,
    }
    nothing: dict[str, tuple[Row, ...]] = dict.fromkeys(world, ())
    lost, found = compare(world, nothing), compare(nothing, world)
    assert {c.what for c in lost} == {What.GONE}
    assert {c.what for c in found} == {What.NEW}
    assert [c.key for c in lost] == [c.key for c in found]
    assert compare(world, world) == []


def test_the_farthest_come_first() -> None:
    every = [Change("A", What.MOVED, moved_nm=0.5), Change("B", What.MOVED, moved_nm=9.0)]
    made = Changes({}, [*every, Change("C", What.CLOSED)])
    assert [c.key for c in made.farthest()] == ["B", "A"]
    assert [c.key for c in made.farthest(1.0)] == ["B"]
    assert made.counts() == {What.MOVED: 2, What.CLOSED: 1}


@pytest.mark.parametrize(("length", "told"), [("4299", False), ("4101", False), ("4300", True)])
def test_a_length_that_differs_by_less_than_100_feet_is_the_same(length: str, told: bool) -> None:
    found = [one.what for one in changes(runways=[strip("13", "31", length)])]
    assert found == [What.RUNWAY_LENGTH] * told
