"""The printed scale, read back from the PDF's drawing commands and from poppler's picture of it."""

from __future__ import annotations

import io
import math
import os
import re
import shutil
import subprocess
import sys
from collections import defaultdict
from pathlib import Path

import numpy as np
import pypdf
import pytest
from drawn import Drawing, Stroke, drawings

from plotter import wording
from plotter.chart.own_plotter import EDGES, OwnPlotter, Pair
from plotter.chart.own_plotter_verdict import LONGEST_PRINTED_MM, verdict_of
from plotter.chart.scales import SCALES
from plotter.paper.rule import longest_mark, readings, rule_pages
from plotter.paper.style import A4, LETTER, PAPERS, SMALLEST_PT, Paper

TRUE_MM = 0.05
"""What a bar may be off in the PDF; a printer's dot at 600 to the inch is 0.04 mm."""
# Lengths of a mile at 1:500,000: 1,852 m and 1,609.344 m over the denominator
# (ICAO Annex 5; NIST SP 811, appendix B).
MILE_MM = {
    ("sectional", "nm"): 3.704,
    ("terminal", "nm"): 7.408,
    ("world", "nm"): 1.852,
    ("sectional", "sm"): 3.218688,
    ("terminal", "sm"): 6.437376,
    ("world", "sm"): 1.609344,
}


@pytest.fixture(scope="module", params=list(PAPERS.values()), ids=list(PAPERS))
def paper(request: pytest.FixtureRequest) -> Paper:
    given: Paper = request.param
    return given


@pytest.fixture(scope="module")
def data(paper: Paper) -> bytes:
    return rule_pages(paper)


@pytest.fixture(scope="module")
def sheets(data: bytes) -> list[Drawing]:
    return drawings(data)


def bars(sheet: Drawing) -> list[tuple[Stroke, Stroke]]:
    """Pairs of end marks: upright lines of one height that stand alone in theirs."""
    rows: dict[tuple[float, float], list[Stroke]] = defaultdict(list)
    for stroke in sheet.strokes:
        if stroke.is_upright and stroke.top_mm < 90:
            rows[round(stroke.top_mm, 3), round(stroke.bottom_mm, 3)].append(stroke)
    return [(pair[0], pair[1]) for _, pair in sorted(rows.items()) if len(pair) == 2]


def rulers(sheet: Drawing) -> list[tuple[str, float, float, float]]:
    """Each ruler: its chart, the line of its zero, its upper and its lower edge [mm]."""
    found = [each for each in sheet.outlines if each.curves == 4 and each.width_mm > 200]
    zeros = [
        stroke
        for each in found
        for stroke in sheet.strokes
        if stroke.is_upright
        and math.isclose(stroke.top_mm, each.top_mm, abs_tol=1e-3)
        and math.isclose(stroke.bottom_mm, each.bottom_mm, abs_tol=1e-3)
    ]
    assert len(found) == len(zeros) == len(SCALES)
    edges = sorted((zero.top_mm, zero.bottom_mm, zero.x_mm) for zero in zeros)
    return [(name, x, top, bottom) for name, (top, bottom, x) in zip(SCALES, edges, strict=True)]


def test_the_paper_is_the_paper(sheets: list[Drawing], paper: Paper) -> None:
    # ISO 216: A4 is 210 × 297 mm. US letter is 8.5 × 11 in.
    wanted = {"a4": (297.0, 210.0), "letter": (279.4, 215.9)}[paper.name]
    for sheet in sheets:
        assert (sheet.width_mm, sheet.height_mm) == pytest.approx(wanted, abs=0.001)


def test_the_bars_are_true(sheets: list[Drawing]) -> None:
    lengths = [second.x_mm - first.x_mm for first, second in bars(sheets[0])]
    assert lengths == pytest.approx([100.0, 4 * 25.4], abs=TRUE_MM)
    assert max(abs(lengths[0] - 100.0), abs(lengths[1] - 101.6)) < 0.0005


def test_the_card_is_the_size_of_a_card(sheets: list[Drawing]) -> None:
    # ISO/IEC 7810, size ID-1: 85.60 × 53.98 mm.
    (card,) = [each for each in sheets[0].outlines if each.curves == 4 and each.width_mm < 100]
    assert card.width_mm == pytest.approx(85.60, abs=TRUE_MM)
    assert card.height_mm == pytest.approx(53.98, abs=TRUE_MM)


def ticks(sheet: Drawing, zero_mm: float, at_mm: float, side: str) -> list[float]:
    """Distances from zero of the marks that begin on an edge."""
    return sorted(
        stroke.x_mm - zero_mm
        for stroke in sheet.strokes
        if stroke.is_upright
        and stroke.bottom_mm - stroke.top_mm < 6
        and math.isclose(getattr(stroke, side), at_mm, abs_tol=1e-3)
    )


@pytest.mark.parametrize("edge", EDGES)
def test_every_mark_of_every_ruler_is_true(sheets: list[Drawing], edge: str) -> None:
    for name, zero_mm, top_mm, bottom_mm in rulers(sheets[0]):
        at_mm, side = (top_mm, "top_mm") if edge == "nm" else (bottom_mm, "bottom_mm")
        marks = ticks(sheets[0], zero_mm, at_mm, side)
        step = {"sectional": 0.5, "terminal": 0.1, "world": 1.0}[name] * MILE_MM[name, edge]
        assert marks == pytest.approx([step * (n + 1) for n in range(len(marks))], abs=TRUE_MM)
        assert len(marks) * step > 225


@pytest.mark.parametrize("edge", EDGES)
def test_every_number_stands_at_its_mark(sheets: list[Drawing], edge: str, paper: Paper) -> None:
    width_mm = paper.landscape.width_mm - 20
    for name, zero_mm, top_mm, bottom_mm in rulers(sheets[0]):
        middle_mm = (top_mm + bottom_mm) / 2
        band = (top_mm, middle_mm - 2) if edge == "nm" else (middle_mm + 2, bottom_mm)
        numbers = {
            int(word.text): word.where[0] - zero_mm
            for word in sheets[0].words
            if band[0] < word.where[1] < band[1] and word.text.isdigit() and word.text != "0"
        }
        assert max(numbers) == longest_mark(SCALES[name], edge, width_mm)  # type: ignore[arg-type]
        half_digit_mm = 0.89
        for number, left_mm in numbers.items():
            centre_mm = left_mm + len(str(number)) * half_digit_mm
            assert centre_mm == pytest.approx(number * MILE_MM[name, edge], abs=0.3), (name, number)


def test_no_ruler_is_longer_than_is_said(sheets: list[Drawing]) -> None:
    for _, zero_mm, top_mm, _ in rulers(sheets[0]):
        assert ticks(sheets[0], zero_mm, top_mm, "top_mm")[-1] < LONGEST_PRINTED_MM


def test_every_degree_of_the_rose_is_true(sheets: list[Drawing]) -> None:
    circle = max((o for o in sheets[1].outlines if o.curves == 4), key=lambda o: o.width_mm)
    assert circle.width_mm == pytest.approx(120.0, abs=TRUE_MM)
    assert circle.height_mm == pytest.approx(120.0, abs=TRUE_MM)
    x_mm, y_mm = circle.left_mm + 60, circle.top_mm + 60
    angles = sorted(
        math.degrees(math.atan2(stroke.start[0] - x_mm, y_mm - stroke.start[1])) % 360
        for stroke in sheets[1].strokes
        if math.isclose(math.dist(stroke.start, (x_mm, y_mm)), 60.0, abs_tol=0.001)
    )
    turned = sorted((angle + 0.5) % 360 - 0.5 for angle in angles)
    assert turned == pytest.approx(list(range(360)), abs=0.001)


def test_every_number_of_the_rose_stands_at_its_degree(sheets: list[Drawing]) -> None:
    circle = max((o for o in sheets[1].outlines if o.curves == 4), key=lambda o: o.width_mm)
    x_mm, y_mm = circle.left_mm + 60, circle.top_mm + 60
    found = {}
    for word in sheets[1].words:
        if re.fullmatch(r"\d{3}", word.text) and math.dist(word.where, (x_mm, y_mm)) < 60:
            dx, dy = word.where[0] - x_mm, y_mm - word.where[1]
            turn_deg = -math.degrees(math.atan2(word.turned[1], word.turned[0])) % 360
            found[int(word.text)] = (turn_deg, math.degrees(math.atan2(dx, dy)) % 360)
    assert set(found) == set(range(10, 361, 10)), "north is printed 360"
    for number, (turn_deg, at_deg) in found.items():
        assert math.cos(math.radians(turn_deg - number)) == pytest.approx(1.0, abs=1e-6)
        assert math.cos(math.radians(at_deg - number)) > math.cos(math.radians(4.0))


def test_every_page_carries_the_cautions(sheets: list[Drawing]) -> None:
    assert len(sheets) == 2
    for sheet in sheets:
        for words in wording.STANDING:
            assert words in sheet.text


def test_the_sheet_says_how_it_is_proved(sheets: list[Drawing]) -> None:
    for words in ("100%", "fit to page", "steel rule", "bank card", "never the plotter you test"):
        assert words in sheets[0].text, words


def read_on_a_page(sheet: Drawing, printed_at: float, plotter_at: float) -> OwnPlotter:
    """What a plotter reads on the sectional ruler, each of the two drawn at a share of its size.

    Plain geometry: two edges laid zero on zero. The figure of the plotter beside a mark of the
    ruler is the mark's distance from zero over the length that a mile takes up on the plotter.
    """
    _, zero_mm, top_mm, _ = rulers(sheet)[0]
    plotter_mile_mm = MILE_MM["sectional", "nm"] * plotter_at
    marks = ticks(sheet, zero_mm, top_mm, "top_mm")
    pairs = [
        Pair((number + 1) / 2, printed_at * marks[number] / plotter_mile_mm, decimals=2)
        for number in (19, 79, 129)
    ]
    assert [pair.ruler for pair in pairs] == [10.0, 40.0, 65.0]
    return OwnPlotter(SCALES["sectional"], "nm", tuple(pairs))


def test_what_the_sheet_says_of_a_page_that_was_scaled_is_what_the_test_answers(
    sheets: list[Drawing],
) -> None:
    said = re.search(
        r"printed at (\d+)%.* shows (\d+) mm: its rulers would call a good plotter (\d+)% (\w+), "
        r"and one that has shrunk as much good",
        sheets[0].text,
    )
    assert said, sheets[0].text
    share = int(said[1]) / 100
    first, last = bars(sheets[0])[0]
    assert (last.x_mm - first.x_mm) * share == pytest.approx(int(said[2]), abs=TRUE_MM)
    good = read_on_a_page(sheets[0], share, 1.0)
    assert good.fit is not None
    assert good.fit.factor == pytest.approx(1 - int(said[3]) / 100, abs=1e-4)
    assert f"reads {said[3]}.0%" in verdict_of(good).text
    assert f") {said[4]}, " in verdict_of(good).text
    assert verdict_of(read_on_a_page(sheets[0], share, share)).code == "trust"
    assert ") long, as a shrunken plotter" in verdict_of(read_on_a_page(sheets[0], 1.0, share)).text


def test_nothing_is_printed_too_small_or_outside_the_margins(sheets: list[Drawing]) -> None:
    for sheet in sheets:
        assert min(sheet.letter_sizes_pt) >= SMALLEST_PT
        points = [p for stroke in sheet.strokes for p in (stroke.start, stroke.end)]
        points += [word.where for word in sheet.words]
        for x_mm, y_mm in points:
            assert 9.9 <= x_mm <= sheet.width_mm - 9.9
            assert 9.9 <= y_mm <= sheet.height_mm - 6.0


def test_fonts_are_embedded_and_nothing_is_fetched(data: bytes) -> None:
    reader = pypdf.PdfReader(io.BytesIO(data))
    for page in reader.pages:
        fonts = page["/Resources"]["/Font"].values()
        assert fonts
        for font in fonts:
            assert "/FontFile2" in font.get_object()["/FontDescriptor"]
    assert not re.search(rb"/URI|https?://|/JavaScript|/Launch", data)


def test_the_document_asks_for_no_scaling(data: bytes) -> None:
    root = pypdf.PdfReader(io.BytesIO(data)).trailer["/Root"]
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"
    assert root["/Lang"] == "en"


def test_the_same_sheets_are_the_same_bytes_on_any_day_and_machine() -> None:
    code = (
        "import sys; from plotter.paper.rule import rule_pages; from plotter.paper.style import A4;"
        "sys.stdout.buffer.write(rule_pages(A4))"
    )
    made = {
        subprocess.run(
            [sys.executable, "-c", code],
            env=os.environ | {"PYTHONHASHSEED": seed, "TZ": zone, "SOURCE_DATE_EPOCH": seed},
            capture_output=True,
            check=True,
        ).stdout
        for seed, zone in (("1", "UTC"), ("2", "Asia/Tokyo"))
    }
    assert made == {rule_pages(A4)}


@pytest.mark.skipif(not shutil.which("pdftoppm"), reason="poppler is not on the path")
def test_another_reader_draws_the_bar_as_long(tmp_path: Path) -> None:
    """The picture poppler makes of the sheet, its end marks found as dark columns."""
    dots = 600
    source = tmp_path / "rule.pdf"
    source.write_bytes(rule_pages(LETTER))
    target = tmp_path / "rule"
    command = ["pdftoppm", "-gray", "-r", str(dots), "-f", "1", "-l", "1", "-singlefile"]
    subprocess.run([*command, source, target], check=True)
    _, size, _, pixels = (tmp_path / "rule.pgm").read_bytes().split(b"\n", 3)
    width, height = map(int, size.split())
    picture = np.frombuffer(pixels, dtype=np.uint8).reshape(height, width)
    assert width == pytest.approx(11 * dots, abs=1)
    for (first, second), wanted_mm in zip(
        bars(drawings(source.read_bytes())[0]), (100.0, 101.6), strict=True
    ):
        row = picture[round((first.top_mm + 0.9) / 25.4 * dots)].astype(float)
        ends = []
        for stroke in (first, second):
            near = round(stroke.x_mm / 25.4 * dots) + np.arange(-20, 21)
            ends.append(np.average(near, weights=255 - row[near]))
        assert (ends[1] - ends[0]) / dots * 25.4 == pytest.approx(wanted_mm, abs=TRUE_MM)


def test_the_table_has_marks_that_the_rulers_have() -> None:
    for paper in PAPERS.values():
        width_mm = paper.landscape.width_mm - 20
        for row in readings(width_mm):
            for number, scale in zip(row[:6:2], SCALES.values(), strict=True):
                assert float(number) <= longest_mark(scale, "nm", width_mm)
