"""The sets of tables that were fetched, and the small file that says which of them is in use.

::

    sets/
      in-use.json          the pointer: the set in use and the one before; swapped in one step
      lock                 held while a set is being made or taken back
      downloads/           what has arrived of the datasets' own tables
      places-…/            a set: the four tables of places, their register, what changed

A set is whole before the pointer names it and is never changed after that. Without a pointer, and
where the package has brought newer tables than the set's, the shipped tables are in use.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Collection, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any, cast

from plotter import files as atomic
from plotter.datastore.home import needed_folder, only_one, user_folder
from plotter.datastore.tables import PLACES, REGISTER, read_register, tables_folder
from plotter.errors import CannotDo, DataFault
from plotter.places.model import Change, Changes, What
from plotter.places.store import Dataset, Register, Store

FORMAT = 1
"""Goes up when the columns of a table or the rules for them change; older sets are unused then."""
FOLDER, POINTER, LOCK, DOWNLOADS = "sets", "in-use.json", "lock", "downloads"
SHIPPED = ""
"""The name that stands for the package's own tables."""
BUSY = "another refresh is under way; nothing was changed; wait until it has ended"
_NAME = re.compile(r"places-[0-9a-f]{16}", re.ASCII)
_BACK = "type 'plotter data restore --shipped' to use the tables of the package"


@dataclass(frozen=True, slots=True)
class Pointer:
    """Names of the set in use and of the one before it; ``SHIPPED`` is the package's own."""

    in_use: str = SHIPPED
    before: str = SHIPPED


@dataclass(frozen=True, slots=True)
class InUse:
    """The tables in use: their register, and why a fetched set is not used where one is not."""

    register: Register
    name: str = SHIPPED
    why_not: str = ""


def register_in_use(shipped: Path | None = None, own: Path | None = None) -> InUse:
    """The register of the tables in use: shipped ones, overlaid by those of the set in use.

    Raises DataFault where the pointer or its set is damaged: other tables than those the pilot
    chose are never used in silence.
    """
    tables = shipped or tables_folder()
    register = read_register(tables)
    home = own or user_folder()
    pointer = read_pointer(home / FOLDER) if home else Pointer()
    if home is None or pointer.in_use == SHIPPED:
        return InUse(register)
    entries, made_in = read_set(home / FOLDER, pointer.in_use)
    if made_in != FORMAT:
        return InUse(register, why_not="another version of the program made the fetched tables")
    if any(register[name]["date"] > entries[name]["date"] for name in PLACES):
        return InUse(register, why_not="the package has brought newer tables than those fetched")
    return InUse({**register, **entries}, pointer.in_use)


def ever_fetched(own: Path | None = None) -> bool:
    """Whether newer tables were ever fetched on this machine, in use now or not."""
    home = own or user_folder()
    return home is not None and read_pointer(home / FOLDER) != Pointer()


def read_pointer(folder: Path) -> Pointer:
    """The pointer of a folder of sets; the shipped tables where there is none."""
    path = folder / POINTER
    try:
        content = json.loads(path.read_text(encoding="utf-8"))
        names = content["in_use"], content["before"]
    except (FileNotFoundError, NotADirectoryError):
        return Pointer()
    except (OSError, ValueError, KeyError, TypeError) as fault:
        raise DataFault(f"{path} cannot be read ({fault!r}); {_BACK}") from fault
    if not all(isinstance(name, str) and (not name or _NAME.fullmatch(name)) for name in names):
        raise DataFault(f"{path} names no set of tables; {_BACK}")
    return Pointer(*names)


def read_set(folder: Path, name: str) -> tuple[dict[str, Dataset], int]:
    """The entries of a set's register, each with its folder, and the format it was made in."""
    path = folder / name / REGISTER
    try:
        content = json.loads(path.read_text(encoding="utf-8"))
        tables = content["tables"]
        entries = {table: tables[table] | {"folder": str(folder / name)} for table in PLACES}
        for entry in entries.values():
            _ = entry["file"], entry["date"], entry["sha256"], int(entry["rows"])
        return cast(dict[str, Dataset], entries), int(content["format"])
    except (OSError, ValueError, KeyError, TypeError) as fault:
        raise DataFault(f"{path} is not the register of a set ({fault!r}); {_BACK}") from fault


def write_set(folder: Path, name: str, files: Mapping[str, bytes]) -> None:
    """Write a set whole, its register last; a set of that name that is there already is renewed."""
    atomic.make_folder(folder / name)
    for file in sorted(files, key=lambda file: file == REGISTER):
        atomic.write_bytes(folder / name / file, files[file])


def set_register(entries: Mapping[str, Mapping[str, Any]]) -> bytes:
    """The register of a set as its file."""
    content = {"format": FORMAT, "tables": {name: dict(entries[name]) for name in PLACES}}
    return (json.dumps(content, indent=2, ensure_ascii=False) + "\n").encode("utf-8")


def swap(folder: Path, pointer: Pointer) -> None:
    """Put a pointer in place in one step, then remove what it no longer names."""
    atomic.make_folder(folder)
    content = {"in_use": pointer.in_use, "before": pointer.before}
    atomic.write_bytes(folder / POINTER, (json.dumps(content) + "\n").encode("utf-8"))
    clear(folder, pointer)


def clear(folder: Path, pointer: Pointer) -> None:
    """Remove sets that nothing names: older ones, and those of refreshes that were killed."""
    import shutil

    with suppress(OSError):
        for path in folder.iterdir():
            unused = path.name not in (pointer.in_use, pointer.before)
            if _NAME.fullmatch(path.name) and unused:
                shutil.rmtree(path, ignore_errors=True)


def restore(shipped: bool = False, own: Path | None = None) -> Pointer:
    """Put the set before in use, or the ``shipped`` tables; the other stays to come back to.

    Raises CannotDo where there is none before, DataFault where it is damaged.
    """
    folder = (own or needed_folder()) / FOLDER
    with only_one(folder / LOCK, BUSY):
        try:
            now = read_pointer(folder)
        except DataFault:
            if not shipped:
                raise
            now = Pointer()
        if now == Pointer() and not shipped:
            raise CannotDo("nothing was ever fetched: the tables of the package are in use")
        back = Pointer(SHIPPED, now.in_use or now.before)
        to = back if shipped else Pointer(now.before, now.in_use)
        if to.in_use != SHIPPED:
            read_set(folder, to.in_use)
        swap(folder, to)
        return to


# The file that lies with a fetched set and says what changed from the set in use before it.

CHANGES = "changes.jsonl"


def places_hash(register: Register) -> str:
    """Sixteen hexadecimal figures that change with any of the four tables of places."""
    text = "".join(f"{name} {register[name]['sha256']}\n" for name in PLACES)
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def written(changes: Changes, before: str, after: str) -> bytes:
    """The file: which two sets (as :func:`places_hash` names them), then one change a line."""
    lines = [json.dumps({"sets": [before, after], "dates": changes.dates})]
    lines += [
        json.dumps([c.key, c.what.value, c.before, c.after, c.moved_nm], ensure_ascii=False)
        for c in changes.every
    ]
    return ("\n".join(lines) + "\n").encode("utf-8")


def changes_since_previous(
    store: Store, keys: Collection[str] | None = None, own: Path | None = None
) -> Changes:
    """What the newest fetched set and the one before it say differently.

    A store of either side gets them: one who went back to the older tables should know all the
    more. A store of other tables has no changes. With ``keys`` (airport idents, navaid keys) only
    the changes of those places are read, which is quick. Raises DataFault where the file is
    damaged.
    """
    home = own or user_folder()
    here = places_hash(store.register)
    for path in _files(home / FOLDER) if home else ():
        try:
            head, *lines = path.read_text(encoding="utf-8").splitlines()
            about: dict[str, Any] = json.loads(head)
            if here in about["sets"]:
                return _read(about, lines, keys)
        except (OSError, ValueError, KeyError, TypeError) as fault:
            raise DataFault(f"{path} cannot be read ({fault!r})") from fault
    return Changes()


def _files(folder: Path) -> Iterator[Path]:
    """The list of changes of the set in use, then of the one before, where they have one."""
    pointer = read_pointer(folder)
    for name in (pointer.in_use, pointer.before):
        path = folder / name / CHANGES
        with suppress(OSError):
            if name != SHIPPED and path.is_file():
                yield path


def _read(about: dict[str, Any], lines: list[str], keys: Collection[str] | None) -> Changes:
    if keys is not None:
        quoted = [json.dumps(key, ensure_ascii=False) for key in keys]
        lines = [line for line in lines if any(key in line for key in quoted)]
    dates = {name: (old, new) for name, (old, new) in about["dates"].items()}
    return Changes(dates, tuple(_change(*json.loads(line)) for line in lines))


def _change(key: str, what: str, before: str, after: str, moved_nm: float) -> Change:
    return Change(key, What(what), before, after, moved_nm)
