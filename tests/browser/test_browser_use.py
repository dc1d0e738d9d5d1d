"""Using the page: by keyboard, by pointer, on paper, on any width, with motion reduced."""

from __future__ import annotations

from itertools import combinations
from typing import Any

import base_cells
import plots
import pytest
from planning import Looked

pytestmark = pytest.mark.browser


def lit(opened: Any) -> list[str]:
    return list(opened.ask("[...document.querySelectorAll('tr.lit')].map((r) => r.dataset.item)"))


def test_the_keyboard_reaches_everything(open_map: Any) -> None:
    opened = open_map(plots.short())
    reached = []
    for _ in range(60):
        opened.page.keyboard.press("Tab")
        reached.append(
            opened.ask(
                "(document.activeElement.id || document.activeElement.className || "
                "document.activeElement.closest('[data-item]')?.dataset.item || "
                "document.activeElement.value || '')"
            )
        )
    assert reached[0] == "skip"
    items = opened.ask("[...document.querySelectorAll('tr[data-item]')].map((r) => r.dataset.item)")
    assert set(items) <= set(reached)
    assert any("leaflet-container" in name or name == "map_route" for name in reached)
    assert "whole" in reached
    assert {"airports", "towns", "water", "borders", "graticule"} <= set(reached)


def test_a_leg_lights_from_its_row_and_its_row_from_the_leg(open_map: Any) -> None:
    opened = open_map(plots.short())
    opened.page.locator("#legs-table a").nth(1).focus()
    assert lit(opened) == ["leg-2"]
    assert opened.page.locator("#map_route .ink-1.lit").count() == 1
    opened.page.locator("#legs-table a").nth(1).blur()
    assert lit(opened) == []
    opened.page.locator("#legs-table tbody tr").nth(0).hover()
    assert opened.page.locator("#map_route .ink-0.lit").count() == 1
    opened.ask("scrollTo(0, 0)")
    label = opened.boxes("#map_route .w-number")[0]
    opened.page.mouse.move(
        (label["left"] + label["right"]) / 2, (label["top"] + label["bottom"]) / 2
    )
    assert lit(opened) == ["leg-1"]


def test_enter_on_a_row_shows_its_slip_and_escape_puts_it_away(open_map: Any) -> None:
    opened = open_map(plots.short())
    slip = opened.page.locator("#slip")
    assert not slip.is_visible()
    opened.page.locator("#airports-table a").first.focus()
    opened.page.keyboard.press("Enter")
    opened.settle()
    assert slip.is_visible()
    text = slip.inner_text()
    for part in ("Airport XDMC", "Demo Strip", "13/31: 4,200 × 75 ft", "CTAF 122.800 MHz"):
        assert part in text
    assert lit(opened) == ["airport-0"]
    opened.page.keyboard.press("Escape")
    assert not slip.is_visible()


def test_a_turning_point_at_an_airport_shows_its_runways_too(open_map: Any) -> None:
    opened = open_map(plots.short())
    opened.page.locator("#checkpoints-table a").first.click()
    assert "13/31: 4,200 × 75 ft" in opened.page.locator("#slip").inner_text()
    opened.page.locator("#checkpoints-table a").nth(1).click()
    assert "Runways" not in opened.page.locator("#slip").inner_text()


def test_clicking_a_leg_or_an_airport_on_the_map_shows_its_slip(open_map: Any) -> None:
    opened = open_map(plots.short())
    label = opened.boxes("#map_route .w-number")[1]
    opened.page.mouse.click(label["left"] + 3, label["top"] + 6)
    assert opened.page.locator("#slip-title").inner_text() == "Leg 2"
    sign = opened.boxes("#map_route .field")[0]
    opened.page.mouse.click((sign["left"] + sign["right"]) / 2, (sign["top"] + sign["bottom"]) / 2)
    assert opened.page.locator("#slip-title").inner_text() == "Airport XDMC"


def test_what_is_picked_stays_lit_when_the_map_moves(open_map: Any) -> None:
    opened = open_map(plots.short())
    opened.page.locator("#airports-table a").first.click()
    opened.settle()
    opened.ask("void theMap.panBy([10, 10], { animate: false })")
    assert opened.page.locator("#map_route .field.lit").count() == 1


@pytest.mark.parametrize(
    ("layer", "selector"),
    [("airports", ".field"), ("towns", ".town"), ("graticule", "path.graticule")],
)
def test_a_layer_that_is_switched_off_is_gone_and_comes_back(
    layer: str, selector: str, open_map: Any
) -> None:
    opened = open_map(plots.short())
    shown = opened.page.locator(f"#map_route {selector}")
    before = shown.count()
    assert before > 0
    opened.page.locator(f"#layers input[value={layer}]").click()
    assert shown.count() == 0
    opened.page.locator(f"#layers input[value={layer}]").click()
    assert shown.count() == before


@pytest.mark.parametrize(("layer", "name"), [("water", "lake"), ("borders", "state")])
def test_a_base_layer_is_hidden_by_its_switch(layer: str, name: str, open_map: Any) -> None:
    opened = open_map(plots.short())
    drawn = opened.page.locator(f"#map_route .base.{name}").first
    assert drawn.is_visible()
    opened.page.locator(f"#layers input[value={layer}]").click()
    assert not drawn.is_visible()


@pytest.mark.parametrize("width", [390, 768, 1440])
def test_the_page_fits_its_window(width: int, open_map: Any) -> None:
    opened = open_map(plots.short(), width=width, height=844)
    assert opened.ask("document.documentElement.scrollWidth") == width
    size = opened.ask("[theMap.getSize().x, theMap.getSize().y]")
    assert size[0] > 0.75 * min(width, 1248)
    assert 300 <= size[1] < 0.8 * 844
    outside = opened.ask(
        """() => [...document.querySelectorAll(
          "h1, h2, .figures dd, #layers label, .key li, footer p")]
          .filter((node) => node.getBoundingClientRect().right > innerWidth + 0.5)
          .map((node) => node.textContent)"""
    )
    assert outside == []


@pytest.mark.parametrize("width", [390, 1440])
def test_no_word_on_the_map_lies_on_another(width: int, open_map: Any) -> None:
    opened = open_map(plots.mountain(), width=width, source=base_cells.prairie())
    words = opened.boxes("#map_route .w-point, #map_route .w-checkpoint, #map_route .w-airport")
    assert words
    for one, other in combinations(words, 2):
        apart = (
            one["right"] - 1 <= other["left"]
            or other["right"] - 1 <= one["left"]
            or one["bottom"] - 3 <= other["top"]
            or other["bottom"] - 3 <= one["top"]
        )
        assert apart, (one, other)


def test_labels_are_thinned_when_legs_are_short_on_the_screen(open_map: Any) -> None:
    opened = open_map(plots.many(60), width=1000)
    few = len(opened.boxes("#map_route .w-course"))
    assert few < 60
    opened.ask("void theMap.setZoom(theMap.getZoom() + 3, { animate: false })")
    one_leg = opened.ask("theMap.getZoom()")
    assert one_leg > 6
    assert len(opened.boxes("#map_route .w-course")) > 0


def test_a_thousand_legs_open_and_pan_and_are_all_in_the_table(open_map: Any) -> None:
    opened = open_map(plots.many(1000))
    assert opened.page.locator("#legs-table tbody tr").count() == 1000
    assert opened.page.locator("#map_route path.touch").count() == 1000
    drawn = opened.page.locator("#map_route circle.turn").count()
    assert 2 <= drawn < 400
    opened.ask("void theMap.panBy([300, 0], { animate: false })")
    opened.ask("void theMap.setZoom(theMap.getZoom() + 2, { animate: false })")
    assert opened.page.locator("#map_route circle.turn").count() > 0
    assert opened.complaints == []


def test_with_motion_reduced_nothing_is_animated(open_map: Any) -> None:
    still = open_map(plots.short(), reduced_motion="reduce")
    for option in ("zoomAnimation", "fadeAnimation", "inertia"):
        assert still.ask(f"theMap.options.{option}") is False
    moving = open_map(plots.short(), reduced_motion="no-preference")
    assert moving.ask("theMap.options.zoomAnimation") is True


def test_on_paper_the_whole_route_is_laid_out_anew_without_controls(open_map: Any) -> None:
    opened = open_map(plots.short(), width=390)
    opened.ask("void theMap.setZoom(11, { animate: false })")
    opened.page.emulate_media(media="print")
    opened.ask("window.dispatchEvent(new Event('beforeprint'))")
    frame = opened.boxes("#map_route")[0]
    assert frame["right"] - frame["left"] == pytest.approx(93 / 25.4 * 96, abs=2)
    for turn in opened.boxes("#map_route circle.turn"):
        assert frame["left"] < turn["left"]
        assert turn["right"] < frame["right"]
    for hidden in ("#layers", ".leaflet-control-zoom", ".skip"):
        assert not opened.page.locator(hidden).is_visible()
    opened.ask("window.dispatchEvent(new Event('afterprint'))")
    assert opened.ask("theMap.getZoom()") == 11
    assert opened.page.pdf().startswith(b"%PDF")


def test_the_wheel_scrolls_the_page_until_the_map_has_the_focus(open_map: Any) -> None:
    opened = open_map(plots.short())
    assert opened.ask("theMap.scrollWheelZoom.enabled()") is False
    opened.page.locator("#map_route").focus()
    assert opened.ask("theMap.scrollWheelZoom.enabled()") is True
    opened.page.locator("#whole").focus()
    assert opened.ask("theMap.scrollWheelZoom.enabled()") is False


def test_axe_finds_nothing_serious(open_map: Any, axe: Looked) -> None:
    opened = open_map(plots.short())
    opened.page.locator("#airports-table a").first.click()
    opened.settle()
    axe(opened.page)
