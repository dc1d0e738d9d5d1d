"""Online tiles: which address will do, what the page may then ask for, and that text stays text."""

from __future__ import annotations

import re

import plots
import pytest

from plotter.errors import InputError
from plotter.exports import export_cautions
from plotter.maps.base import Basemap
from plotter.maps.tiles import MapLayers, Tiles
from plotter.maps.web_map import web_map

URL = "https://tiles.example/{z}/{x}/{y}.png"
WHOSE = "© Example <b>tiles</b> & friends"


@pytest.mark.parametrize(
    "url",
    [
        URL,
        "https://tiles.example:8443/a/{z}/{y}/{x}.jpg?key=abc123&v=1",
        "http://127.0.0.1:8080/{z}/{x}/{y}.png",
        "http://localhost/{z}/{x}/{y}",
    ],
)
def test_addresses_that_will_do(url: str) -> None:
    assert Tiles(url, WHOSE).url == url
    assert url.startswith(Tiles(url, WHOSE).origin + "/")


@pytest.mark.parametrize(
    ("url", "words"),
    [
        ("https://tiles.example/{z}/{x}.png", "each once"),
        ("https://{s}.tiles.example/{z}/{x}/{y}.png", "no other braces"),
        ("https://tiles.example/{z}/{x}/{y}/{z}.png", "each once"),
        ("http://tiles.example/{z}/{x}/{y}.png", "must start with https"),
        ("ftp://tiles.example/{z}/{x}/{y}.png", "must start with https"),
        ("file:///etc/{z}/{x}/{y}", "no plain server name"),
        ("https://user:pw@tiles.example/{z}/{x}/{y}.png", "no plain server name"),
        (
            "https://tiles.example; script-src */{z}/{x}/{y}.png",
            "has characters that no address has",
        ),
        ("https://tiles.example/{z}/{x}/{y}.png'", "has characters that no address has"),
        ("https://tiles.exämple/{z}/{x}/{y}.png", "has characters that no address has"),
        ("javascript:alert(1)//{z}{x}{y}", "no plain server name"),
        ("https://*/{z}/{x}/{y}.png", "no plain server name"),
        ("https://tiles.example/{z}/{x}/{y}" + "a" * 500, "is longer than 500 characters"),
    ],
)
def test_addresses_that_will_not(url: str, words: str) -> None:
    with pytest.raises(InputError, match=words) as caught:
        Tiles(url, WHOSE)
    assert caught.value.code == "tiles"
    assert "write it as in https://tiles.example/{z}/{x}/{y}.png" in str(caught.value)


@pytest.mark.parametrize("whose", ["", "  ", "a" * 501])
def test_somebody_must_be_named(whose: str) -> None:
    with pytest.raises(
        InputError, match="enter an attribution for the tiles, as their license requires"
    ) as caught:
        Tiles(URL, whose)
    assert caught.value.code == "tiles-attribution"


def policy_of(page: str) -> str:
    found = re.search(r'Content-Security-Policy" content="([^"]*)"', page)
    assert found
    return found[1]


def test_the_page_may_ask_that_server_for_pictures_and_no_other() -> None:
    page = web_map(plots.short(), Basemap(), layers=MapLayers(tiles=Tiles(URL, WHOSE)))
    assert "img-src data: https://tiles.example;" in policy_of(page)
    assert "default-src 'none'" in policy_of(page)
    assert policy_of(page).count("https:") == 1
    assert "<b>tiles</b>" not in page
    assert "&lt;b&gt;tiles&lt;/b&gt;" in page
    assert 'value="tiles"' in page


def test_without_them_the_page_names_no_server() -> None:
    page = web_map(plots.short(), Basemap())
    assert "img-src data:;" in policy_of(page)
    assert 'value="tiles"' not in page
    assert "tiles-note" not in page


def test_a_map_with_tiles_is_cautioned_and_a_file_without_a_map_is_not() -> None:
    layers = MapLayers(tiles=Tiles(URL, WHOSE))
    (told,) = export_cautions(plots.short(), ["map"], layers=layers)
    assert (told.rank, told.code) == ("CHECK", "online-tiles")
    assert "tiles.example" in told.text
    assert export_cautions(plots.short(), ["csv"], layers=layers) == []
