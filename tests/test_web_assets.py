"""The page's own document: what is put into it stays text."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import pytest

from plotter.errors import InputError
from plotter.maps.tiles import Tiles
from plotter.web.assets import page

URL = "https://tiles.example/{z}/{x}/{y}.png"


class Metas(HTMLParser):
    """What the heads of a page say, by name."""

    def __init__(self) -> None:
        super().__init__()
        self.found: dict[str, dict[str, str | None]] = {}
        self.bold = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        self.bold += tag == "b"
        if tag == "meta" and given.get("name"):
            self.found[str(given["name"])] = given


def read(document: str) -> Metas:
    metas = Metas()
    metas.feed(document)
    return metas


@pytest.mark.parametrize("whose", ['<p>"><b>', 'Demo "tiles" & <b>friends</b>', "<"])
def test_whose_the_tiles_are_stays_text(whose: str) -> None:
    """Also where it begins as a tag would."""
    metas = read(page("demo-token", Tiles(URL, whose)))
    given = metas.found["plotter-tiles"]
    assert (given["content"], given["data-attribution"]) == (URL, whose)
    assert metas.bold == read(page("demo-token")).bold


def test_the_token_stays_text_and_no_slot_is_left() -> None:
    document = page('<i>"')
    assert read(document).found["plotter-token"]["content"] == '<i>"'
    assert not re.search(r"\{\{\w+\}\}", document)


def test_the_page_tells_that_its_map_asks_a_network() -> None:
    assert "tiles.example" in page("demo", Tiles(URL, "Demo tiles"))


def test_the_page_takes_the_tiles_that_the_map_takes() -> None:
    with pytest.raises(InputError, match="must start with https"):
        page("demo", Tiles("http://tiles.example/{z}/{x}/{y}.png", "Demo"))
