"""Hostile names are shown as text, run nowhere: not when read, hovered, focused or clicked."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import awkward
import base_cells
import plots
import pytest

from plotter.maps import labels
from plotter.messages import literal
from plotter.places.airports import Beside
from plotter.places.model import Frequency, Runway
from plotter.route.plotting import Plot
from plotter.route.values import Caution

pytestmark = pytest.mark.browser

NAMES = [name for name in awkward.NAMES.values() if name]


def fields() -> tuple[Beside, ...]:
    """An airport for each hostile name, which also names its runway and its frequency."""
    found = []
    for number, name in enumerate(NAMES):
        runway = Runway(name, "31", 4200.0, None, name, False, False, None, None)
        field = replace(
            plots.airport(f"X{number:03d}", name, 30.05 + 0.01 * number, -110.05),
            runways=(runway,),
            frequencies=(Frequency(name, name, 122.8),),
        )
        found.append(Beside(field, 1, float(number), 1.0))
    return tuple(found)


def hostile() -> Plot:
    plot = plots.named(*NAMES)
    return replace(
        plot,
        name=awkward.NAMES["closing-script"],
        near=fields(),
        checkpoints=tuple(
            replace(mark, name=NAMES[i % len(NAMES)]) for i, mark in enumerate(plot.checkpoints)
        ),
        cautions=tuple(Caution("CHECK", literal("demo", name), name, name) for name in NAMES),
    )


@pytest.fixture(scope="module")
def opened(open_once: Any) -> Any:
    source = base_cells.prairie()
    source.towns["+30-110"] = [(name, 30.3 + 0.02 * i, -109.5, 10) for i, name in enumerate(NAMES)]
    source.towns["+30-115"] = [(name, 30.3 + 0.02 * i, -110.5, 10) for i, name in enumerate(NAMES)]
    return open_once(hostile(), source=source)


def nothing_ran(opened: Any) -> None:
    assert opened.ask("window.ran") == []
    assert opened.complaints == []
    assert len(opened.requests) == 1
    assert opened.page.locator("img, iframe, object, embed, b").count() == 0
    assert opened.page.locator("script").count() == 4


def test_reading_runs_nothing_and_every_name_is_there_as_text(opened: Any) -> None:
    nothing_ran(opened)
    ends = opened.ask(
        "[...document.querySelectorAll('#legs-table tbody td:nth-child(2)')]"
        ".map((cell) => cell.textContent)"
    )
    assert ends == [labels.visible(name) for name in NAMES[:-1]]
    assert opened.page.title().startswith(labels.visible(awkward.NAMES["closing-script"]))


def test_hover_focus_and_click_on_every_row_run_nothing(opened: Any) -> None:
    titles = opened.ask(
        """() => [...document.querySelectorAll("tr[data-item]")].map((row) => {
          row.dispatchEvent(new MouseEvent("mouseenter"));
          const link = row.querySelector("a");
          link.focus();
          link.click();
          row.dispatchEvent(new MouseEvent("mouseleave"));
          return document.getElementById("slip").textContent;
        })"""
    )
    assert len(titles) == opened.page.locator("tr[data-item]").count()
    for name in NAMES:
        assert any(" ".join(labels.visible(name).split()) in " ".join(t.split()) for t in titles)
    nothing_ran(opened)


def test_hover_and_click_on_the_map_run_nothing(opened: Any) -> None:
    opened.page.locator("#whole").click()
    opened.ask("scrollTo(0, 0)")
    spots = opened.boxes("#map_route .field, #map_route .word, #map_route .touch")
    inside = [s for s in spots if 100 < s["left"] < 1000 and 170 < s["top"] < 650]
    assert inside
    for spot in inside[:40]:
        x, y = (spot["left"] + spot["right"]) / 2, (spot["top"] + spot["bottom"]) / 2
        opened.page.mouse.move(x, y)
        opened.page.mouse.click(x, y)
    nothing_ran(opened)


def test_long_names_are_cut_on_the_map_and_wrap_in_the_tables(opened: Any) -> None:
    words = [spot["text"] for spot in opened.boxes("#map_route .w-point")]
    assert words
    assert max(map(len, words)) <= labels.LETTERS_ON_MAP
    assert opened.ask("document.documentElement.scrollWidth <= innerWidth")


TURNING = ["override", "isolate", "right-to-left"]
AFTER = " 9 NM"
# Left edges of what is written before the words of ours on their line, and of these words.
PLACES_AFTER = """([selector, after]) => [...document.querySelectorAll(selector)].map((node) => {
  const walk = document.createTreeWalker(node, NodeFilter.SHOW_TEXT);
  const range = document.createRange();
  for (let text = walk.nextNode(); text; text = walk.nextNode()) {
    const start = text.data.indexOf(after);
    if (start < 0) continue;
    const words = [...after.matchAll(/\\S+/g)].map((word) => {
      range.setStart(text, start + word.index);
      range.setEnd(text, start + word.index + word[0].length);
      return range.getBoundingClientRect();
    });
    range.setStart(text, 0);
    range.setEnd(text, start);
    const near = (box) => Math.abs(box.top - words[0].top) < 3;
    const before = [...range.getClientRects()].filter(near);
    return [...before.map((box) => box.left), ...words.map((box) => box.left)];
  }
  return null;
})"""


@pytest.mark.parametrize("kind", TURNING)
def test_a_name_written_the_other_way_leaves_its_neighbours_in_their_order(
    kind: str, open_map: Any
) -> None:
    name = awkward.NAMES[kind]
    radio = Frequency("CTAF", name + AFTER, 122.8)
    field = replace(plots.airport("XDMA", name, 30.05, -110.05), frequencies=(radio,))
    plot = replace(
        plots.named(name, "B"),
        name=name,
        near=(Beside(field, 1, 1.0, 1.0),),
        cautions=(Caution("NOTE", literal("demo", name + AFTER)),),
    )
    opened = open_map(plot)
    opened.page.locator("#airports-table a").first.click()
    places = opened.ask(PLACES_AFTER, [".cautions li span, #slip-list dd", AFTER])
    found = [place for place in places if place]
    assert len(found) == 2, "the sentence of the caution and the line of the frequency"
    for place in found:
        assert place == sorted(place)
    assert "\u202e" not in opened.page.title()
    for direction in ("\u202e", "\u2067"):
        assert direction not in opened.page.locator("body").inner_text()
