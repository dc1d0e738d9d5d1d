"""Law: the search finds what reading every place against the stated rule finds, in that order."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import pytest
from examples import TIMES
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from small_tables import Row, airport, write_tables

from plotter.datastore.opening import open_store
from plotter.places.model import Airport
from plotter.places.search import search
from plotter.places.store import Store

WORDS = ("lo", "lor", "lora", "lorax", "mel", "melk", "nor", "ab")
NAMES = [" ".join(pair) for pair in itertools.product(WORDS, WORDS)] + list(WORDS)


def row(number: int, name: str) -> Row:
    made = list(airport(f"ZZ-{number:04d}", 44.0, -92.5, name=name))
    made[7] = NAMES[(number * 7) % len(NAMES)] if number % 3 else ""
    made[9] = ""
    return tuple(made)


ROWS = [row(number, name) for number, name in enumerate(NAMES)]


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    folder = tmp_path_factory.mktemp("rule")
    tables = write_tables(
        folder / "tables", airports=ROWS, navaids=(), towns=(), runways=(), frequencies=()
    )
    with open_store(tables=tables, cache=folder / "cache") as small:
        yield small


def rank_of(place: Row, typed: list[str]) -> int | None:
    """The stated rule read word by word, slips apart."""
    text = "".join(typed)
    code = place[0].replace("-", "").lower()
    names = [name for name in (place[6], place[7]) if name]
    single = [word for name in names for word in name.split()]
    wholes = [name.replace(" ", "") for name in names]
    if text == code:
        return 0
    if text in wholes:
        return 1
    if text in single or any(whole.startswith(text) for whole in (code, *wholes)):
        return 2
    keys = [code, *wholes, *single]
    if len(typed) == 1:
        return 3 if any(key.startswith(text) for key in keys) else None
    found = all(
        any(key == word if len(word) < 3 else key.startswith(word) for key in keys)
        for word in typed
    )
    return 3 if found or any(key.startswith(text) for key in single) else None


@settings(max_examples=200 * TIMES, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.sampled_from(WORDS), min_size=1, max_size=3), st.integers(0, 2))
def test_the_search_is_the_rule(store: Store, chosen: list[str], cut: int) -> None:
    last = chosen[-1][: max(1, len(chosen[-1]) - cut)]
    typed = [*chosen[:-1], last]
    ranks = {place[0]: rank_of(place, typed) for place in ROWS}
    expected = sorted((rank, ident) for ident, rank in ranks.items() if rank is not None)
    hits = search(store, " ".join(typed), most=len(ROWS))
    plain = [hit.place for hit in hits if "slip" not in hit.matched]
    idents = [place.ident for place in plain if isinstance(place, Airport)]
    assert idents == [ident for _, ident in expected]
