"""First runs, damaged files, caches that refuse: the store opens and answers all the same."""

from __future__ import annotations

import os
import random
import signal
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

import pytest
from small_tables import AIRPORT_ROWS, airport, register_tables, write_tables

from plotter import files as atomic
from plotter.datastore import opening
from plotter.datastore.opening import Keeper, open_ready, open_store, set_aside
from plotter.errors import DataFault, WriteFault
from plotter.places.store import Store

ROOT = Path(__file__).parent.parent


@pytest.fixture(scope="module")
def tables(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_tables(tmp_path_factory.mktemp("tables"))


@pytest.fixture(scope="module")
def many(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Tables that take some tenths of a second to build."""
    more = (airport(f"ZZ-M{n}", n % 170 - 85 + n / 1e4, n % 359 - 179.5) for n in range(6_000))
    return write_tables(tmp_path_factory.mktemp("many"), airports=[*AIRPORT_ROWS, *more])


def right(store: Store) -> bool:
    """Whether a store knows what the small tables hold, and what they do not."""
    with store:
        known = store.airport("KAAA")
        return known is not None and len(known.runways) == 2 and store.by_code("KZZZ") == ()


def files(folder: Path) -> list[str]:
    """The files of a folder, without the notes of what was proved last."""
    return sorted(path.name for path in folder.iterdir() if ".proved" not in path.name)


def store_file(tables: Path, cache: Path) -> Path:
    path = Keeper(tables, cache).path
    assert path
    return path


def run(code: str, *arguments: object) -> subprocess.Popen[str]:
    """A fresh Python that runs ``code`` with the arguments in sys.argv."""
    return subprocess.Popen(
        [sys.executable, "-c", code, *map(str, arguments)],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        encoding="utf-8",
    )


ASK = """
import sys
from pathlib import Path
from plotter.datastore.opening import open_store
store = open_store(tables=Path(sys.argv[1]), cache=Path(sys.argv[2]))
known = store.airport("KAAA")
print(known.name, len(known.runways), len(store.by_code("NNA")), store.by_code("KZZZ"))
"""
ANSWER = "Demo KAAA 2 3 ()\n"


def test_built_once_and_then_only_opened(tables: Path, tmp_path: Path) -> None:
    done: list[float] = []
    cache = tmp_path / "not" / "there"
    assert right(open_store(done.append, tables=tables, cache=cache))
    assert done == sorted(done)
    assert done[-1] == pytest.approx(1.0)
    assert files(cache) == [store_file(tables, cache).name]
    again: list[float] = []
    assert right(open_store(again.append, tables=tables, cache=cache))
    assert again == []


def test_progress_is_told_within_a_large_table(tmp_path: Path) -> None:
    rows = [airport(f"ZZ-{number}", number % 90, 0.5) for number in range(9000)]
    done: list[float] = []
    tables = write_tables(tmp_path / "tables", airports=rows, runways=(), frequencies=())
    open_store(done.append, tables=tables, cache=tmp_path / "cache").close()
    assert len([part for part in done if 0.1 < part < 0.8]) >= 2
    assert all(0.0 <= part <= 1.0 for part in done)


def test_other_tables_make_another_file(tables: Path, tmp_path: Path) -> None:
    other = write_tables(tmp_path / "tables", towns=())
    assert store_file(tables, tmp_path) != store_file(other, tmp_path)


def test_eight_first_runs_at_once_answer_alike(many: Path, tmp_path: Path) -> None:
    runs = [run(ASK, many, tmp_path / "cache") for _ in range(8)]
    for each in runs:
        out, err = each.communicate(timeout=120)
        assert (each.returncode, out, err) == (0, ANSWER, "")
    assert files(tmp_path / "cache") == [store_file(many, tmp_path).name]


def other_database(path: Path) -> None:
    path.unlink()
    connection = sqlite3.connect(path)
    with connection:
        connection.execute("CREATE TABLE codes (number INTEGER PRIMARY KEY, body BLOB)")
    connection.close()


DAMAGES = {
    "empty": lambda path: path.write_bytes(b""),
    "garbage": lambda path: path.write_bytes(random.Random(1).randbytes(50_000)),
    "text": lambda path: path.write_text("not a store", encoding="utf-8"),
    "cut": lambda path: os.truncate(path, path.stat().st_size // 2),
    "cut to a page": lambda path: os.truncate(path, 4096),
    "another database": other_database,
    "empty folder": lambda path: (path.unlink(), path.mkdir()),
}


@pytest.mark.parametrize("damage", DAMAGES)
def test_a_damaged_file_is_replaced(tables: Path, tmp_path: Path, damage: str) -> None:
    open_store(tables=tables, cache=tmp_path).close()
    path = store_file(tables, tmp_path)
    DAMAGES[damage](path)
    assert right(open_store(tables=tables, cache=tmp_path))
    assert files(tmp_path) == [path.name]
    rebuilt: list[float] = []
    assert right(open_store(rebuilt.append, tables=tables, cache=tmp_path))
    assert rebuilt == []


def test_struck_anywhere_it_is_right_or_rebuilt(tables: Path, tmp_path: Path) -> None:
    """The whole way: file, rows, keeper. (Hundreds of strikes: tests/test_store.py.)"""
    open_store(tables=tables, cache=tmp_path).close()
    path = store_file(tables, tmp_path)
    draw = random.Random(7)
    for _ in range(5):
        content = bytearray(path.read_bytes())
        for _ in range(200):
            content[draw.randrange(len(content))] ^= 0xFF
        path.write_bytes(content)
        assert right(open_store(tables=tables, cache=tmp_path))


def test_damage_met_by_an_open_store(tables: Path, tmp_path: Path) -> None:
    """Two processes have the same damaged file open; one replaces it, the other takes that one."""
    open_store(tables=tables, cache=tmp_path).close()
    path = store_file(tables, tmp_path)
    built: list[float] = []
    first = open_store(tables=tables, cache=tmp_path)
    second = open_store(built.append, tables=tables, cache=tmp_path)
    os.truncate(path, 4096)
    assert right(first)
    assert right(second)
    assert built == []
    assert files(tmp_path) == [path.name]


def test_a_folder_with_something_in_it_is_kept(tables: Path, tmp_path: Path) -> None:
    path = store_file(tables, tmp_path)
    path.mkdir()
    (path / "mine").touch()
    assert right(open_store(tables=tables, cache=tmp_path))
    kept = [name for name in files(tmp_path) if name != path.name]
    assert [files(tmp_path / name) for name in kept] == [["mine"]]


def test_where_no_folder_can_be_the_store_is_in_memory(tables: Path, tmp_path: Path) -> None:
    file = tmp_path / "file"
    file.touch()
    for cache in (file, file / "deeper"):
        store = open_store(tables=tables, cache=cache)
        assert store.path is None
        assert right(store)


def test_without_a_home_the_store_is_in_memory(
    tables: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(opening, "cache_folder", lambda: None)
    store = open_store(tables=tables)
    assert store.path is None
    assert right(store)


def test_plotter_home_moves_the_store(
    tables: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PLOTTER_HOME", str(tmp_path / "home"))
    with open_store(tables=tables) as store:
        assert store.path == store_file(tables, tmp_path / "home")
    (tmp_path / "file").touch()
    monkeypatch.setenv("PLOTTER_HOME", str(tmp_path / "file"))
    assert right(open_store(tables=tables))


def test_a_disk_that_refuses(tables: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise WriteFault("the disk is full")

    monkeypatch.setattr(atomic, "write_bytes", refuse)
    assert right(open_store(tables=tables, cache=tmp_path))
    assert files(tmp_path) == []


@pytest.mark.skipif(sys.platform == "win32", reason="no limit of file size there")
def test_a_full_disk(tables: Path, tmp_path: Path) -> None:
    """A limit of file size stands for it: half-way the system refuses to write on."""
    limited = (
        "import plotter.datastore.opening, resource;"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (10_000, 10_000))"
    )
    process = run(limited + ASK, tables, tmp_path)
    assert process.communicate(timeout=60) == (ANSWER, "")
    assert files(tmp_path) == []


def test_a_store_that_cannot_be_replaced(
    tables: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As where another process has the damaged file open on a system that locks open files."""
    open_store(tables=tables, cache=tmp_path).close()
    path = store_file(tables, tmp_path)
    path.write_bytes(b"damaged")

    def refuse(*_: object) -> None:
        raise PermissionError("in use")

    monkeypatch.setattr(os, "replace", refuse)
    assert not set_aside(path)
    assert right(open_store(tables=tables, cache=tmp_path))
    assert path.read_bytes() == b"damaged"


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="no such signal on this system")
@pytest.mark.parametrize("step", ["os.fsync", "os.replace"])
def test_killed_while_it_is_written(tables: Path, tmp_path: Path, step: str) -> None:
    die = f"import os, signal; {step} = lambda *_: os.kill(os.getpid(), signal.SIGKILL)"
    process = run(die + ASK, tables, tmp_path)
    process.communicate(timeout=60)
    assert process.returncode == -signal.SIGKILL
    assert len(files(tmp_path)) == 1
    assert ".partial-" in files(tmp_path)[0]
    assert right(open_store(tables=tables, cache=tmp_path))
    assert files(tmp_path) == [store_file(tables, tmp_path).name]


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="no such signal on this system")
def test_killed_at_any_moment(many: Path, tmp_path: Path) -> None:
    for delay_s in (0.1, 0.3, 0.5, 0.7, 0.9):
        process = run(ASK, many, tmp_path)
        time.sleep(delay_s)
        process.kill()
        process.communicate(timeout=60)
        assert len(files(tmp_path)) <= 1
    assert right(open_store(tables=many, cache=tmp_path))
    assert files(tmp_path) == [store_file(many, tmp_path).name]


def test_interrupted_while_it_is_built(tables: Path, tmp_path: Path) -> None:
    def interrupt(_: float) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        open_store(interrupt, tables=tables, cache=tmp_path)
    assert files(tmp_path) == []


def test_what_dead_builds_of_other_tables_left_is_cleared(tables: Path, tmp_path: Path) -> None:
    left = (".places-1-00.sqlite.partial-1-ff", "places-1-00.sqlite.damaged-1-ff")
    kept = (".other.partial-1-ff", "notes.damaged-1", "places-1-00.sqlite")
    for name in (*left, *kept):
        (tmp_path / name).touch()
    assert right(open_store(tables=tables, cache=tmp_path))
    assert files(tmp_path) == sorted([*kept, store_file(tables, tmp_path).name])


def test_a_store_long_unused_goes_when_another_is_built(tables: Path, tmp_path: Path) -> None:
    old, recent = tmp_path / "places-1-00.sqlite", tmp_path / "places-1-11.sqlite"
    for path, days in ((old, 31), (recent, 29)):
        path.touch()
        os.utime(path, (time.time() - days * 86_400,) * 2)
    open_store(tables=tables, cache=tmp_path).close()
    assert not old.exists()
    assert recent.exists()


def test_changed_tables_are_refused_not_built(tmp_path: Path) -> None:
    tables = write_tables(tmp_path / "tables")
    path = tables / "navaids.csv"
    path.write_bytes(path.read_bytes().replace(b"44.02", b"45.02"))
    with pytest.raises(DataFault, match=r"navaids\.csv is not the file its register describes"):
        open_store(tables=tables, cache=tmp_path / "cache")
    register_tables(tables)
    with open_store(tables=tables, cache=tmp_path / "cache") as store:
        beacon = store.navaid("AAA-VOR-DME-ZZ")
        assert beacon
        assert beacon.position.latitude_deg == 45.02


def test_a_real_store_answers(real_store: Store) -> None:
    (match,) = real_store.by_code("KRST")
    assert match.place.name == "Rochester International Airport"
    assert real_store.path
    assert real_store.register["airports"]["rows"] > 70_000


def test_a_store_is_ready_once_it_and_its_index_are_there(
    tmp_path: Path, tables: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from plotter.datastore.tables import read_register
    from plotter.places.search import search

    class InUse:
        register = read_register(tables)

    monkeypatch.setattr(opening, "register_in_use", InUse)
    monkeypatch.setattr(opening, "tables_folder", lambda: tables)
    monkeypatch.setattr(opening, "cache_folder", lambda: tmp_path)
    assert open_ready() is None
    with open_store() as store:
        assert open_ready() is None, "no index yet"
        assert search(store, "KAAA")
    ready = open_ready()
    assert ready is not None
    assert right(ready)
