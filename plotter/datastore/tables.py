"""Where the tables lie, and their register: what each is, from when, and its sha256."""

from __future__ import annotations

import csv
import hashlib
import io
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import cast

import plotter
from plotter.errors import DataFault
from plotter.messages import message
from plotter.places.rows import AIRPORTS, FORBIDDEN, FREQUENCIES, NAVAIDS, RUNWAYS, TOWNS
from plotter.places.store import Dataset, Kind, Register

REGISTER = "register.json"
COLUMNS: dict[str, Sequence[str]] = {
    "airports": AIRPORTS,
    "runways": RUNWAYS,
    "frequencies": FREQUENCIES,
    "navaids": NAVAIDS,
    "towns": TOWNS,
}
PLACES = ("airports", "runways", "frequencies", "navaids")
"""The tables that can be renewed from the network; towns and base map come with the package."""
TIERS = {"basemap_world": "world", "basemap_coarse": "coarse", "basemap_fine": "fine"}
NAMES = (*COLUMNS, *TIERS)
"""The datasets a store is built from, by their names in the register."""


def tables_folder(package: Path | None = None) -> Path:
    """The folder of the tables: inside the package, else beside the checkout.

    A wheel carries the tables as ``plotter/data``; an editable install leaves them in ``data``
    beside the package. Raises DataFault that says where it looked.
    """
    package = package or Path(plotter.__file__).absolute().parent
    places = (package / "data", package.parent / "data")
    for place in places:
        if (place / REGISTER).is_file():
            return place
    raise DataFault("no-tables", register=REGISTER, folders=tuple(map(str, places)))


def read_register(folder: Path) -> Register:
    """The register of a folder of tables; raises DataFault where it is not one."""
    path = folder / REGISTER
    try:
        content = json.loads(path.read_text(encoding="utf-8"))
        for name in NAMES:
            _check_entry(content[name])
    except (OSError, ValueError, KeyError, TypeError) as fault:
        raise DataFault("data.register", path=str(path), fault=repr(fault)) from fault
    return cast(Register, content)


def _check_entry(entry: Dataset) -> None:
    texts = (entry["file"], entry["source"], entry["date"], entry["licence"], entry["sha256"])
    if not all(isinstance(text, str) and text for text in texts):
        raise ValueError("an empty field")
    int(entry["rows"])


def content_hash(register: Register, names: Iterable[str] = NAMES) -> str:
    """Return sixteen hexadecimal digits that change with any of these tables.

    They are made from the sha256s in the register, not from the tables: those are hashed when a
    store is built and by ``plotter data check``, not at every start.
    """
    text = "".join(f"{name} {register[name]['sha256']}\n" for name in names)
    return hashlib.sha256(text.encode()).hexdigest()[:16]


SCHEMAS: Mapping[Kind, int] = {"places": 4, "ground": 1, "search": 2}
"""A number goes up with every change of what is in a file or how; a test holds it to the layout."""
MADE_OF: Mapping[Kind, Sequence[str]] = {
    "places": tuple(COLUMNS),
    "ground": tuple(TIERS),
    "search": tuple(COLUMNS),
}
"""The tables each store file is made of: only their change calls for another file."""


def store_name(kind: Kind, register: Register) -> str:
    """Return the name of a file: its kind, its schema and a hash of the tables it is made of."""
    return f"{kind}-{SCHEMAS[kind]}-{content_hash(register, MADE_OF[kind])}"


def read_table(folder: Path, entry: Dataset) -> str:
    """The text of a registered table; raises DataFault unless it is the very file registered."""
    path = Path(entry.get("folder", folder)) / entry["file"]
    again = message("data.fetch-again" if "folder" in entry else "data.install-again")
    try:
        content = path.read_bytes()
    except OSError as fault:
        reason = str(fault.strerror)
        raise DataFault("data.unreadable", path=str(path), reason=reason, again=again) from fault
    if hashlib.sha256(content).hexdigest() != entry["sha256"]:
        raise DataFault("data.not-registered", path=str(path), again=again)
    return content.decode("utf-8")


def read_rows(folder: Path, register: Register, name: str) -> Iterator[list[str]]:
    """The rows of a CSV table below its header; raises DataFault where the columns are others."""
    text = read_table(folder, register[name])
    rows = csv.reader(io.StringIO(text, newline=""), strict=True)
    header = next(rows, [])
    if header != list(COLUMNS[name]):
        raise DataFault("data.columns", file=register[name]["file"], columns=tuple(header))
    if any(mark in text for mark in FORBIDDEN) or text.count("\n") != register[name]["rows"] + 1:
        entry = register[name]
        raise DataFault("data.not-lines", file=entry["file"], rows=entry["rows"])
    return rows
