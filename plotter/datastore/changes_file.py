"""The file that lies with a fetched set and says what changed from the set in use before it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Collection, Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

from plotter.datastore import sets
from plotter.datastore.home import user_folder
from plotter.datastore.tables import PLACES
from plotter.errors import DataFault
from plotter.places.changes import Change, Changes, What
from plotter.places.store import Register, Store

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
    for path in _files(home / sets.FOLDER) if home else ():
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
    pointer = sets.read_pointer(folder)
    for name in (pointer.in_use, pointer.before):
        path = folder / name / CHANGES
        with suppress(OSError):
            if name != sets.SHIPPED and path.is_file():
                yield path


def _read(about: dict[str, Any], lines: list[str], keys: Collection[str] | None) -> Changes:
    if keys is not None:
        quoted = [json.dumps(key, ensure_ascii=False) for key in keys]
        lines = [line for line in lines if any(key in line for key in quoted)]
    dates = {name: (old, new) for name, (old, new) in about["dates"].items()}
    return Changes(dates, tuple(_change(*json.loads(line)) for line in lines))


def _change(key: str, what: str, before: str, after: str, moved_nm: float) -> Change:
    return Change(key, What(what), before, after, moved_nm)
