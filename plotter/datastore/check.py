"""Are the tables the ones registered, and is the store what was built from them?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import NamedTuple

from plotter.datastore.home import cache_folder
from plotter.datastore.opening import Keeper, set_aside
from plotter.datastore.sets import register_in_use
from plotter.datastore.tables import NAMES, TIERS, read_register, read_rows, read_table
from plotter.datastore.tables import tables_folder as usual_tables
from plotter.errors import DataFault
from plotter.messages import text
from plotter.places.rows import (
    Row,
    airport_from,
    frequency_from,
    navaid_from,
    runway_from,
    town_from,
)
from plotter.places.store import KINDS_OF_STORE, Damaged, Database, Register

MOST_FINDINGS = 20
"""Findings listed for one table; a wrong column would fill the screen."""
_READERS: dict[str, Callable[[Row], object]] = {
    "airports": airport_from,
    "runways": runway_from,
    "frequencies": frequency_from,
    "navaids": navaid_from,
    "towns": town_from,
}
UNIQUE = ("airports", "navaids")
"""Tables whose first column is a key."""
HANGING = ("runways", "frequencies")
"""Tables whose first column is the ident of an airport."""


class DatasetRow(NamedTuple):
    """One dataset as ``plotter data`` lists it."""

    name: str
    source: str
    date: str
    rows: int
    licence: str


def datasets(tables: Path | None = None) -> tuple[DatasetRow, ...]:
    """The datasets in use, as registered; raises DataFault where there are none."""
    register = read_register(tables) if tables else register_in_use().register
    return tuple(
        DatasetRow(
            name.replace("_", " "),
            register[name]["source"],
            register[name]["date"],
            register[name]["rows"],
            register[name]["licence"],
        )
        for name in NAMES
    )


def check_tables(tables: Path | None = None, register: Register | None = None) -> list[str]:
    """What is wrong with the tables, in words; nothing where all is well.

    Each is compared with its sha256 and its count in the register and every row is read. Without
    ``tables`` those in use are checked; ``register`` may name newer ones in other folders.
    """
    try:
        folder = tables or usual_tables()
        if register is None:
            register = read_register(folder) if tables else register_in_use().register
    except DataFault as fault:
        return [text(fault.said, "console")]
    findings: list[str] = []
    airports: set[str] = set()
    for name in NAMES:
        try:
            found = list(_table_findings(folder, register, name, airports))
        except DataFault as fault:
            found = [text(fault.said, "console")]
        findings += _first(found)
    return findings


def check_store(tables: Path | None = None, cache: Path | None = None) -> list[str]:
    """Return what is wrong with the store, in words; nothing where all is well or none is built.

    Each file as a whole is compared with its check value. A damaged one is set aside, so that the
    next look-up builds another.
    """
    findings: list[str] = []
    for kind in KINDS_OF_STORE:
        try:
            register = read_register(tables) if tables else register_in_use().register
            kept_in = cache or cache_folder()
            keeper = Keeper(tables or usual_tables(), kept_in, register=register, kind=kind)
        except DataFault as fault:
            return [text(fault.said, "console")]
        findings += _file_findings(keeper)
    return findings


def _file_findings(keeper: Keeper) -> list[str]:
    path = keeper.path
    if path is None or not path.exists():
        return []
    try:
        database = Database.open(path, keeper.name)
        database.prove()
        database.close()
    except Damaged as fault:
        done = "it is set aside and the next look-up builds another"
        if not set_aside(path):
            done = "it could not be set aside; remove it by hand"
        return [f"the store {path} is damaged ({fault}); {done}"]
    return []


def _table_findings(
    folder: Path, register: Register, name: str, airports: set[str]
) -> Iterator[str]:
    """Faults of one table; ``airports`` gathers the idents that others refer to."""
    if name in TIERS:
        lines = read_table(folder, register[name]).count("\n")
        if lines != register[name]["rows"]:
            yield f"{name} has {lines} rows, registered are {register[name]['rows']}"
        return
    keys: Counter[str] = Counter()
    for row in read_rows(folder, register, name):
        keys[row[0]] += 1
        yield from _row_faults(name, row)
    if name in UNIQUE:
        yield from (f"{name}: {key} stands {n} times" for key, n in keys.items() if n > 1)
    if name == "airports":
        airports.update(keys)
    if name in HANGING:
        yield from (f"{name}: there is no airport {key}" for key in sorted(keys.keys() - airports))


def _row_faults(name: str, row: Row) -> Iterable[str]:
    try:
        _READERS[name](row)
    except (DataFault, ValueError) as fault:
        return [f"{name}: {fault}"]
    return []


def _first(findings: list[str]) -> list[str]:
    if len(findings) <= MOST_FINDINGS:
        return findings
    return [*findings[:MOST_FINDINGS], f"and {len(findings) - MOST_FINDINGS} more like it"]
