"""Points of a route whose place changed between two fetched sets of tables."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Iterator
from pathlib import Path
from typing import Any

import pytest
import raw_tables
from loopback import loopback
from refreshing import World

from plotter.datastore.sets import ever_fetched
from plotter.places.model import Change, Changes, What
from plotter.places.store import Store
from plotter.route.checks import changes_cautions
from plotter.route.plotting import Wishes, plot_route
from plotter.route.values import Caution

DATES = {"airports": ("2025-12-02", "2026-08-22")}


class Changed:
    """A store that answers as one whose newest tables differ; it notes what it was asked."""

    def __init__(self, *every: Change) -> None:
        self.every = every
        self.asked: list[str] = []

    def changes_of(self, keys: Collection[str]) -> Changes:
        self.asked += keys
        return Changes(DATES, self.every)


def told(store: Store, changed: Any, typed: str = "KRST KLSE") -> list[Caution]:
    plot = plot_route(typed, store, Wishes(date=dt.date(2026, 7, 4)))
    return changes_cautions(plot.route, changed)


def test_a_moved_airport_of_the_route_is_a_check(real_store: Store) -> None:
    changed = Changed(Change("KLSE", What.MOVED, moved_nm=3.02), Change("KMSP", What.CLOSED))
    (caution,) = told(real_store, changed)
    assert (caution.rank, caution.code, caution.where) == ("CHECK", "changed-place", "KLSE")
    assert "between 2025-12-02 and 2026-08-22: moved 3.0 NM." in caution.text
    assert changed.asked == ["KRST", "KLSE"]


def test_many_changes_are_counted(real_store: Store) -> None:
    every = [Change("KRST", What.RENUMBERED, f"{k:02d}", f"{k + 1:02d}") for k in range(1, 6)]
    (caution,) = told(real_store, Changed(*every))
    assert "runway renumbered (01, now 02)" in caution.text
    assert "2 more" in caution.text


def test_points_that_are_no_places_ask_nothing(real_store: Store) -> None:
    changed = Changed(Change("KRST", What.CLOSED))
    assert told(real_store, changed, "43.9,-92.5 44.2,-92.1") == []
    assert changed.asked == []


def test_a_bearing_from_a_beacon_that_changed_is_a_check(
    real_store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The point lies elsewhere where the beacon moved or was realigned."""
    (beacon,) = (match.place for match in real_store.by_code("ODI") if hasattr(match.place, "key"))
    changed = Changes(DATES, (Change(beacon.key, What.DECLINATION, "1.0", "3.0"),))
    monkeypatch.setattr(
        Store, "changes_of", lambda _, keys: changed if beacon.key in keys else None
    )
    plot = plot_route("KRST ODI030010 KLSE", real_store, Wishes(date=dt.date(2026, 7, 4)))
    (caution,) = [each for each in plot.cautions if each.code == "changed-place"]
    assert caution.where == "ODI"
    assert "declination of a beacon changed (1.0, now 3.0)" in caution.text


def test_tables_as_shipped_have_no_changes(real_store: Store) -> None:
    assert real_store.changes_of(["KRST"]) is None
    assert told(real_store, real_store) == []


@pytest.fixture
def world(tmp_path: Path) -> Iterator[World]:
    with loopback() as server:
        yield World(tmp_path, server)


def test_after_a_refresh_the_store_that_is_opened_knows(
    world: World, monkeypatch: pytest.MonkeyPatch
) -> None:
    from plotter.datastore import opening

    own = world.folder / "own"
    assert not ever_fetched(own)
    rows = [
        row | ({"latitude_deg": "44.05"} if row["ident"] == "KAAA" else {})
        for row in raw_tables.airports()
    ]
    newer = raw_tables.table(raw_tables.AIRPORTS, rows)
    world.refresh(world.publish(airports=newer))
    assert ever_fetched(own)
    monkeypatch.setenv("PLOTTER_HOME", str(own))
    monkeypatch.setattr(opening, "tables_folder", lambda: world.folder / "tables")
    register = opening.register_in_use(world.folder / "tables", own).register
    monkeypatch.setattr(opening, "register_in_use", lambda: type("U", (), {"register": register}))
    store = opening.open_store(cache=world.folder / "cache")
    found = store.changes_of(["KAAA"])
    assert found is not None
    assert [change.what for change in found.of("KAAA")] == [What.MOVED]
