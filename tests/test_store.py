"""The store answers right or is renewed: never a wrong answer, never a false "nothing"."""

from __future__ import annotations

import os
import random
import re
import shutil
import sqlite3
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from small_tables import write_tables

from plotter.datastore.opening import Keeper, open_store
from plotter.datastore.tables import read_register, store_name
from plotter.earth.position import Position
from plotter.errors import DataFault
from plotter.places.model import Airport, Navaid
from plotter.places.nearness import near
from plotter.places.search import search
from plotter.places.store import (
    KINDS_OF_STORE,
    Damaged,
    Database,
    Kind,
    Source,
    Store,
    check_value,
    seed_of,
)


@pytest.fixture(scope="module")
def tables(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small tables."""
    return write_tables(tmp_path_factory.mktemp("tables"))


@pytest.fixture(scope="module")
def whole(tables: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of whole store files of the small tables."""
    folder = tmp_path_factory.mktemp("whole")
    with open_store(tables=tables, cache=folder) as store:
        store.prove()
    return folder


@pytest.fixture
def store(whole: Path) -> Iterator[Store]:
    with opened(whole, whole) as small:
        yield small


class Renewal:
    """Stands for the datastore: gives a whole file for a damaged one, and counts."""

    def __init__(self, whole: Path) -> None:
        self.whole, self.count = whole, 0

    def __call__(self, damaged: Database) -> Database:
        self.count += 1
        damaged.close()
        return Database.open(self.whole, self.whole.stem)


def file_of(folder: Path, kind: Kind) -> Path:
    (path,) = folder.glob(f"{kind}-*.sqlite")
    return path


def opened(folder: Path, whole: Path) -> Store:
    """A store over the files of a folder which turns to whole ones where they prove damaged."""

    def open_source(kind: Kind) -> Source:
        path = file_of(whole, kind)
        return Source(Database.open(folder / path.name, path.stem), Renewal(path))

    return Store(open_source, {})


def renewals(store: Store) -> int:
    count = 0
    for kind in KINDS_OF_STORE:
        renew = store.source(kind)._renew
        assert isinstance(renew, Renewal)
        count += renew.count
    return count


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


def altered(whole: Path, folder: Path, kind: Kind, *statements: str) -> Path:
    """A copy of the store files in which SQLite finds nothing wrong."""
    shutil.copytree(whole, folder)
    connection = sqlite3.connect(file_of(folder, kind))
    with connection:
        for statement in statements:
            connection.execute(statement)
    connection.close()
    return folder


@pytest.mark.parametrize(
    "statement",
    [
        "DELETE FROM codes WHERE code = 'KAAA'",
        "UPDATE codes SET places = '' WHERE code = 'KAAA'",
        "UPDATE codes SET places = NULL WHERE code = 'KAAA'",
        "UPDATE codes SET check_value = check_value + 1 WHERE code = 'KAAA'",
        "UPDATE codes SET check_value = NULL WHERE code = 'KAAA'",
        "UPDATE codes SET (places, check_value) = (SELECT places, check_value FROM codes"
        " WHERE code = 'KBBB') WHERE code = 'KAAA'",
        "UPDATE airports SET longitude_deg = -92.6",
        "UPDATE airports SET runways = '[]'",
        "DELETE FROM airports",
        "DROP TABLE codes",
        "ALTER TABLE airports RENAME COLUMN ident TO text",
    ],
)
def test_a_changed_row_is_noticed_where_sqlite_sees_nothing(
    whole: Path, tmp_path: Path, statement: str
) -> None:
    with opened(altered(whole, tmp_path / "altered", "places", statement), whole) as store:
        airport = store.airport("KAAA")
        assert airport
        assert airport.position.longitude_deg == -92.5
        assert len(airport.runways) == 2
        assert renewals(store) == 1


@pytest.mark.parametrize(
    ("damage", "ask", "answer"),
    [
        (("places", "DELETE FROM codes WHERE code > 'K'"), lambda s: s.by_code("KZZZ"), ()),
        (("ground", "DELETE FROM cells"), lambda s: s.base_cell("fine", "+00+000"), None),
        (("search", "DELETE FROM names"), lambda s: search(s, "zzzz"), ()),
    ],
)
def test_nothing_is_never_said_by_a_file_that_is_not_whole(
    whole: Path,
    tmp_path: Path,
    damage: tuple[Kind, str],
    ask: Callable[[Store], object],
    answer: object,
) -> None:
    with opened(altered(whole, tmp_path / "altered", *damage), whole) as store:
        assert ask(store) == answer
        assert renewals(store) == 1


def test_a_store_of_other_tables_under_this_name_is_noticed(whole: Path, tmp_path: Path) -> None:
    """Its rows are whole, but their check values begin with another name."""
    tables = write_tables(tmp_path / "tables", towns=[])
    open_store(tables=tables, cache=tmp_path / "cache").close()
    other = shutil.copytree(whole, tmp_path / "other")
    shutil.copyfile(file_of(tmp_path / "cache", "places"), file_of(other, "places"))
    with opened(other, whole) as store:
        assert store.airport("KAAA")
        assert renewals(store) == 1


ONE: tuple[Callable[[Store], object], ...] = (
    lambda store: store.by_code("AAA"),
    lambda store: store.by_code("NNA"),
    lambda store: store.by_code("KZZZ"),
    lambda store: store.airport("ZZ-0006"),
    lambda store: store.navaid("QQA-NDB-ZZ"),
    lambda store: store.base_cell("fine", "+40-095"),
    lambda store: store.base_cell("coarse", "+00+000"),
    lambda store: search(store, "demo"),
    lambda store: search(store, "kzzzz"),
)
"""Questions with one right answer, which may be that nothing is in the data."""
LISTS: tuple[Callable[[Store], tuple[object, ...]], ...] = (
    lambda store: store.airports_in(43.5, -92.6, 44.5, -91.0),
    lambda store: store.airports_in(0.0, 0.0, 0.5, 0.5),
    lambda store: tuple(store.towns_cell("-20+175")),
    lambda store: store.suggestions("KCBC"),
    lambda store: (
        near(
            store, airport_position(store), 30.0, ("small_airport", "heliport", "navaid", "town")
        ).found
    ),
)
"""Questions about what lies somewhere."""


def airport_position(store: Store) -> Position:
    airport = store.airport("KAAA")
    assert airport
    return airport.position


def places_to_strike(content: bytes, count: int) -> list[int]:
    """Offsets of a file: anywhere, in the heads of pages, and in rows that are asked for."""
    draw = random.Random(20260131)
    anywhere = [draw.randrange(len(content)) for _ in range(count // 4)]
    page = 4096
    heads = [draw.randrange(0, len(content), page) + draw.randrange(60) for _ in range(count // 4)]
    first = [draw.randrange(2 * page) for _ in range(count // 4)]
    starts = [
        found.start()
        for text in (b"Demo KAAA", b"NNA", b"airports\tKAAA", b'"lake"', b"Demo, Ville", b"kaaa")
        for found in re.finditer(re.escape(text), content)
    ]
    rest = count - 3 * (count // 4)
    return (
        anywhere
        + heads
        + first
        + [draw.choice(starts) + draw.randrange(-60, 60) for _ in range(rest)]
    )


STRIKES: dict[Kind, int] = {"places": 120, "ground": 30, "search": 50}


def struck(folder: Path, kind: Kind, at: int, content: bytes, *, silently: bool) -> None:
    """Turn one bit of a file over; silently: in place, and its time is set back."""
    path = file_of(folder, kind)
    changed = content[:at] + bytes([content[at] ^ (1 << at % 8)]) + content[at + 1 :]
    if not silently:
        other = path.with_name("other")
        other.write_bytes(changed)
        os.replace(other, path)
        return
    before = path.stat()
    with path.open("r+b") as file:
        file.write(changed)
    os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns))
    assert (path.stat().st_ino, path.stat().st_size) == (before.st_ino, before.st_size)


@pytest.mark.parametrize("kind", STRIKES)
def test_struck_so_that_its_time_differs_it_is_never_wrong(
    tables: Path, whole: Path, store: Store, tmp_path: Path, kind: Kind
) -> None:
    truth = [ask(store) for ask in (*ONE, *LISTS)]
    content = file_of(whole, kind).read_bytes()
    folder = shutil.copytree(whole, tmp_path / "struck")
    for at in places_to_strike(content, STRIKES[kind]):
        struck(folder, kind, at, content, silently=False)
        with open_store(tables=tables, cache=folder) as repaired:
            assert [ask(repaired) for ask in (*ONE, *LISTS)] == truth, f"struck at {at}"
        assert file_of(folder, kind).read_bytes() == content, f"not repaired: {at}"


@pytest.mark.parametrize("kind", STRIKES)
def test_struck_in_silence_it_gives_no_wrong_figure_and_no_wrong_nothing(
    tables: Path, whole: Path, store: Store, tmp_path: Path, kind: Kind
) -> None:
    """Size, time and inode stay: a list may miss a place, and that is all."""
    truth = [ask(store) for ask in ONE]
    listed = [frozenset(ask(store)) for ask in LISTS]
    content = file_of(whole, kind).read_bytes()
    noticed = 0
    for number, at in enumerate(places_to_strike(content, STRIKES[kind])):
        folder = tmp_path / str(number)
        folder.mkdir()
        with open_store(tables=tables, cache=folder) as fresh:
            fresh.prove()
        struck(folder, kind, at, content, silently=True)
        with open_store(tables=tables, cache=folder) as silent:
            assert all(
                frozenset(ask(silent)) <= right for ask, right in zip(LISTS, listed, strict=True)
            )
            assert [ask(silent) for ask in ONE] == truth, f"struck at {at}"
        noticed += file_of(folder, kind).read_bytes() == content
        shutil.rmtree(folder)
    assert noticed > STRIKES[kind] / 2  # or the strikes missed all that matters


@pytest.mark.parametrize("kept", [0, 1, 99, 100, 4096, 0.5, 0.99])
def test_a_cut_store_answers_right(whole: Path, store: Store, tmp_path: Path, kept: float) -> None:
    folder = shutil.copytree(whole, tmp_path / "cut")
    for kind in KINDS_OF_STORE:
        content = file_of(whole, kind).read_bytes()
        cut = content[: int(kept * len(content)) if kept < 1 else int(kept)]
        file_of(folder, kind).write_bytes(cut)
    with opened(folder, whole) as short:
        assert [ask(short) for ask in ONE] == [ask(store) for ask in ONE]


def test_what_stays_damaged_is_a_fault(whole: Path, tmp_path: Path) -> None:
    folder = altered(whole, tmp_path / "bad", "places", "DROP TABLE codes")
    with opened(folder, folder) as store, pytest.raises(DataFault) as fault:
        store.by_code("KAAA")
    assert fault.value.said.key == "data.stays-damaged"


def test_one_store_serves_many_threads(whole: Path, tmp_path: Path) -> None:
    """Damage found by several at once is renewed once, and every thread is answered."""
    folder = altered(whole, tmp_path / "bad", "places", "DELETE FROM codes")
    wrong: list[object] = []
    with opened(folder, whole) as store:

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
    with opened(shutil.copytree(whole, tmp_path / name), whole) as store:
        assert names(store, "KAAA") == ["Demo KAAA"]
        assert names(store, "KZZZ") == []
        assert renewals(store) == 0


def test_a_store_is_never_written(whole: Path) -> None:
    path = file_of(whole, "places")
    database = Database.open(path, path.stem)
    with pytest.raises(sqlite3.OperationalError, match="readonly"):
        database._connection.execute("DELETE FROM codes")
    database.close()
    with pytest.raises(Damaged):
        database.checked("codes", "code = ?", "KAAA")


def test_check_values_tell_name_table_and_row_apart() -> None:
    values = {
        check_value(seed_of(name, table), row)
        for name in ("places-1-a", "places-1-b")
        for table in ("airports", "navaids")
        for row in (("A", 1.0), ("A", 1), ("A", "1"), ("A1.0",))
    }
    assert len(values) == 16


def test_the_proof_is_asked_for_only_where_it_is_needed(
    tables: Path, whole: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Opened as it was left: not read as a whole until something is not in the data, then once."""
    folder = shutil.copytree(whole, tmp_path / "moved")
    proofs: list[str] = []
    prove = Database.prove

    def counted(database: Database) -> None:
        proofs.append("" if database._is_proved else database.name)
        prove(database)

    monkeypatch.setattr(Database, "prove", counted)
    name = store_name("places", read_register(tables))
    open_store(tables=tables, cache=folder).close()
    assert proofs == [name]  # the copy has another inode
    proofs.clear()
    with open_store(tables=tables, cache=folder) as store:
        assert names(store, "KAAA") == ["Demo KAAA"]
        assert proofs == []
        assert names(store, "KZZZ") == names(store, "KYYY") == []
    assert proofs == [name, ""]


def test_a_file_that_another_replaced_is_no_proof(tables: Path, tmp_path: Path) -> None:
    """What is open is then no longer what lies under its name; the other is opened."""
    with open_store(tables=tables, cache=tmp_path) as store:
        path = Keeper(tables, tmp_path).path
        assert path
        content = path.read_bytes()
        path.unlink()
        path.write_bytes(content)
        assert names(store, "KZZZ") == []
        assert store.path == path
