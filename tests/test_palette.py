"""Colours: contrast that can be read, one palette, nothing beside it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from plotter.maps import palette
from plotter.maps.page import ASSETS, style

OURS = [ASSETS / "map.css", ASSETS / "page.html", *sorted((ASSETS / "map").glob("*.js"))]


@pytest.mark.parametrize(("ink", "ground"), palette.TEXT_PAIRS)
def test_text_can_be_read_on_whatever_it_stands_on(ink: str, ground: str) -> None:
    assert palette.contrast(ink, ground) >= palette.TEXT_CONTRAST


@pytest.mark.parametrize(("mark", "ground"), palette.MARK_PAIRS)
def test_marks_can_be_seen(mark: str, ground: str) -> None:
    assert palette.contrast(mark, ground) >= palette.MARK_CONTRAST


def test_contrast_agrees_with_published_pairs() -> None:
    # WCAG 2.2, technique G18: #767676 on white is the palest grey that passes 4.5:1; #777777 fails.
    assert palette.contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.005)
    assert palette.contrast("#FFFFFF", "#777777") == pytest.approx(4.48, abs=0.005)
    assert palette.contrast("#000000", "#FFFFFF") == pytest.approx(21.0)


def test_contrast_is_the_same_either_way_round_and_never_below_one() -> None:
    for one, other in palette.TEXT_PAIRS:
        assert palette.contrast(one, other) == palette.contrast(other, one) >= 1.0
    assert palette.contrast("#123456", "#123456") == 1.0


def test_pale_land_paler_water_and_data_darker_than_base() -> None:
    assert palette.luminance(palette.WATER) > palette.luminance(palette.LAND)
    darkest_base = min(map(palette.luminance, (palette.COAST, palette.BORDER, palette.STATE)))
    for data in (palette.GRAPHITE, palette.CLICKABLE):
        assert palette.luminance(data) < darkest_base


def test_accents_are_of_the_published_colour_blind_safe_set() -> None:
    # Okabe and Ito 2008: blue and vermillion.
    assert (palette.CLICKABLE, palette.CAUTION) == ("#0072B2", "#D55E00")


@pytest.mark.parametrize("path", OURS, ids=lambda path: path.name)
def test_no_colour_is_written_beside_the_palette(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert not re.findall(r"#[0-9A-Fa-f]{6}\b|rgba?\(|hsl\(", text)


def test_every_variable_that_is_used_exists_and_every_one_that_exists_is_used() -> None:
    sheet = style()
    defined = set(re.findall(r"^\s*--([\w-]+):", palette.style_variables(), re.M))
    used = set(re.findall(r"var\(--([\w-]+)\)", sheet))
    assert used == defined


def test_legs_differ_by_dash_and_not_by_colour() -> None:
    sheet = (ASSETS / "map.css").read_text(encoding="utf-8")
    rules = dict(re.findall(r"^\.(ink-\d) \{([^}]*)\}", sheet, re.M))
    assert set(rules) == {"ink-1", "ink-2"}  # the first leg is the plain line
    assert all("stroke-dasharray" in rule and "stroke:" not in rule for rule in rules.values())
    assert len(set(rules.values())) == len(rules)
