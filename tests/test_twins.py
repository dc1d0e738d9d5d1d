"""Airfields that may be one field: near, or of one name or code and not far."""

from __future__ import annotations

from dataclasses import replace

import pytest
from plots import airport

from plotter.earth.geodesic import destination
from plotter.earth.position import Position
from plotter.messages import text
from plotter.places.model import Airport
from plotter.places.store import Store
from plotter.places.twins import twins_among, twins_of

HERE = Position(44.0, -92.5)


def field(ident: str, distance_nm: float, name: str, centre: Position = HERE) -> Airport:
    place = destination(centre, 90.0, distance_nm) if distance_nm else centre
    made = airport(ident, name, place.latitude_deg, place.longitude_deg)
    return replace(made, icao="", gps="", local="", iata="", kind="small_airport")


ONE = field("XDMA", 0.0, "Demo Farm Airport")


@pytest.mark.parametrize(
    ("other", "share"),
    [
        (field("XDMB", 0.29, "Quite Another Strip"), [""]),
        (field("XDMB", 0.31, "Quite Another Strip"), []),
        (field("XDMB", 4.9, "Demo Farm Airstrip"), ["name"]),
        (field("XDMB", 5.1, "Demo Farm Airstrip"), []),
        (field("XDMB", 4.9, "Demo Farm II Airport"), []),
        (replace(field("XDMB", 4.9, "Other"), local="XDMA"), ["code"]),
        (replace(field("XDMB", 0.1, "Other"), kind="heliport"), []),
        (replace(field("XDMB", 0.1, "Other"), kind="closed"), []),
    ],
)
def test_which_two_may_be_one(other: Airport, share: list[str]) -> None:
    assert [pair.share for pair in twins_among([other, ONE])] == share


@pytest.mark.parametrize("centre", [Position(10.0, 180.0), Position(90.0, 0.0)])
def test_across_180_and_at_a_pole(centre: Position) -> None:
    pair = [field("XDMA", 0.1, "A", centre), field("XDMB", -0.1, "B", centre)]
    assert len(twins_among(pair)) == 1


def test_the_words_name_both_and_say_what_to_do() -> None:
    (pair,) = twins_among([ONE, field("XDMB", 2.0, "Demo Farm")])
    for words in ("XDMA (Demo Farm Airport)", "XDMB (Demo Farm)", "2.0 NM", "name", "chart"):
        assert words in text(pair.said)


def test_the_field_that_stands_twice_in_the_real_tables(real_store: Store) -> None:
    """43MN is in the dataset again as US-2092, 0.1° of longitude beside it."""
    first = real_store.airport("43MN")
    assert first is not None
    (pair,) = twins_of(real_store, first)
    assert (pair.second.ident, pair.share) == ("US-2092", "code")
    assert pair.apart_nm == pytest.approx(4.1, abs=0.05)
    heliport = real_store.airport("00A")
    assert heliport is not None
    assert twins_of(real_store, heliport) == ()
