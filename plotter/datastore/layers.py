"""The pilot's own layers: brought from a file, listed, read for a box, dropped.

Each is one file ``layers/NAME.sqlite`` in the user's own folder (:mod:`layer_store`). A damaged one
is never drawn in part: it is set aside as ``NAME.sqlite.damaged`` and reported until its file is
added again or the layer is dropped.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Collection, Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

from plotter import files as atomic
from plotter.datastore.home import needed_folder, only_one, user_folder
from plotter.datastore.layer_files import Wanted
from plotter.datastore.layer_store import LayerFile, is_whole
from plotter.errors import CannotDo, DataFault, FileFault, InputError, TargetExists, WriteFault
from plotter.places.model import KINDS, Box, OwnLayer, OwnShape

FOLDER, SUFFIX, LOCK = "layers", ".sqlite", "lock"
ASIDE = ".damaged"
BUSY = "another layer is being brought or dropped; wait until it has ended"
DAMAGED = (
    "is damaged or was kept by an earlier version, and is not drawn; add its file again "
    "('plotter data add FILE --name {0}') or remove it ('plotter data drop {0}')"
)
"""What is wrong with a layer that was set aside, after its name; ``{0}`` is the name again."""
_NAME = re.compile(r"[a-z0-9][a-z0-9_-]{0,39}", re.ASCII)


def add(wanted: Wanted, today: dt.date) -> OwnLayer:
    """Bring a file into the user's store as a layer; ``today`` is noted as the day.

    Raises FileFault where the file cannot be read or nothing of it can be kept, InputError for a
    kind or name that cannot be, TargetExists where a layer of that name is there and is not to be
    replaced, WriteFault where the disk refuses.
    """
    from plotter.datastore.layer_store import made

    name = _name(wanted)
    if wanted.kind and wanted.kind not in KINDS:
        raise InputError(f"no layer can be '{wanted.kind}'; use --as {'|'.join(KINDS)}")
    folder = (wanted.own or needed_folder()) / FOLDER
    with only_one(folder / LOCK, BUSY):
        path = folder / f"{name}{SUFFIX}"
        if path.exists() and not wanted.replace and not _put_aside(path):
            raise TargetExists(
                f"there is a layer '{name}' already; choose another --name, or --replace it"
            )
        layer, content = made(wanted, name, today)
        atomic.write_bytes(path, content)
        with suppress(OSError):
            _aside(path).unlink(missing_ok=True)
        return layer


def drop(name: str, own: Path | None = None) -> None:
    """Remove a layer, damaged or not; raises InputError where there is none of that name."""
    folder = (own or needed_folder()) / FOLDER
    with only_one(folder / LOCK, BUSY):
        names = sorted({*_names(folder), *_names(folder, SUFFIX + ASIDE)})
        if name not in names:
            listed = ", ".join(names) or "no layer at all"
            raise InputError(f"there is no layer '{name}'; there is {listed}", candidates=names)
        path = folder / f"{name}{SUFFIX}"
        try:
            path.unlink(missing_ok=True)
            _aside(path).unlink(missing_ok=True)
        except OSError as fault:
            raise WriteFault(f"{path} was not removed: {atomic.reason(fault)}") from fault


def layers(own: Path | None = None) -> tuple[OwnLayer, ...]:
    """Return every layer that is whole, by its name; damaged ones are set aside."""
    return tuple(found.layer for _, found in _files(own))


def damaged_layers(own: Path | None = None) -> tuple[str, ...]:
    """Return the names of damaged layers: those set aside, now or before, and not added again."""
    folder = _folder(own)
    if folder is None:
        return ()
    whole = {name for name, _ in _files(own)}
    return tuple(sorted({*_names(folder), *_names(folder, SUFFIX + ASIDE)} - whole))


def shapes_in(
    box: Box, kinds: Collection[str] | None = None, own: Path | None = None
) -> Iterator[OwnShape]:
    """The shapes of all layers (of these ``kinds``) near a box of south, west, north, east [°].

    ``west`` > ``east`` runs through 180°. All that touch the box are given, and some beside it.
    Layer by layer, in the order of their features; nothing of a damaged one (which ones are,
    :func:`damaged_layers` returns). Raises DataFault where one cannot be read.
    """
    for _, found in _files(own):
        if kinds is None or found.layer.kind in kinds:
            yield from found.shapes(box)


def attributes(layer: str, number: int, own: Path | None = None) -> dict[str, Any]:
    """All that the file said of one feature of a layer, as it was given."""
    for name, found in _files(own):
        if name == layer:
            return found.attributes(number)
    raise InputError(f"there is no layer '{layer}'")


def check_layers(own: Path | None = None) -> list[str]:
    """What is wrong with the layers, in words: every row of each is read and its check compared."""
    findings = [f"own layer {name} {DAMAGED.format(name)}" for name in damaged_layers(own)]
    for name, found in _files(own):
        try:
            count = sum(1 for _ in found.every())
            if count != found.layer.features:
                findings.append(f"layer {name} has {count} of {found.layer.features} features")
        except DataFault as fault:
            findings.append(fault.message)
    return findings


def _files(own: Path | None) -> Iterator[tuple[str, LayerFile]]:
    """Every layer that is whole, with its name; what is not is set aside."""
    folder = _folder(own)
    for name in _names(folder) if folder else ():
        assert folder is not None
        path = folder / f"{name}{SUFFIX}"
        with suppress(FileNotFoundError):  # dropped a moment ago
            if is_whole(path):
                yield name, LayerFile(path)
            else:
                with suppress(CannotDo), only_one(folder / LOCK, BUSY):
                    _put_aside(path)


def _put_aside(path: Path) -> bool:
    """Set a damaged layer aside; whether it was damaged and is out of the way. Under the lock."""
    if is_whole(path):
        return False
    try:
        path.replace(_aside(path))
    except OSError:
        return False
    return True


def _aside(path: Path) -> Path:
    return path.with_name(f"{path.name}{ASIDE}")


def _folder(own: Path | None) -> Path | None:
    home = own or user_folder()
    return home and home / FOLDER


def _names(folder: Path, suffix: str = SUFFIX) -> list[str]:
    """The layers that are there; a file of another name is none."""
    with suppress(OSError):
        files = (path.name for path in folder.iterdir() if path.name.endswith(suffix))
        return sorted(name for file in files if _NAME.fullmatch(name := file[: -len(suffix)]))
    return []


def _name(wanted: Wanted) -> str:
    """The name asked for, or one made of the file's."""
    if wanted.name:
        if not _NAME.fullmatch(wanted.name):
            raise InputError(
                f"'{wanted.name}' cannot be a layer's name; use a-z, 0-9, - and _, 40 at most"
            )
        return wanted.name
    stem = wanted.path.name.split(".")[0].lower()
    made = re.sub(r"[^a-z0-9]+", "-", stem).strip("-")[:40].strip("-")
    if not made:
        raise FileFault(f"no name can be made of '{wanted.path.name}'; give one with --name")
    return made
