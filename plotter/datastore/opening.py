"""The store files opened, built first where they must be; whatever the cache is like.

Each is a file ``KIND-SCHEMA-CONTENT.sqlite`` in the user's cache: ``places`` at once, ``ground`` and
``search`` when they are first needed. Each is built in memory, written under a temporary name,
flushed and renamed (:mod:`plotter.files`), and never changed after that. Beside it ``….proved``
has the size, time and inode of the file whose check value was compared last. Several first runs at
once each build their own; the first to finish names the file, the others use it. Where no file can
be kept, the store stays in memory and answers all the same.
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
from plotter.datastore.home import cache_folder
from plotter.datastore.sets import ever_fetched, register_in_use
from plotter.datastore.tables import read_register, store_name, tables_folder
from plotter.errors import PlotterError
from plotter.places.store import (
    KINDS_OF_STORE,
    Damaged,
    Database,
    Kind,
    Register,
    Source,
    Store,
    sealed,
    signature,
)

if TYPE_CHECKING:
    from plotter.places.model import Changes

SUFFIX, PROVED, DAMAGED = ".sqlite", ".proved", ".damaged-"
PREFIXES = tuple(f"{kind}-" for kind in KINDS_OF_STORE)
KEPT_DAYS = 30
"""A store of other tables, or of another version, is removed when one is built this much later.
Two versions used in turn do not remove each other's for so long."""
MOST_RENEWALS = 2
"""How often a damaged file is built again before the store is kept in memory instead."""


def open_store(
    progress: Callable[[float], None] | None = None,
    *,
    tables: Path | None = None,
    cache: Path | None = None,
    search_progress: Callable[[float], None] | None = None,
) -> Store:
    """Return the store of the tables in use, shipped or fetched, built if it is not there yet.

    ``progress`` is called with the fraction done [0…1] while it is built, ``search_progress``
    while the file of a first search is. ``tables`` and ``cache`` are folders to use instead of the
    usual ones. Raises :class:`~plotter.errors.DataFault` where the tables are missing or are not
    those registered.
    """
    register = read_register(tables) if tables else register_in_use().register
    folder, kept_in = tables or tables_folder(), cache or cache_folder()
    watched = {"places": progress, "search": search_progress}

    def open_source(kind: Kind) -> Source:
        return Keeper(folder, kept_in, watched.get(kind), register, kind).source()

    store: Store

    def changes(keys: Collection[str]) -> Changes:
        from plotter.datastore.sets import changes_since_previous

        return changes_since_previous(store, keys)

    fetched = tables is None and ever_fetched()
    store = Store(open_source, register, changes if fetched else None)
    return store


def open_ready() -> Store | None:
    """Return the store where places and names are built already; ``None`` where one is not.

    The ground is not waited for: it is built in a twentieth of a second.
    """
    try:
        register, cache = register_in_use().register, cache_folder()
    except PlotterError:
        return None
    kinds: tuple[Kind, ...] = ("places", "search")
    keepers = (Keeper(tables_folder(), cache, None, register, kind) for kind in kinds)
    if not all(keeper.path and keeper.path.is_file() for keeper in keepers):
        return None
    return open_store()


class Keeper:
    """Opens, proves, builds and replaces one file of a store."""

    def __init__(
        self,
        tables: Path,
        cache: Path | None,
        progress: Callable[[float], None] | None = None,
        register: Register | None = None,
        kind: Kind = "places",
    ) -> None:
        self._tables = tables
        self._progress = progress or _silent
        self._renewals = 0
        self._kind = kind
        self._opened: tuple[int, ...] | None = None
        self.register: Register = register or read_register(tables)
        self.name = store_name(kind, self.register)
        self.path = cache / f"{self.name}{SUFFIX}" if cache else None

    def source(self) -> Source:
        """Open the file, to be replaced whenever it proves damaged."""
        return Source(self.open(), self.renew)

    def open(self) -> Database:
        """Open the file, built now if it is not there yet."""
        if self.path is None:
            return self._in_memory()
        clear_leftovers(self.path)
        return self._existing(self.path) or self._built(self.path)

    def renew(self, damaged: Database) -> Database:
        """Return another in place of a damaged one: the file of another process, or a new one."""
        damaged.close()
        self._renewals += 1
        if self.path is None or damaged.path is None or self._renewals > MOST_RENEWALS:
            return self._in_memory()
        if signature(self.path) == self._opened:
            set_aside(self.path)
        return self.open()

    def _existing(self, path: Path) -> Database | None:
        """Open the file as it is; one that cannot be opened or proved is set aside."""
        self._opened = signature(path)
        if self._opened is None:
            return None
        try:
            database = Database.open(path, self.name)
            if _proved(path) != repr(self._opened):
                database.prove()
                _note(path, database)
        except Damaged:
            set_aside(path)
            return None
        return database

    def _built(self, path: Path) -> Database:
        connection = self._filled()
        if not _kept(connection, path):
            return Database(connection, self.name, None)
        database = self._existing(path)
        if database is None:
            return Database(connection, self.name, None)
        connection.close()
        _clear_old(path)
        return database

    def _in_memory(self) -> Database:
        return Database(self._filled(), self.name, None)

    def _filled(self) -> sqlite3.Connection:
        from plotter.datastore.build import build  # when it is needed, for a quick start

        connection = sqlite3.connect(":memory:", check_same_thread=False)
        try:
            build(connection, self._kind, self._tables, self.register, self._progress)
        except BaseException:
            connection.close()
            raise
        return connection


def _proved(path: Path) -> str:
    """Return which file was proved last under this name."""
    try:
        return path.with_suffix(PROVED).read_text(encoding="ascii")
    except (OSError, ValueError):
        return ""


def _note(path: Path, database: Database) -> None:
    """Keep which file was proved; where that cannot be kept, it is proved again next time."""
    with suppress(PlotterError):
        files.write_bytes(path.with_suffix(PROVED), repr(database.signature).encode("ascii"))


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
        if name.startswith(prefix) and name.endswith((SUFFIX, PROVED)) and other.stem != path.stem:
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
        files.write_bytes(path, sealed(serialize()))
    except (PlotterError, sqlite3.Error, MemoryError):
        return path.is_file()
    return True


def _silent(_: float) -> None:
    """Progress that nobody watches."""
