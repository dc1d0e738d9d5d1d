"""The store answers right or is renewed: never a wrong answer, never a false "nothing"."""

from __future__ import annotations

import random
import shutil
import sqlite3
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import BinaryIO

import pytest
from small_tables import write_tables

from plotter.datastore.opening import open_store
from plotter.errors import DataFault
from plotter.places import shelves
from plotter.places.model import Airport, Navaid
from plotter.places.packing import find_entries
from plotter.places.shelves import Shelf, code_row
from plotter.places.store import Damaged, Rows, Store


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of a whole store of the small tables."""
    folder = tmp_path_factory.mktemp("small")
    with open_store(tables=write_tables(folder / "tables"), cache=folder / "cache") as store:
        assert store.path
        return store.path


@pytest.fixture
def store(whole: Path) -> Iterator[Store]:
    with opened(whole, whole) as small:
        yield small


class Renewal:
    """Stands for the datastore: gives a whole store for a damaged one, and counts."""

    def __init__(self, whole: Path, name: str) -> None:
        self.whole, self.name, self.count = whole, name, 0

    def __call__(self, damaged: Rows) -> Rows:
        self.count += 1
        damaged.close()
        return Rows.open(self.whole, self.name)


def opened(path: Path, whole: Path) -> Store:
    """A store over ``path`` which turns to ``whole`` where that proves damaged."""
    return Store(Rows.open(path, whole.stem), {}, Renewal(whole, whole.stem))


def renewals(store: Store) -> int:
    renew = store._checked._renew
    assert isinstance(renew, Renewal)
    return renew.count


def names(store: Store, code: str) -> list[str]:
    return [match.place.name for match in store.by_code(code)]


@pytest.mark.parametrize(
    ("code", "columns"),
    [
        ("KAAA", ("icao", "gps", "ident")),
        ("KCCC", ("gps",)),
        ("ccc", ("local",)),
        (" Zz-0001 ", ("ident",)),
        ("1z1", ("gps", "local", "ident")),
    ],
)
def test_every_code_column_finds_its_airport(
    store: Store, code: str, columns: tuple[str, ...]
) -> None:
    (match,) = store.by_code(code)
    assert isinstance(match.place, Airport)
    assert match.columns == columns


def test_a_code_gives_all_its_places_airports_first(store: Store) -> None:
    assert names(store, "AAA") == ["Demo KAAA", "Demo AAA"]
    assert [match.columns for match in store.by_code("AAA")] == [("local", "iata"), ("ident",)]
    assert [m.place.key for m in store.by_code("NNA") if isinstance(m.place, Navaid)] == [
        "NNA-NDB-ZY",
        "NNA-NDB-ZZ",
        "NNA-VOR-ZX",
    ]


@pytest.mark.parametrize(
    "code", ["", " ", "KZZZ", "KAA", "KAAAA", "AAA\tairport", "\n", "ﬀ", "\udcff", "A" * 10_000]
)
def test_what_is_no_code_gives_nothing(store: Store, code: str) -> None:
    assert store.by_code(code) == ()
    assert store.airport(code) is None
    assert renewals(store) == 0


def test_an_airport_comes_whole(store: Store) -> None:
    airport = store.airport("kaaa")
    assert airport
    assert (airport.icao, airport.iata, airport.elevation_ft) == ("KAAA", "AAA", 812.0)
    closed, strip = airport.runways
    assert (closed.closed, closed.length_ft, closed.heading_1_true_deg) == (True, None, None)
    assert (strip.length_ft, strip.lighted, strip.heading_2_true_deg) == (4200.0, True, 314.0)
    assert airport.longest_runway_ft == 4200.0
    assert [(f.kind, f.frequency_mhz) for f in airport.frequencies] == [
        ("CTAF", 122.8),
        ("TWR", 118.25),
    ]
    far = store.airport("ZZ-0006")
    assert far
    assert (far.name, far.runways) == ("Demo “East”, 東", ())


def test_airports_and_navaids_by_their_own_keys_only(store: Store) -> None:
    assert store.airport("AAA") is None  # a code of KAAA, not its key
    beacon = store.navaid("aaa-vor-dme-zz")
    assert beacon
    assert (beacon.kind, beacon.station_declination_deg_east) == ("VOR-DME", 1.5)
    assert store.navaid("AAA") is None
    assert store.navaid("KAAA") is None


@pytest.mark.parametrize(
    ("box", "idents"),
    [
        ((43.95, -92.6, 44.15, -92.05), ["KAAA", "KBBB"]),
        ((-18.0, 179.0, -16.0, -179.0), ["ZZ-0007", "ZZ-0006"]),
        ((-18.0, 179.0, -16.0, 181.0), ["ZZ-0007", "ZZ-0006"]),
        ((89.0, -180.0, 90.0, 180.0), ["ZZ-0008"]),
        ((44.9, 179.9, 45.1, 180.0), ["ZZ-0010"]),
        ((0.0, 0.0, 1.0, 1.0), []),
    ],
)
def test_airports_in_a_box(
    store: Store, box: tuple[float, float, float, float], idents: list[str]
) -> None:
    assert [airport.ident for airport in store.airports_in(*box)] == idents


def test_base_map_and_towns_by_cell(store: Store) -> None:
    assert store.base_cell("world", "world") == (
        '{"cell":"world","layers":{"land":[[0,0,10,0,0,10]]}}'
    )
    assert '"lake"' in (store.base_cell("fine", "+40-095") or "")
    assert '"land"' in (store.base_cell("fine", "-90-180") or "")
    for tier, cell in [("fine", "+40-090"), ("fine", "+41-095"), ("coarse", "world"), ("fine", "")]:
        assert store.base_cell(tier, cell) is None
    assert list(store.towns_cell("+40-095")) == [("Demo City", 44.02, -92.46, 118000)]
    assert list(store.towns_cell("-20+175")) == [("Demo, Ville", -17.1, 179.9, 500)]
    assert list(store.towns_cell("+00+000")) == list(store.towns_cell("nowhere")) == []


def test_towns_of_equal_population_come_by_name_and_place(tmp_path: Path) -> None:
    same = [("Demo", "ZY", "44.3", "-92.1"), ("Demo", "ZZ", "44.3", "-92.4")]
    rows = [(*town, "7") for town in [*same, ("Alpha", "ZZ", "44.1", "-92.2")]]
    tables = write_tables(tmp_path / "tables", towns=rows)
    with open_store(tables=tables, cache=tmp_path / "cache") as store:
        found = [(name, east) for name, _, east, _ in store.towns_cell("+40-095")]
    assert found == [("Alpha", -92.2), ("Demo", -92.4), ("Demo", -92.1)]


def test_codes_and_suggestions(store: Store) -> None:
    assert {"KAAA", "ZZ-0001", "NNA"} <= store.codes()
    assert "NNA-NDB-ZZ" not in store.codes()
    assert store.suggestions("KCBC")[0] == "KCCC"


def altered(whole: Path, path: Path, *statements: str) -> Path:
    """A copy of a store that SQLite finds nothing wrong with."""
    shutil.copyfile(whole, path)
    connection = sqlite3.connect(path)
    with connection:
        for statement in statements:
            connection.execute(statement)
    connection.close()
    return path


KNOWN, OTHER = code_row("KAAA"), code_row("KBBB")
HELD = f"WHERE number = {shelves.HELD}"


@pytest.mark.parametrize(
    "statement",
    [
        f"DELETE FROM codes WHERE number = {KNOWN}",
        f"UPDATE codes SET body = x'' WHERE number = {KNOWN}",
        f"UPDATE codes SET body = 'text' WHERE number = {KNOWN}",
        f"UPDATE codes SET body = NULL WHERE number = {KNOWN}",
        f"UPDATE codes SET check_value = check_value + 1 WHERE number = {KNOWN}",
        f"UPDATE codes SET check_value = NULL WHERE number = {KNOWN}",
        f"UPDATE codes SET (body, check_value) = (SELECT body, check_value FROM codes"
        f" WHERE number = {OTHER}) WHERE number = {KNOWN}",
        f"UPDATE codes SET body = zeroblob(2048) {HELD}",
        "UPDATE airports SET body = replace(body, '-92.5', '-92.6')",
        "DELETE FROM airports",
        "DROP TABLE codes",
        "ALTER TABLE airports RENAME COLUMN body TO text",
    ],
)
def test_a_changed_row_is_noticed_where_sqlite_sees_nothing(
    whole: Path, tmp_path: Path, statement: str
) -> None:
    with opened(altered(whole, tmp_path / "altered", statement), whole) as store:
        airport = store.airport("KAAA")
        assert airport
        assert airport.position.longitude_deg == -92.5
        assert renewals(store) == 1


@pytest.mark.parametrize(
    ("statement", "ask", "answer"),
    [
        (f"DELETE FROM codes {HELD}", lambda s: s.by_code("KZZZ"), ()),
        (f"UPDATE codes SET body = zeroblob(2048) {HELD}", lambda s: s.by_code("KZZZ"), ()),
        (f"UPDATE codes SET body = x'' {HELD}", lambda s: s.by_code("KZZZ"), ()),
        ("DELETE FROM base_fine", lambda s: s.base_cell("fine", "+00+000"), None),
        ("DELETE FROM towns", lambda s: list(s.towns_cell("+00+000")), []),
        ("DELETE FROM airports", lambda s: s.airports_in(0.0, 0.0, 0.5, 0.5), ()),
    ],
)
def test_nothing_is_never_said_by_a_row_that_is_missing(
    whole: Path, tmp_path: Path, statement: str, ask: Callable[[Store], object], answer: object
) -> None:
    with opened(altered(whole, tmp_path / "altered", statement), whole) as store:
        assert ask(store) == answer
        assert renewals(store) == 1


def test_a_store_of_other_tables_under_this_name_is_noticed(whole: Path, tmp_path: Path) -> None:
    """Its rows are whole, but their check values carry another name."""
    tables = write_tables(tmp_path / "tables", towns=[])
    with open_store(tables=tables, cache=tmp_path / "cache") as other:
        assert other.path
        with opened(other.path, whole) as store:
            assert list(store.towns_cell("+40-095"))
            assert renewals(store) == 1


ANSWERS: tuple[Callable[[Store], object], ...] = (
    lambda store: store.by_code("AAA"),
    lambda store: store.by_code("NNA"),
    lambda store: store.by_code("KZZZ"),
    lambda store: store.airport("ZZ-0006"),
    lambda store: store.airports_in(43.5, -92.6, 44.5, -91.0),
    lambda store: store.airports_in(0.0, 0.0, 0.5, 0.5),
    lambda store: store.base_cell("fine", "+40-095"),
    lambda store: store.base_cell("coarse", "+00+000"),
    lambda store: list(store.towns_cell("-20+175")),
    lambda store: store.suggestions("KCBC"),
)


def places_to_strike(whole: Path, number: int) -> list[int]:
    """Offsets of a store: anywhere, in the heads of pages, and in the rows that are asked for."""
    content = whole.read_bytes()
    draw = random.Random(20260131)
    anywhere = [draw.randrange(len(content)) for _ in range(number)]
    page = 4096
    heads = [draw.randrange(0, len(content), page) + draw.randrange(60) for _ in range(number)]
    first = [draw.randrange(2 * page) for _ in range(number)]
    near = []
    for text in (b"Demo KAAA", b"NNA\tnavaid", b"AAA\tairport", b'"lake"', b"Demo, Ville"):
        start = content.index(text)
        near += [start + draw.randrange(-200, 200) for _ in range(number // 4)]
    return anywhere + heads + first + near


def test_struck_at_hundreds_of_places_it_answers_right(
    whole: Path, store: Store, tmp_path: Path
) -> None:
    truth = [ask(store) for ask in ANSWERS]
    content = whole.read_bytes()
    path = tmp_path / "struck"
    path.write_bytes(content)
    noticed = 0
    with path.open("r+b") as file:
        for at in places_to_strike(whole, 200):
            strike(file, at, content[at] ^ (1 << at % 8))
            with opened(path, whole) as struck:
                assert [ask(struck) for ask in ANSWERS] == truth, f"struck at {at}"
                noticed += renewals(struck) > 0
            strike(file, at, content[at])
    assert noticed > 100  # or the strikes missed all that matters


def strike(file: BinaryIO, at: int, value: int) -> None:
    file.seek(at)
    file.write(bytes([value]))
    file.flush()


@pytest.mark.parametrize("kept", [0, 1, 99, 100, 4096, 0.5, 0.99])
def test_a_cut_store_answers_right(whole: Path, store: Store, tmp_path: Path, kept: float) -> None:
    content = whole.read_bytes()
    path = tmp_path / "cut"
    path.write_bytes(content[: int(kept * len(content)) if kept < 1 else int(kept)])
    with opened(path, whole) as cut:
        assert [ask(cut) for ask in ANSWERS] == [ask(store) for ask in ANSWERS]


def test_what_stays_damaged_is_a_fault(whole: Path, tmp_path: Path) -> None:
    bad = altered(whole, tmp_path / "bad", "DROP TABLE codes")
    rows = Rows.open(bad, whole.stem)
    with (
        Store(rows, {}, lambda rows: Rows.open(bad, whole.stem)) as store,
        pytest.raises(DataFault, match="stays damaged"),
    ):
        store.by_code("KAAA")


def test_one_store_serves_many_threads(whole: Path, tmp_path: Path) -> None:
    """Damage found by several at once is renewed once, and every thread is answered."""
    bad = altered(whole, tmp_path / "bad", "DELETE FROM codes")
    wrong: list[object] = []
    with opened(bad, whole) as store:

        def ask() -> None:
            for _ in range(50):
                if names(store, "KAAA") != ["Demo KAAA"] or names(store, "KZZZ"):
                    wrong.append(names(store, "KAAA"))

        threads = [threading.Thread(target=ask) for _ in range(8)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert renewals(store) == 1
    assert not wrong


@pytest.mark.parametrize(
    "name", ["a b", "a#b", "a%20b", "a?mode=rw", "é東", "a&immutable=0", "a'b"]
)
def test_a_path_of_odd_characters(whole: Path, tmp_path: Path, name: str) -> None:
    if "?" in name and sys.platform == "win32":
        pytest.skip("no such name on this system")
    path = tmp_path / name
    shutil.copyfile(whole, path)
    with opened(path, whole) as store:
        assert names(store, "KAAA") == ["Demo KAAA"]
        assert renewals(store) == 0


def test_a_store_is_never_written(whole: Path) -> None:
    rows = Rows.open(whole, whole.stem)
    with pytest.raises(sqlite3.OperationalError, match="readonly"):
        rows._connection.execute("DELETE FROM codes")
    rows.close()
    with pytest.raises(Damaged):
        rows.body(shelves.CODES, 0)


def test_rows_that_are_not_on_a_shelf_are_empty(whole: Path) -> None:
    rows = Rows.open(whole, whole.stem)
    for shelf in shelves.SHELVES:
        for number in (-2, shelves.HELD, shelf.count, 2**70):
            assert rows.body(shelf, number) == ""
    rows.close()


def test_check_values_tell_name_shelf_and_number_apart() -> None:
    one, other = Shelf("one", 9), Shelf("other", 9)
    values = {
        shelves.check_value(name, shelf, number, body)
        for name in ("places-1-a", "places-1-b")
        for shelf in (one, other)
        for number in (1, 11)
        for body in (b"", b"x")
    }
    assert len(values) == 16


def test_a_code_is_not_found_by_its_beginning() -> None:
    body = "KAAA\tairport\tKAAA\t7\ticao gps\nKAAAB\tnavaid\tKAAAB-NDB-ZZ\t8\tident"
    (entry,) = find_entries(body, "KAAA")
    assert (entry.key, entry.cell, entry.columns) == ("KAAA", 7, ("icao", "gps"))
