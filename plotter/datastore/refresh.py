"""Newer tables of places from their public addresses: all of them proven, or nothing changes.

Fetched (:mod:`download`), unpacked within bounds, checked row by row (:mod:`making.raw`), made into
our tables by the builder's own rules (:mod:`making.renewing`), held against the tables in use,
written as a set, read back and built into a store like any other; only then is the pointer
swapped. Killed at any moment, the tables in use are the old ones or the new ones.
"""

from __future__ import annotations

import csv
import datetime as dt
import hashlib
import io
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from plotter import files as atomic
from plotter.datastore import sets
from plotter.datastore.addresses import addresses, wanted
from plotter.datastore.check import check_tables
from plotter.datastore.comparing import (
    check_airports,
    check_figures,
    check_navaids,
    check_size,
    compare,
)
from plotter.datastore.download import Download, Fetched, Patience, unpacked
from plotter.datastore.home import cache_folder, needed_folder, only_one
from plotter.datastore.making import raw as rows_of
from plotter.datastore.making.places import Witness, witnesses
from plotter.datastore.making.renewing import SECOND, TOWNS, Made, Raw, as_rows, renew
from plotter.datastore.making.tables import Rows
from plotter.datastore.opening import Keeper
from plotter.datastore.sets import CHANGES, places_hash, written
from plotter.datastore.tables import COLUMNS, PLACES, REGISTER, content_hash, read_rows, read_table
from plotter.datastore.tables import tables_folder as usual_tables
from plotter.errors import RefreshFault
from plotter.places.model import Changes
from plotter.places.store import Register

MB = 10**6
LIMITS = {
    **{"airports": 60 * MB, "runways": 20 * MB, "frequencies": 10 * MB, "navaids": 10 * MB},
    **{SECOND: 20 * MB, TOWNS: 200 * MB},
}
"""The most a table may have, packed and unpacked [bytes]: about five times that of 2026."""
Say = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class Asked:
    """What one refresh is asked for; the folders are for tests."""

    only: Sequence[str] = ()
    addresses: Mapping[str, str] = field(default_factory=dict)
    patience: Patience = field(default_factory=Patience)
    tables: Path | None = None
    own: Path | None = None
    cache: Path | None = None


@dataclass(frozen=True, slots=True)
class Refreshed:
    """What a refresh brought: the set's name, rows left out, and everything that changed.

    ``name`` is empty where the newer tables are the very ones in use.
    """

    name: str
    changes: Changes
    left_out: Sequence[str] = ()


def refresh(asked: Asked, today: dt.date, say: Say = lambda _: None) -> Refreshed:
    """Fetch, prove and put in use newer tables; ``today`` [UTC] dates those that carry no date.

    ``say`` is told in words what is being done. Raises RefreshFault where the network or what came
    of it is at fault, InputError for an address, WriteFault for a disk that refuses, CannotDo
    where another refresh is under way. After any of them the tables in use are the ones before.
    """
    home = asked.own or needed_folder()
    tables = asked.tables or usual_tables()
    found = addresses(tables, home, asked.addresses)
    names = wanted(asked.only, found)
    folder = home / sets.FOLDER
    with only_one(folder / sets.LOCK, sets.BUSY):
        run = _Run(asked, tables, folder, today, say)
        return run.all_of_it({name: found[name] for name in names})


class _Run:
    """One refresh, under the lock."""

    def __init__(self, asked: Asked, tables: Path, folder: Path, today: dt.date, say: Say) -> None:
        self._asked, self._tables, self._folder = asked, tables, folder
        self._today, self._say = today, say
        self._now = sets.register_in_use(tables, folder.parent)
        self._old = {name: list(read_rows(tables, self._now.register, name)) for name in PLACES}
        self._left_out: list[str] = []

    def all_of_it(self, found: Mapping[str, str]) -> Refreshed:
        """Every step, in order; the last one swaps the pointer."""
        downloads = self._downloads(found)
        fetched = {d.name: self._fetch(d) for d in downloads}
        self._say("checking every row")
        dates = {name: self._date(one) for name, one in fetched.items()}
        self._check_dates(dates)
        made = renew(self._raw(fetched), as_rows(COLUMNS["airports"], self._old["airports"]))
        self._say("comparing with the tables in use")
        new = {**self._old, **{name: _rows(one) for name, one in made.items()}}
        for name in made:
            check_size(name, len(new[name]), len(self._old[name]))
        check_airports(self._old["airports"], new["airports"])
        check_navaids(self._old["navaids"], new["navaids"])
        check_figures(self._old, new)
        register = self._register(made, fetched, dates)
        if content_hash(register) == content_hash(self._now.register):
            _forget(downloads)
            return Refreshed("", Changes(), tuple(self._left_out))
        pairs = {
            n: (self._now.register[n]["date"], register[n]["date"]) for n in PLACES if n in made
        }
        changes = Changes(pairs, tuple(compare(self._old, new)))
        name = self._put_in_use(register, made, changes)
        _forget(downloads)
        return Refreshed(name, changes, tuple(self._left_out))

    def _downloads(self, found: Mapping[str, str]) -> list[Download]:
        folder = self._folder / sets.DOWNLOADS
        atomic.make_folder(folder)
        return [Download(name, address, folder, LIMITS[name]) for name, address in found.items()]

    def _fetch(self, download: Download) -> Fetched:
        self._say(f"fetching {download.name} from {download.host}")
        return download.fetch(self._asked.patience, lambda *_: None)

    def _raw(self, fetched: Mapping[str, Fetched]) -> Raw:
        """Every table unpacked and every row checked; what is left out is noted."""
        tables: dict[str, Rows] = {}
        towns: tuple[Witness, ...] = ()
        for name, one in fetched.items():
            content = unpacked(name, one.path.read_bytes(), LIMITS[name])
            if name == TOWNS:
                towns = tuple(witnesses(content))
                continue
            checked = rows_of.checked(name, content)
            tables[name] = checked.rows
            self._left_out += checked.findings
        return Raw(tables, towns)

    def _date(self, fetched: Fetched) -> str:
        """The server's date of the file; today's where it gives none, or one still to come."""
        today = self._today.isoformat()
        return min(fetched.date or today, today)

    def _check_dates(self, dates: Mapping[str, str]) -> None:
        for name, date in dates.items():
            if name in PLACES and date < self._now.register[name]["date"]:
                raise RefreshFault(
                    f"{name} at its address is of {date}, older than the table in use of "
                    f"{self._now.register[name]['date']}; nothing was changed"
                )

    def _register(
        self, made: Mapping[str, Made], fetched: Mapping[str, Fetched], dates: Mapping[str, str]
    ) -> Register:
        """The register of the new set: entries of what was made, the others as they stand."""
        entries: dict[str, Any] = {}
        for name in PLACES:
            entry = {k: v for k, v in self._now.register[name].items() if k != "folder"}
            entries[name] = entry | {"file": f"{name}.csv"}
            if name in made:
                entries[name] = _entry(entry, made[name], fetched[name], dates[name])
        if "airports" in made:
            second = entries["airports"].get("second_source", {}) | {"date": dates[SECOND]}
            entries["airports"]["second_source"] = second
        return {**self._now.register, **entries}

    def _put_in_use(self, register: Register, made: Mapping[str, Made], changes: Changes) -> str:
        """Write the set, prove it as any set of tables is proven, and swap the pointer."""
        name = f"places-{content_hash(register)}"
        texts = {
            table: made[table].content
            if table in made
            else read_table(self._tables, self._now.register[table]).encode("utf-8")
            for table in PLACES
        }
        files = {f"{table}.csv": text for table, text in texts.items()}
        files[CHANGES] = written(changes, *map(places_hash, (self._now.register, register)))
        files[REGISTER] = sets.set_register({t: register[t] for t in PLACES})
        self._say("writing and proving the new tables")
        pointer = sets.read_pointer(self._folder)
        sets.clear(self._folder, pointer)
        sets.write_set(self._folder, name, files)
        entries, _ = sets.read_set(self._folder, name)
        proven: Register = {**self._now.register, **entries}
        if findings := check_tables(self._tables, proven):
            raise RefreshFault("the new tables are not whole:\n  " + "\n  ".join(findings))
        keeper = Keeper(self._tables, self._asked.cache or cache_folder(), register=proven)
        keeper.open().close()
        sets.swap(self._folder, sets.Pointer(name, self._now.name))
        return name


def _entry(old: Mapping[str, Any], made: Made, fetched: Fetched, date: str) -> dict[str, Any]:
    """What the register says of a table that was fetched: where from instead of carried by whom."""
    kept = {name: value for name, value in old.items() if name not in ("carried_by", "lints")}
    return kept | {
        "file": f"{old['file']}",
        "date": date,
        "date_is": "the server's of the file" if fetched.date == date else "the day it was fetched",
        "address": fetched.address,
        "sha256": hashlib.sha256(made.content).hexdigest(),
        "bytes": len(made.content),
        "rows": made.rows,
        **made.counts,
    }


def _rows(made: Made) -> list[list[str]]:
    return list(csv.reader(io.StringIO(made.content.decode("utf-8"), newline="")))[1:]


def _forget(downloads: Iterable[Download]) -> None:
    for download in downloads:
        download.forget()
