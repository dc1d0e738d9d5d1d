"""The page on paper, as Chromium prints it: one page for an ordinary flight, whole rows."""

from __future__ import annotations

import datetime as dt
import io
import re
import unicodedata
from typing import Any

import plots
import pytest
from pypdf import PdfReader

from plotter import wording
from plotter.maps.tiles import MapLayers
from plotter.route.plotting import Plot, Wishes, plot_route

pytestmark = pytest.mark.browser

PAPERS = ["A4", "Letter"]
DEMO = "KRST KLSE KEAU KDLH"
SPARE_PT = 22.0
"""Room that must be left at the foot of the page [pt], two lines: other machines, other fonts."""


def pages(opened: Any, paper: str) -> list[Any]:
    return list(PdfReader(io.BytesIO(opened.page.pdf(format=paper))).pages)


def lettered(text: str) -> str:
    """Text in plain letters, because the reader of the PDF may give a ligature for "fl" or "fi"."""
    return unicodedata.normalize("NFKC", text)


def text_of(page: Any) -> str:
    return " ".join(lettered(page.extract_text()).split())


def lowest_pt(page: Any) -> float:
    """Height of the lowest line of text over the foot of the page [pt]."""
    heights: list[float] = []

    def visit(text: str, cm: list[float], tm: list[float], *_: object) -> None:
        if text.strip():
            heights.append(tm[4] * cm[1] + tm[5] * cm[3] + cm[5])

    page.extract_text(visitor_text=visit)
    return min(heights)


@pytest.fixture(scope="module")
def demo(real_store: Any) -> Plot:
    return plot_route(DEMO, real_store, Wishes(date=dt.date(2026, 7, 4)))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("isogonic", [False, True])
def test_the_demo_flight_is_one_page_with_everything_on_it(
    paper: str, isogonic: bool, demo: Plot, open_map: Any, real_store: Any
) -> None:
    layers = MapLayers(isogonic=isogonic)
    found = pages(open_map(demo, source=real_store, layers=layers), paper)
    assert len(found) == 1
    text = text_of(found[0])
    for leg in demo.route.legs:
        assert wording.magnetic_course(leg.true_course_deg, leg.variation.degrees_east) in text
    for mark in demo.checkpoints:
        assert lettered(wording.position(mark.position)) in text
    for caution in demo.cautions:
        assert lettered(caution.text[:60]) in text
    for words in (
        *wording.STANDING,
        demo.data.airports,
        "WMM2025, valid to",
        demo.date.isoformat(),
    ):
        assert lettered(words) in text
    assert len(demo.near) > 20
    assert "airports are listed on the page itself, not on this paper" in text
    assert lowest_pt(found[0]) > 8 / 25.4 * 72 + SPARE_PT


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize(
    "made", [plots.rhumb, plots.short, plots.mountain, plots.across_180, plots.far_north]
)
def test_an_ordinary_flight_is_one_page(paper: str, made: Any, open_map: Any) -> None:
    assert len(pages(open_map(made()), paper)) == 1


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("legs", [60, 1000])
def test_a_long_flight_goes_over_pages_with_heads_again_and_no_row_cut(
    paper: str, legs: int, open_map: Any
) -> None:
    plot = plots.many(legs)
    found = [lettered(page.extract_text()) for page in pages(open_map(plot), paper)]
    assert len(found) > 2
    for text in found:
        rows = re.findall(r"^ *\d+ P\d+ +P\d+ .*$", text, re.M)
        if rows:
            assert len(re.findall(r"From\s+To\s+TC\s+VAR\s+MC", text)) == 1
        if len(rows) > 3:
            for row in rows:
                assert re.search(r"\d{3}°T .*°M .*NM", row), row
        marks = re.findall(r"^ *(?:CP|P)\d+ +\d+(?:/\d+)? +.*$", text, re.M)
        if marks:
            assert len(re.findall(r"Checkpoint\s+Leg\s+Position", text)) == 1
        for mark in marks:
            assert re.search(r"′[NS] .*′[EW] .*NM .*NM", mark), mark
    every = "\n".join(found)
    assert len(re.findall(r"^ *\d+ P\d+ +P\d+ ", every, re.M)) == legs
    assert every.count("Whole route") == 1, "the sum stands once, under the last leg"


def test_the_list_of_airports_is_printed_where_it_is_ticked(open_map: Any) -> None:
    opened = open_map(plots.short())
    assert "Demo Strip" not in text_of(pages(opened, "A4")[0])
    opened.page.locator("#print-airports").check()
    text = " ".join(map(text_of, pages(opened, "A4")))
    assert "Demo Strip" in text
    assert "not on this paper" not in text


def test_an_upright_route_has_its_map_beside_its_checkpoints_and_a_flat_one_above(
    open_map: Any,
) -> None:
    for made, upright in ((plots.short(), True), (plots.rhumb(), False), (plots.many(60), False)):
        opened = open_map(made)
        opened.page.emulate_media(media="print")
        opened.ask("window.dispatchEvent(new Event('beforeprint'))")
        chart, marks = (opened.boxes(name)[0] for name in ("#map_route", "#checkpoints"))
        assert (marks["left"] >= chart["right"]) is upright
        assert (marks["top"] >= chart["bottom"]) is not upright
