"""The store of places opened, built first where it must be; whatever the cache is like.

The store is a file ``places-SCHEMA-CONTENT.sqlite`` in the user's cache, the search index beside it
``search-…``, built when a search first needs it. Each is built in memory,
written under a temporary name, flushed and renamed (:mod:`plotter.files`), and never changed
after that. Several first runs at once each build their own; the first to finish names the file,
the others use it. Where no file can be kept, the store stays in memory and answers all the same.
"""

from __future__ import annotations

import os
import sqlite3
import time
from collections.abc import Callable, Collection
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from plotter import files
from plotter.datastore.build import PLACES, Recipe
from plotter.datastore.home import cache_folder
from plotter.datastore.sets import ever_fetched, register_in_use
from plotter.datastore.tables import read_register, tables_folder
from plotter.errors import PlotterError
from plotter.places.store import CheckedRows, Damaged, Register, Rows, Store

if TYPE_CHECKING:
    from plotter.places.model import Changes

SUFFIX, DAMAGED = ".sqlite", ".damaged-"
PREFIXES = ("places-", "search-")
KEPT_DAYS = 30
"""A store of other tables, or of another version, is removed when one is built this much later.
Two versions used in turn do not remove each other's for so long."""
MOST_RENEWALS = 2
"""How often a damaged file is built anew before the store is kept in memory instead."""


def open_store(
    progress: Callable[[float], None] | None = None,
    *,
    tables: Path | None = None,
    cache: Path | None = None,
    search_progress: Callable[[float], None] | None = None,
) -> Store:
    """The store of the tables in use, shipped or fetched, built if it is not there yet.

    ``progress`` is called with the fraction done [0…1] while it is built, ``search_progress``
    while the index of a first search is. ``tables`` and
    ``cache`` are folders to use instead of the usual ones. Raises
    :class:`~plotter.errors.DataFault` where the tables are missing or are not those registered.
    """
    register = read_register(tables) if tables else register_in_use().register
    folder, kept_in = tables or tables_folder(), cache or cache_folder()
    keeper = Keeper(folder, kept_in, progress, register)

    def open_search() -> CheckedRows:
        from plotter.datastore.search_build import SEARCH

        searcher = Keeper(folder, kept_in, search_progress, register, SEARCH)
        return CheckedRows(searcher.open(), searcher.renew)

    store: Store

    def changes(keys: Collection[str]) -> Changes:
        from plotter.datastore.sets import changes_since_previous

        return changes_since_previous(store, keys)

    fetched = tables is None and ever_fetched()
    store = Store(
        keeper.open(), keeper.register, keeper.renew, open_search, changes if fetched else None
    )
    return store


def open_ready() -> Store | None:
    """The store where it and its search index are built already; ``None`` where either is not."""
    from plotter.datastore.search_build import SEARCH

    try:
        register, cache = register_in_use().register, cache_folder()
    except PlotterError:
        return None
    keepers = (Keeper(tables_folder(), cache, None, register, each) for each in (PLACES, SEARCH))
    if not all(keeper.path and keeper.path.is_file() for keeper in keepers):
        return None
    return open_store()


class Keeper:
    """Opens, builds and replaces the file of one store."""

    def __init__(
        self,
        tables: Path,
        cache: Path | None,
        progress: Callable[[float], None] | None = None,
        register: Register | None = None,
        recipe: Recipe = PLACES,
    ) -> None:
        self._tables = tables
        self._cache = cache
        self._progress = progress or _silent
        self._renewals = 0
        self._recipe = recipe
        self._opened: tuple[int, ...] | None = None
        self.register: Register = register or read_register(tables)
        self.name = recipe.name(self.register)

    @property
    def path(self) -> Path | None:
        """The store's file; ``None`` where there is no folder for it."""
        return self._cache and self._cache / f"{self.name}{SUFFIX}"

    def open(self) -> Rows:
        """The rows of the file, or of a store built now."""
        if self.path is None:
            return self._in_memory()
        clear_leftovers(self.path)
        return self._existing(self.path) or self._built(self.path)

    def renew(self, damaged: Rows) -> Rows:
        """Other rows in place of damaged ones: another process's new file, or one built now."""
        damaged.close()
        self._renewals += 1
        if self.path is None or damaged.path is None or self._renewals > MOST_RENEWALS:
            return self._in_memory()
        if _signature(self.path) == self._opened:
            set_aside(self.path)
        return self.open()

    def _existing(self, path: Path) -> Rows | None:
        """The file as it stands; what cannot even be opened is set aside."""
        self._opened = _signature(path)
        if self._opened is None:
            return None
        try:
            return Rows.open(path, self.name)
        except Damaged:
            set_aside(path)
            return None

    def _built(self, path: Path) -> Rows:
        connection = self._filled()
        if not _kept(connection, path):
            return Rows(connection, self.name, None)
        rows = self._existing(path)
        if rows is None:
            return Rows(connection, self.name, None)
        connection.close()
        _clear_old(path)
        return rows

    def _in_memory(self) -> Rows:
        return Rows(self._filled(), self.name, None)

    def _filled(self) -> sqlite3.Connection:
        connection = sqlite3.connect(":memory:", check_same_thread=False)
        try:
            self._recipe.fill(connection, self._tables, self.register, self._progress)
        except BaseException:
            connection.close()
            raise
        return connection


def set_aside(path: Path) -> bool:
    """Take a damaged store out of the way; whether nothing stands there any more.

    Renamed first, then removed: a file that is still open elsewhere can often be renamed only,
    and a folder that somebody put there is kept under its new name unless it is empty.
    """
    aside = path.with_name(f"{path.name}{DAMAGED}{os.getpid()}-{os.urandom(4).hex()}")
    try:
        os.replace(path, aside)
    except OSError:
        return not os.path.lexists(path)
    _remove(aside)
    return True


def clear_leftovers(path: Path) -> None:
    """Remove what builds that were killed left beside a store, and damaged ones set aside."""
    targets = set()
    for name in _names_in(path.parent):
        target, _, number = name.partition(".partial-")
        if number and target[1:].startswith(PREFIXES):
            targets.add(path.with_name(target[1:]))
        elif DAMAGED in name and name.startswith(PREFIXES):
            _remove(path.with_name(name))
    for each in targets:
        files.clear_stale(each)


def _clear_old(path: Path) -> None:
    """Remove stores of the same kind, of other tables or layouts, that were built long ago."""
    prefix = path.name.partition("-")[0] + "-"
    for name in _names_in(path.parent):
        other = path.with_name(name)
        if name.startswith(prefix) and name.endswith(SUFFIX) and other != path:
            with suppress(OSError):
                if time.time() - other.stat().st_mtime > KEPT_DAYS * 86_400:
                    other.unlink()


def _names_in(folder: Path) -> list[str]:
    try:
        return os.listdir(folder)
    except OSError:
        return []


def _remove(path: Path) -> None:
    with suppress(OSError):
        path.unlink() if path.is_symlink() or not path.is_dir() else path.rmdir()


def _kept(connection: sqlite3.Connection, path: Path) -> bool:
    """Whether the store is in its file now, ours or that of another process that was quicker."""
    if path.is_file():
        return True
    serialize = getattr(connection, "serialize", None)  # left out of some builds of SQLite
    if serialize is None or os.path.lexists(path):
        return False
    try:
        files.make_folder(path.parent)
        files.write_bytes(path, serialize())
    except (PlotterError, sqlite3.Error, MemoryError):
        return path.is_file()
    return True


def _signature(path: Path) -> tuple[int, ...] | None:
    """What tells one file from the next under the same name; ``None`` where there is none."""
    try:
        found = os.stat(path)
    except OSError:
        return None
    return (found.st_dev, found.st_ino, found.st_size, found.st_mtime_ns)


def _silent(_: float) -> None:
    """Progress that nobody watches."""
