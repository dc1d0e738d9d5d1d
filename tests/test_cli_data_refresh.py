"""`plotter data refresh`, `restore`, `changes` from the command line, on a small invented world."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
import raw_tables
from loopback import loopback, sending
from refreshing import World

from plotter.cli.main import run
from plotter.datastore import check, opening, refresh, sets

Call = Callable[..., tuple[int, str, str]]


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str]) -> Call:
    def _call(*arguments: str) -> tuple[int, str, str]:
        code = run(arguments)
        out, err = capsys.readouterr()
        return code, out, err

    return _call


@pytest.fixture
def world(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[World]:
    with loopback() as server:
        made = World(tmp_path, server)
        monkeypatch.setenv("PLOTTER_HOME", str(tmp_path / "home"))
        for module, name in (
            (refresh, "usual_tables"),
            (check, "usual_tables"),
            (sets, "tables_folder"),
            (opening, "tables_folder"),
        ):
            monkeypatch.setattr(module, name, lambda: tmp_path / "tables")
        yield made


def options(found: dict[str, str]) -> list[str]:
    return [word for pair in found.items() for word in ("--address", "=".join(pair))]


def newer() -> bytes:
    rows = raw_tables.airports()
    rows[0]["latitude_deg"] = "44.05"
    return raw_tables.table(raw_tables.AIRPORTS, rows)


def test_there_and_back(call: Call, world: World) -> None:
    found = world.publish(airports=newer())
    assert call("data", "changes")[1] == "No tables were fetched yet.\n"
    code, out, err = call("data", "refresh", *options(found))
    assert code == 0
    assert "fetching airports from 127.0.0.1" in err
    for words in ("2026-01-31  2026-08-22", "moved", "KAAA: 3.0 NM", "plotter data restore"):
        assert words in out, words
    assert "2026-08-22" in call("data")[1]
    assert call("data", "check")[:2] == (0, "Tables, store and own layers are whole.\n")
    assert "moved 3.0 NM: 44.0 -92.5 -> 44.05 -92.5" in call("data", "changes", "kaaa")[1]
    assert "no change is known" in call("data", "changes", "KBBB")[1]
    assert "moved" in call("data", "changes")[1]
    assert "already up to date" in call("data", "refresh", *options(found))[1]
    assert "airports of 2026-01-31" in call("data", "restore")[1]
    assert "2026-08-22" not in call("data")[1]
    assert "moved 3.0 NM" in call("data", "changes", "KAAA")[1], "all the more so"
    assert "(fetched)" in call("data", "restore")[1]
    assert "(from the package)" in call("data", "restore", "--shipped")[1]


def test_without_a_network_it_says_so(call: Call, world: World) -> None:
    found = world.publish()
    world.server.tricks["runways"] = [sending(404)]
    code, out, err = call("data", "refresh", *options(found))
    assert (code, out) == (1, "")
    assert "answered 404" in err
    assert "Traceback" not in err


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--only", "roads"], "no table is called 'roads'"),
        (["--address", "runways"], "write --address runways=https://"),
        (["--address", "runways=http://example.org/a"], "must begin with https://"),
        (["--only", "runways"], "no address for runways"),
    ],
)
def test_what_was_mistyped(call: Call, world: World, arguments: list[str], words: str) -> None:
    code, out, err = call("data", "refresh", *arguments)
    assert (code, out) == (2, "")
    assert words in err


def test_nothing_to_go_back_to(call: Call, world: World) -> None:
    code, _, err = call("data", "restore")
    assert code == 1
    assert "nothing was ever fetched" in err
