"""Pages: letters of the world, letters there are none of, tables to size, hostile names."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest
from awkward import NAMES
from drawn import drawings

from plotter.errors import CannotDo, InputError
from plotter.maps.palette import contrast
from plotter.paper.page import NOTE, Pages, clipped, spelled, wrapped
from plotter.paper.style import A4, BODY, INK, LETTER, SMALL, THIN, WHITE, Box, Style, paper_named
from plotter.paper.table import Column, draw_table

FONTS = Path(__file__).parent.parent / "plotter" / "paper" / "fonts"


def page_of(words: str) -> str:
    pages = Pages(A4, "Trial")
    pages.begin()
    pages.text((20, 50), words)
    return drawings(pages.to_bytes())[0].text


@pytest.mark.parametrize(
    "words",
    ["Žilina", "Ελλάδα", "Москва", "Đà Nẵng", "Þórshöfn", "Հայաստան", "თბილისი", "½ – “x” ’ ± × °"],
)
@pytest.mark.parametrize("bold", [False, True])
def test_names_of_many_scripts_are_printed_and_read_back(words: str, bold: bool) -> None:
    pages = Pages(A4, "Trial")
    pages.begin()
    pages.text((20, 50), words, Style(bold=bold))
    text = drawings(pages.to_bytes())[0].text
    assert words in text
    assert NOTE not in text


@pytest.mark.parametrize(
    ("words", "wanted"),
    [
        ("東京", "[U+6771][U+4EAC]"),
        ("القاهرة", "[U+0627]"),
        ("✈", "[U+2708]"),
        ("𝔄", "[U+1D504]"),
    ],
)
def test_a_letter_there_is_none_of_is_named_and_the_page_says_so(words: str, wanted: str) -> None:
    text = page_of(words)
    assert wanted in text
    assert NOTE in text


def test_the_note_stands_only_on_the_page_that_needs_it() -> None:
    pages = Pages(LETTER, "Trial")
    pages.begin()
    pages.text((20, 50), "東")
    pages.begin()
    pages.text((20, 50), "plain")
    first, second = drawings(pages.to_bytes())
    assert NOTE in first.text
    assert NOTE not in second.text
    assert "page 2" in second.text


@pytest.mark.parametrize("name", NAMES.values(), ids=NAMES)
def test_a_hostile_name_is_only_text(name: str) -> None:
    pages = Pages(A4, "Trial")
    pages.begin()
    pages.paragraph((20, 50), name, 80.0)
    pages.text((20, 200), pages.fitted(name, 40.0))
    assert "A planning aid" in drawings(pages.to_bytes())[0].text


def test_a_line_is_drawn_where_it_is_said() -> None:
    pages = Pages(A4, "Trial")
    pages.begin()
    pages.line((10, 20), (110, 95), THIN)
    strokes = drawings(pages.to_bytes())[0].strokes
    assert strokes[0].start == pytest.approx((10, 20), abs=1e-4)
    assert strokes[0].end == pytest.approx((110, 95), abs=1e-4)
    assert strokes[0].width_mm == pytest.approx(0.2, abs=1e-4)


def test_words_are_set_from_the_side_that_is_said() -> None:
    pages = Pages(A4, "Trial")
    pages.begin()
    width_mm = pages.width_mm("Duluth", BODY)
    for y, side in ((50, "left"), (60, "middle"), (70, "right")):
        pages.text((100, y), "Duluth", BODY, side)  # type: ignore[arg-type]
    starts = [w.where[0] for w in drawings(pages.to_bytes())[0].words if w.text == "Duluth"]
    wanted = [100, 100 - width_mm / 2, 100 - width_mm]
    assert starts == pytest.approx(wanted, abs=1e-3)


def test_a_table_is_as_large_as_it_is_said() -> None:
    pages = Pages(A4, "Trial")
    pages.begin()
    columns = [Column("Leg", 15.0, "right"), Column("From", 30.0), Column("Course", 20, "middle")]
    rows = [["1", "Rochester", "092°T"], ["2", "A very long name indeed, too long", "351°T"]]
    box = draw_table(pages, (20.0, 40.0), columns, rows, 7.5)
    assert box == Box(20.0, 40.0, 65.0, 22.5)
    drawing = drawings(pages.to_bytes())[0]
    across = sorted(
        {round(s.top_mm, 3) for s in drawing.strokes if s.start[0] == pytest.approx(20, abs=1e-3)}
    )
    assert across[:4] == [40.0, 47.5, 55.0, 62.5]
    assert "A very long nam" in drawing.text
    assert "too long" not in drawing.text
    assert "…" in drawing.text


def test_the_body_keeps_clear_of_the_cautions() -> None:
    for paper in (A4, A4.landscape, LETTER):
        pages = Pages(paper, "Trial")
        body = pages.begin()
        sheet = drawings(pages.to_bytes())[0]
        caution = next(word for word in sheet.words if word.text.startswith("A planning aid"))
        assert body.bottom_mm < caution.where[1] - SMALL.digit_mm


def test_a_paper_that_is_none() -> None:
    with pytest.raises(InputError, match="a4 or letter") as caught:
        paper_named("foolscap")
    assert caught.value.code == "paper"


def test_words_can_be_read_on_white() -> None:
    assert contrast(INK, WHITE) >= 4.5


def test_lines_hold_every_word_and_no_line_is_too_wide() -> None:
    words = "Lay the hole of your plotter on the small circle " + "x" * 200
    lines = wrapped(words, 20, len)
    assert max(map(len, lines)) <= 20
    assert "".join(lines).replace(" ", "") == words.replace(" ", "")
    assert wrapped("", 20, len) == []


def test_what_fits_is_not_cut_and_what_does_not_ends_in_an_ellipsis() -> None:
    assert clipped("Eau Claire", 4, len) == "Eau…"
    assert clipped("Eau Claire", 0, len) == "…"
    assert spelled("a\tb\n\x00c", lambda letter: True) == "a b c"


def test_the_fonts_are_the_ones_the_notices_speak_of() -> None:
    sums = {
        "DejaVuSansCondensed.ttf": (
            "12959e2f9c4d04c907a30612d36dd8b6ee52d767bcdef40ac10280a6855d87b2"
        ),
        "DejaVuSansCondensed-Bold.ttf": (
            "0e7afebd2b5b624d4ca53f0a7f153db58efca907901efd47b22a34fa47842622"
        ),
    }
    for name, wanted in sums.items():
        assert hashlib.sha256((FONTS / name).read_bytes()).hexdigest() == wanted
    licence = (FONTS / "LICENSE.txt").read_text(encoding="utf-8")
    assert "Permission is hereby granted, free of charge" in licence


def test_a_date_of_the_environment_that_is_none_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "soon")
    with pytest.raises(CannotDo, match="SOURCE_DATE_EPOCH"):
        Pages(A4, "Trial")
