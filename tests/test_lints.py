"""What the lints count, on invented rows."""

from __future__ import annotations

import pytest

from plotter.datastore.making import lints
from plotter.places.rows import AIRPORTS


def airport(ident: str, lat: str, lon: str, **other: str) -> dict[str, str]:
    row = dict.fromkeys(AIRPORTS, "") | {
        "ident": ident,
        "kind": "small_airport",
        "name": f"Demo {ident}",
        "latitude_deg": lat,
        "longitude_deg": lon,
        "position_rule": "one source",
    }
    return row | other


def runway(ident: str, *ends: str) -> dict[str, str]:
    names = ("le_latitude_deg", "le_longitude_deg", "he_latitude_deg", "he_longitude_deg")
    given = dict(zip(names, ends or ("",) * 4, strict=True))
    return {"airport_ident": ident, "le_heading_degT": "", "he_heading_degT": ""} | given


def test_pairs_that_may_be_one_field() -> None:
    rows = [
        airport("XA", "44", "-92"),
        airport("XB", "44.004", "-92"),
        airport("XC", "44.07", "-92", name="Demo XA"),
        airport("XD", "44.001", "-92", kind="heliport"),
    ]
    counts = lints.airport_lints(rows)
    assert (counts[lints.BESIDE], counts[lints.NAMESAKES]) == (1, 1)


def test_codes_idents_and_elevations() -> None:
    rows = [
        airport("XA", "10", "10", local="Q1", country="US", elevation_ft="0"),
        airport("XB", "20", "20", iata="Q1", elevation_ft="12", time_zone="UTC"),
        airport("XB", "30", "30"),
    ]
    counts = lints.airport_lints(rows)
    assert counts[lints.CODES_TWICE] == 2
    assert counts[lints.IDENTS_TWICE] == 1
    assert counts[lints.IATA_CLASHES] == 1
    assert counts[lints.ELEVATION_0] == counts[lints.NO_ELEVATION] == 1
    assert counts[lints.NO_TIME_ZONE] == 2


@pytest.mark.parametrize(
    ("ends", "elsewhere", "slipped"),
    [
        (("44.01", "-92.0", "43.99", "-92.0"), 0, 0),
        (("44.03", "-92.0", "44.01", "-92.0"), 0, 0),
        (("44.05", "-92.0", "44.03", "-92.0"), 1, 0),
        (("44.01", "92.0", "43.99", "92.0"), 1, 1),
        (("-44.01", "-92.0", "-43.99", "-92.0"), 1, 1),
        (("444", "-92.0", "443", "-92.0"), 0, 0),
        (("44.01", "", "43.99", "-92.0"), 0, 0),
    ],
)
def test_runways_whose_middle_lies_elsewhere(
    ends: tuple[str, ...], elsewhere: int, slipped: int
) -> None:
    counts = lints.runway_lints([runway("XA", *ends)], [airport("XA", "44", "-92")], set())
    assert (counts[lints.ELSEWHERE], counts[lints.SIGN_SLIPPED]) == (elsewhere, slipped)


def test_a_runway_across_180_has_its_middle_there() -> None:
    rows = [runway("XA", "-17", "179.999", "-17", "-179.999"), runway("XB")]
    counts = lints.runway_lints(rows, [airport("XA", "-17", "180")], set())
    assert counts[lints.ELSEWHERE] == 0
    assert counts[lints.NO_AIRPORT] == 1
    assert counts[lints.NO_RUNWAY] == 1


def test_every_lint_that_is_counted_says_what_was_done() -> None:
    counted = [
        *lints.airport_lints([]),
        *lints.runway_lints([], [], set()),
        *lints.frequency_lints([], set(), []),
    ]
    assert set(counted) <= set(lints.DONE)
    assert all(words and not words.endswith(".") for words in lints.DONE.values())
