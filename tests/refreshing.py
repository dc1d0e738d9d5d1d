"""A small invented world with tables in use and newer ones on a server of this machine."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import raw_tables
from loopback import Server
from small_tables import write_tables

from plotter.datastore.download import Patience
from plotter.datastore.opening import open_store
from plotter.datastore.refresh import Asked, Refreshed, refresh
from plotter.places.store import Store

TODAY = dt.date(2026, 11, 25)
IMPATIENT = Patience(silence_s=1.0, answer_s=3.0, tries=2, pause_s=0.0)
RADIO = ("runways", "frequencies", "navaids")


@dataclass
class World:
    """Where its tables lie, and the server that has newer ones."""

    folder: Path
    server: Server

    def __post_init__(self) -> None:
        write_tables(self.folder / "tables", airports=raw_tables.AIRPORT_ROWS)

    def publish(self, **changed: bytes) -> dict[str, str]:
        """Put every table on the server; gives the addresses."""
        content = raw_tables.all_of_them() | changed
        return {name: self.server.put(name, content[name]) for name in content}

    def asked(self, found: Mapping[str, str], *only: str) -> Asked:
        tables, own, cache = (self.folder / name for name in ("tables", "own", "cache"))
        return Asked(only, found, IMPATIENT, tables, own, cache)

    def refresh(self, found: Mapping[str, str], *only: str) -> Refreshed:
        return refresh(self.asked(found, *only), TODAY)

    def seen(self) -> dict[str, bytes]:
        """Every file of the sets but the downloads and the lock."""
        sets = self.folder / "own" / "sets"
        return {
            path.relative_to(sets).as_posix(): path.read_bytes()
            for path in sorted(sets.rglob("*"))
            if path.is_file() and "downloads" not in path.parts and path.name != "lock"
        }

    def store(self) -> Store:
        """The store of the tables in use."""
        from plotter.datastore.opening import Keeper
        from plotter.datastore.sets import register_in_use
        from plotter.places.store import Kind, Source

        tables = self.folder / "tables"
        register = register_in_use(tables, self.folder / "own").register

        def open_source(kind: Kind) -> Source:
            return Keeper(tables, self.folder / "cache", register=register, kind=kind).source()

        return Store(open_source, register)

    def shipped(self) -> Store:
        """The store of the tables that came with the program."""
        return open_store(tables=self.folder / "tables", cache=self.folder / "cache")
