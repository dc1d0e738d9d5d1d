"""Rows of the tables made into values; what cannot be one says which row and why."""

from __future__ import annotations

import pytest
from small_tables import AIRPORT_ROWS, FREQUENCY_ROWS, NAVAID_ROWS, RUNWAY_ROWS, TOWN_ROWS

from plotter.errors import DataFault
from plotter.places.model import Frequency, Runway
from plotter.places.packing import (
    find_airport,
    find_navaid,
    pack_airport,
    pack_navaid,
    sketches,
    unpack_airport,
)
from plotter.places.rows import airport_from, frequency_from, navaid_from, runway_from, town_from


def without(row: tuple[str, ...], at: int, value: str) -> tuple[str, ...]:
    return (*row[:at], value, *row[at + 1 :])


AIRPORT = tuple(AIRPORT_ROWS[0])
NAVAID = tuple(NAVAID_ROWS[0])


def test_an_airport() -> None:
    airport = airport_from(AIRPORT, RUNWAY_ROWS[:2], FREQUENCY_ROWS)
    assert airport.codes == ("KAAA", "AAA")
    assert (airport.region, airport.time_zone, airport.sources_apart_nm) == ("ZZ-D", "", 0.03)
    assert (len(airport.runways), len(airport.frequencies)) == (2, 2)
    assert not airport.closed


def test_an_empty_field_is_not_in_the_data() -> None:
    airport = airport_from(without(without(AIRPORT, 12, ""), 14, ""))
    assert airport.elevation_ft is None
    assert airport.sources_apart_nm is None
    assert airport.longest_runway_ft is None
    assert runway_from(("K", "1", "2", *("",) * 7)) == Runway(
        "1", "2", None, None, "", False, False, None, None
    )


@pytest.mark.parametrize(
    "row",
    [
        AIRPORT[:-1],
        (*AIRPORT, ""),
        (),
        without(AIRPORT, 10, ""),
        without(AIRPORT, 10, "95"),
        without(AIRPORT, 11, "nan"),
        without(AIRPORT, 12, "high"),
        without(AIRPORT, 14, "inf"),
    ],
)
def test_what_is_no_airport_names_its_row(row: tuple[str, ...]) -> None:
    with pytest.raises(DataFault, match="the airport row"):
        airport_from(row)


@pytest.mark.parametrize("row", [NAVAID[:-1], without(NAVAID, 4, "x"), without(NAVAID, 9, "E")])
def test_what_is_no_navaid_names_its_row(row: tuple[str, ...]) -> None:
    with pytest.raises(DataFault, match="the navaid row"):
        navaid_from(row)


def test_a_navaid() -> None:
    navaid = navaid_from((*NAVAID[:-1], "KAAA"))
    assert (navaid.ident, navaid.kind, navaid.frequency_khz) == ("AAA", "VOR-DME", 113000.0)
    assert (navaid.elevation_ft, navaid.associated_airport) == (None, "KAAA")


def test_towns_and_frequencies() -> None:
    assert town_from(TOWN_ROWS[0]) == ("Demo City", 44.02, -92.46, 118000)
    assert town_from(("Demo", "ZZ", "1", "2", "")) == ("Demo", 1.0, 2.0, 0)
    assert frequency_from(FREQUENCY_ROWS[1]) == Frequency("TWR", "", 118.25)
    with pytest.raises(DataFault, match="the town row"):
        town_from(("Demo", "ZZ", "1", "200", "3"))


def test_packed_and_unpacked_it_is_the_same_airport() -> None:
    for runways in ((), RUNWAY_ROWS[:1], RUNWAY_ROWS[:2]):
        for frequencies in ((), FREQUENCY_ROWS):
            packed = pack_airport(AIRPORT, runways, frequencies)
            assert unpack_airport(packed) == airport_from(AIRPORT, runways, frequencies)


def test_one_airport_out_of_a_cell() -> None:
    body = "\n".join(pack_airport(row, (), ()) for row in AIRPORT_ROWS)
    for row in AIRPORT_ROWS:
        assert find_airport(body, row[0]) == airport_from(row)
    assert find_airport(body, "KAA") is find_airport("", "KAAA") is None
    assert [s.kind for s in sketches(body, {"closed"})] == ["closed", "closed"]
    assert len(list(sketches(body))) == len(AIRPORT_ROWS)
    assert list(sketches("")) == []


def test_an_airport_is_found_by_its_ident_not_by_another_code() -> None:
    """GGG is the local code of the one and the ident of the other."""
    body = "\n".join(pack_airport(row, (), ()) for row in AIRPORT_ROWS[::-1])
    found = find_airport(body, "GGG")
    assert found
    assert found.ident == "GGG"


def test_one_navaid_out_of_a_cell() -> None:
    body = "\n".join(pack_navaid(row) for row in NAVAID_ROWS)
    for row in NAVAID_ROWS:
        assert find_navaid(body, row[0]) == navaid_from(row)
    assert find_navaid(body, "AAA") is find_navaid("", "AAA") is None
