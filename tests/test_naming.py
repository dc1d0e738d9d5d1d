"""What a place goes by."""

from __future__ import annotations

from plots import airport

from plotter.earth.position import Position
from plotter.places.model import Navaid, Town
from plotter.places.naming import code_of, kind_of, kind_words, known_for, region_of

HERE = Position(44.0, -92.0)
BEACON = Navaid("XDM-VOR-ZZ", "XDM", "Demo", "VOR", HERE, None, 117_300.0, "ZZ", None)
TOWN = Town("Demoville", "ZZ", HERE, None)
FIELD = airport("XDMA", "Demo Field", 44.0, -92.0)


def test_codes_kinds_and_regions() -> None:
    assert [code_of(place) for place in (FIELD, BEACON, TOWN)] == ["XDMA", "XDM", ""]
    assert [kind_of(place) for place in (BEACON, TOWN)] == ["navaid", "town"]
    assert kind_words(BEACON) == "VOR"
    assert "_" not in kind_words(FIELD)
    assert region_of(TOWN) == "ZZ"
    assert region_of(FIELD) == FIELD.region or FIELD.country


def test_what_it_is_known_for_or_that_the_data_does_not_say() -> None:
    assert known_for(BEACON) == "117.30 MHz"
    assert known_for(TOWN) == "not in the data"
    assert known_for(Town("Demoville", "ZZ", HERE, 12_345)) == "12,345 people"
    assert known_for(FIELD).endswith(" ft")
