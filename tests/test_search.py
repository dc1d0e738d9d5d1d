"""The search for places: its rule, its filters, what cannot be asked, and how it meets damage."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from small_tables import Row, airport, navaid, write_tables

from plotter.datastore.opening import open_store
from plotter.errors import InputError
from plotter.places.naming import code_of
from plotter.places.search import Hit, search
from plotter.places.store import Store


def field(ident: str, name: str, town: str, kind: str = "small_airport", code: str = "") -> Row:
    row = list(airport(ident, 44.0, -92.5, kind, local=code, name=name))
    row[7] = town
    return tuple(row)


AIRPORTS = (
    field("XDMA", "Marlow Regional Airport", "Marlow", "medium_airport"),
    field("XDMB", "Greater Marlow Municipal", "Marlow"),
    field("XDMC", "Great Oakes International Airport", "Thurston", "large_airport"),
    field("XDMD", "St. Elmo Field", "Saint Elmo"),
    field("XDME", "Marlowe Heliport", "Tarn", "heliport"),
    field("XDMF", "Oakes Farm Strip", "Tarn"),
    field("ZZ-0001", "Ærø – Høj Field / Ø", "Tarn", code="MAR"),
    field("ZZ-0002", "Old Marlow", "Marlow", "closed"),
    field("ZZ-0003", "Київ", "Tarn"),
    field("ZZ-0004", "Quite Different", "Oakes"),
    field("XDMG", "Brookhaven Airport", "Brookhaven", "medium_airport"),
    field("XDMH", "Brooksmith Strip", "Tarn"),
    field("ZZ-0005", "Brook", "Tarn", "closed"),
)
TOWNS = (
    ("Marlow", "ZZ", "44.02", "-92.46", "118000"),
    ("Marlow", "ZY", "45.02", "-92.46", "900"),
    ("Oakes", "ZZ", "46.02", "-92.46", "2000"),
    ("Brook", "ZZ", "46.02", "-92.46", "900"),
    ("Brook", "ZY", "46.02", "-92.46", "12000"),
    ("Saint Elmo", "ZZ", "47.02", "-92.46", ""),
    ("Upper Marlow Springs", "ZZ", "47.02", "-92.46", "12000"),
)


@pytest.fixture(scope="module")
def tables(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_tables(
        tmp_path_factory.mktemp("search"),
        airports=AIRPORTS,
        navaids=[navaid("MAR-VOR-ZZ", 44.0, -92.5), navaid("ELM-NDB-ZZ", 44.0, -92.5)],
        towns=TOWNS,
        runways=[("XDMB", "1", "19", "5000", "", "", "0", "0", "", "")],
        frequencies=(),
    )


@pytest.fixture(scope="module")
def store(tables: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    with open_store(tables=tables, cache=tmp_path_factory.mktemp("cache")) as small:
        yield small


def named(hits: tuple[Hit, ...]) -> list[str]:
    return [code_of(hit.place) or f"{hit.place.name} {hit.place.country}" for hit in hits]


def test_the_identifier_then_the_name_or_town_then_beginnings_by_importance(store: Store) -> None:
    hits = search(store, "marlow")
    assert [(name, hit.matched) for name, hit in zip(named(hits), hits, strict=True)] == [
        ("XDMA", "name"),
        ("Marlow ZZ", "name"),
        ("XDMB", "name"),
        ("Marlow ZY", "name"),
        ("ZZ-0002", "name"),
        ("Upper Marlow Springs ZZ", "beginning"),
        ("XDME", "beginning"),
    ]
    first, second, *_ = search(store, "mar")
    assert {first.place.name, second.place.name} == {"Ærø – Høj Field / Ø", "Demo MAR"}
    assert {first.matched, second.matched} == {"identifier"}


def test_a_village_of_that_name_comes_behind_larger_airports_that_begin_so(store: Store) -> None:
    hits = search(store, "brook")
    assert [(name, hit.matched) for name, hit in zip(named(hits), hits, strict=True)] == [
        ("Brook ZY", "name"),  # a town
        ("XDMG", "beginning"),
        ("Brook ZZ", "name"),
        ("ZZ-0005", "name"),
        ("XDMH", "beginning"),
    ]


def test_a_word_of_a_large_airports_name_is_as_good_as_its_name(store: Store) -> None:
    hits = search(store, "oakes")
    assert named(hits) == ["XDMC", "ZZ-0004", "Oakes ZZ", "XDMF"]
    assert [hit.matched for hit in hits] == ["name", "name", "name", "beginning"]


@pytest.mark.parametrize("text", ["st elmo", "Saint Elmo", "ST. ELMO", "saint-elmo airfield"])
def test_short_forms_case_dashes_and_general_words_do_not_matter(store: Store, text: str) -> None:
    assert named(search(store, text))[:2] == ["XDMD", "Saint Elmo ZZ"]


@pytest.mark.parametrize("text", ["aero hoj", "ÆRØ–HØJ", "Ærø Høj Field"])
def test_accents_do_not_matter(store: Store, text: str) -> None:
    assert named(search(store, text)) == ["MAR"]


def test_another_script_is_found_by_its_own_letters(store: Store) -> None:
    assert named(search(store, "київ")) == ["ZZ-0003"]


def test_words_in_any_order_and_a_region(store: Store) -> None:
    (hit,) = search(store, "municipal marlow greater")
    assert (named((hit,)), hit.matched) == (["XDMB"], "words")
    assert "XDMF" in named(search(store, "farm d"))  # the region is ZZ-D
    assert all(hit.matched != "words" for hit in search(store, "farm f"))


@pytest.mark.parametrize(
    ("text", "meant", "matched"),
    [
        ("Thurstn", "XDMC", "one slip"),
        ("Thrustno", "XDMC", "two slips"),
        ("Qiute Different", "ZZ-0004", "one slip"),
        ("XDMM", "XDMA", "one slip"),
    ],
)
def test_slips_are_known_where_nothing_else_is(
    store: Store, text: str, meant: str, matched: str
) -> None:
    hits = search(store, text)
    assert meant in named(hits)
    assert hits[0].matched == matched


def test_slips_are_not_looked_for_where_the_text_is_known(store: Store) -> None:
    assert all("slip" not in hit.matched for hit in search(store, "marlow"))
    assert search(store, "zzzzqqq") == ()


def test_countries_and_kinds(store: Store) -> None:
    assert named(search(store, "marlow", countries=["zy"])) == ["Marlow ZY"]
    assert named(search(store, "marlow", kinds=["heliport", "town"])) == [
        "Marlow ZZ",
        "Marlow ZY",
        "Upper Marlow Springs ZZ",
        "XDME",
    ]
    assert named(search(store, "m", kinds=["navaid"])) == ["MAR"]
    assert search(store, "marlow", countries=["AA"]) == ()


def test_no_more_than_asked_for_and_the_same_first(store: Store) -> None:
    whole = search(store, "marlow")
    assert search(store, "marlow", 2) == whole[:2]


@pytest.mark.parametrize("text", ["m", "ma", "x", "o", "s", "st", "qu", "z", "zz"])
def test_the_kept_answers_for_short_texts_are_those_of_the_search(store: Store, text: str) -> None:
    """With a filter that lets all through in another way, the same comes out."""
    every = search(store, text, 100)
    assert search(store, text, 100, countries=["ZZ", "ZY"]) == every
    assert every


@pytest.mark.parametrize("text", ["", "  ", "-", "…", "'\""])
def test_a_text_without_a_letter_is_refused(store: Store, text: str) -> None:
    with pytest.raises(InputError, match="nothing to search for"):
        search(store, text)


def test_what_is_no_country_or_kind_is_refused(store: Store) -> None:
    with pytest.raises(InputError, match="ISO 3166"):
        search(store, "marlow", countries=["USA"])
    with pytest.raises(InputError, match="airfield"):
        search(store, "marlow", kinds=["airfield"])


@given(st.text(max_size=200))
def test_no_text_breaks_it(store: Store, text: str) -> None:
    try:
        hits = search(store, text)
    except InputError:
        return
    assert len(hits) <= 10
    assert len({hit.place for hit in hits}) == len(hits)


@pytest.mark.parametrize(
    "damage", ["UPDATE names SET key = 'x' || key", "DELETE FROM places", "DROP TABLE names"]
)
def test_a_damaged_index_is_built_again(tables: Path, tmp_path: Path, damage: str) -> None:
    with open_store(tables=tables, cache=tmp_path) as store:
        right = named(search(store, "marlow"))
    (path,) = tmp_path.glob("search-*.sqlite")
    connection = sqlite3.connect(path)
    with connection:
        connection.execute(damage)
    connection.close()
    with open_store(tables=tables, cache=tmp_path) as store:
        assert named(search(store, "marlow")) == right


def test_where_no_folder_can_be_the_index_is_in_memory(tables: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with open_store(tables=tables, cache=tmp_path / "file") as store:
        assert named(search(store, "thurston")) == ["XDMC"]


def test_the_index_is_built_only_when_it_is_needed(tables: Path, tmp_path: Path) -> None:
    told: list[float] = []
    with open_store(tables=tables, cache=tmp_path, search_progress=told.append) as store:
        store.by_code("XDMA")
        assert list(tmp_path.glob("search-*")) == told == []
        search(store, "marlow")
    assert told[-1] == 1.0
    assert len(list(tmp_path.glob("search-*.sqlite"))) == 1


@pytest.mark.parametrize(
    ("text", "first"),
    [
        ("KRST", "KRST"),
        ("rochester", "KRST"),
        ("Rochestr mn", "KRST"),
        ("Minneaplis", "KMSP"),
        ("o'hare", "KORD"),
        ("kennedy", "KJFK"),
        ("lacrosse", "KLSE"),
        ("zurich airport", "LSZH"),
        ("KBSO", "KBOS"),
    ],
)
def test_real_places(real_store: Store, text: str, first: str) -> None:
    assert code_of(search(real_store, text)[0].place) == first
