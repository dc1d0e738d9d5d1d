"""The pointer, the way back, and what is never used in silence."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
import raw_tables
from loopback import loopback
from refreshing import World

from plotter.datastore import sets
from plotter.datastore.sets import Pointer, read_pointer, register_in_use, restore
from plotter.errors import CannotDo, DataFault
from plotter.messages import text as sentence


@pytest.fixture
def world(tmp_path: Path) -> Iterator[World]:
    with loopback() as server:
        yield World(tmp_path, server)


def renewed(world: World, name: str) -> str:
    rows = raw_tables.airports()
    rows[0]["name"] = name
    return world.refresh(world.publish(airports=raw_tables.table(raw_tables.AIRPORTS, rows))).name


def folder(world: World) -> Path:
    return world.folder / "own" / "sets"


def in_use(world: World) -> str:
    return register_in_use(world.folder / "tables", world.folder / "own").name


def test_there_and_back_and_there_again(world: World) -> None:
    own = world.folder / "own"
    first = renewed(world, "Demo One")
    assert read_pointer(folder(world)) == Pointer(first, "")
    assert restore(own=own) == Pointer("", first)
    assert in_use(world) == ""
    assert restore(own=own) == Pointer(first, "")
    assert in_use(world) == first


def test_two_sets_are_kept_and_no_third(world: World) -> None:
    own = world.folder / "own"
    names = [renewed(world, f"Demo {number}") for number in range(3)]
    kept = {path.name for path in folder(world).iterdir() if path.name.startswith("places-")}
    assert kept == set(names[1:])
    assert restore(own=own) == Pointer(names[1], names[2])
    airport = world.store().airport("KAAA")
    assert airport
    assert airport.name == "Demo 1"
    assert restore(True, own) == Pointer("", names[1])
    assert {p.name for p in folder(world).iterdir() if p.name.startswith("places-")} == {names[1]}


def test_without_any_there_is_no_way_back(tmp_path: Path) -> None:
    with pytest.raises(CannotDo, match="nothing was ever fetched"):
        restore(own=tmp_path)
    assert restore(True, tmp_path) == Pointer()


@pytest.mark.parametrize(
    "text",
    [
        *("", "[]", "{}", '{"in_use": 1, "before": ""}', '{"in_use": "../x", "before": ""}'),
        *('{"in_use": "places-0123456789abcdef/..", "before": ""}', '{"in_use": ""}', "\x00"),
    ],
)
def test_a_damaged_pointer_is_said_and_never_guessed(world: World, text: str) -> None:
    renewed(world, "Demo One")
    (folder(world) / sets.POINTER).write_text(text, encoding="utf-8")
    with pytest.raises(DataFault, match="plotter data restore --shipped"):
        in_use(world)
    with pytest.raises(DataFault):
        restore(own=world.folder / "own")
    restore(True, world.folder / "own")
    assert in_use(world) == ""


def test_a_set_that_is_gone_is_said(world: World) -> None:
    name = renewed(world, "Demo One")
    (folder(world) / name / "register.json").unlink()
    with pytest.raises(DataFault, match="not the register of a set"):
        in_use(world)


def test_tables_that_are_gone_are_said_when_a_store_is_built(world: World) -> None:
    name = renewed(world, "Demo One")
    (folder(world) / name / "airports.csv").unlink()
    world.store().close()
    for path in (world.folder / "cache").iterdir():
        path.unlink()
    with pytest.raises(DataFault) as fault:
        world.store()
    assert "plotter data restore --shipped" in sentence(fault.value.said, "console")


def test_newer_shipped_tables_go_before_older_fetched_ones(world: World) -> None:
    renewed(world, "Demo One")
    path = world.folder / "tables" / "register.json"
    register = json.loads(path.read_text(encoding="utf-8"))
    register["runways"]["date"] = "2026-08-23"
    path.write_text(json.dumps(register), encoding="utf-8")
    now = register_in_use(world.folder / "tables", world.folder / "own")
    assert now.name == ""
    assert "newer tables than those fetched" in now.why_not


def test_a_set_of_another_format_is_not_used(world: World, monkeypatch: pytest.MonkeyPatch) -> None:
    renewed(world, "Demo One")
    monkeypatch.setattr(sets, "FORMAT", sets.FORMAT + 1)
    now = register_in_use(world.folder / "tables", world.folder / "own")
    assert now.name == ""
    assert "another version of the program" in now.why_not


def test_a_user_without_a_home_has_the_shipped_tables(
    world: World, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sets, "user_folder", lambda: None)
    assert register_in_use(world.folder / "tables").name == ""


def test_the_pointer_is_small(world: World) -> None:
    renewed(world, "Demo One")
    assert (folder(world) / sets.POINTER).stat().st_size < 100
