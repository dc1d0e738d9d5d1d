"""The pilot's own layers: brought from a file, listed, read for a box, dropped.

Each is one file ``layers/NAME.sqlite`` in the user's own folder (:mod:`layer_store`).
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Collection, Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

from plotter import atomic
from plotter.datastore.home import needed_folder, user_folder
from plotter.datastore.layer_files import Wanted
from plotter.datastore.layer_store import LayerFile
from plotter.datastore.lock import only_one
from plotter.errors import DataFault, FileFault, InputError, TargetExists, WriteFault
from plotter.places.own_layers import KINDS, Box, OwnLayer, OwnShape

FOLDER, SUFFIX, LOCK = "layers", ".sqlite", "lock"
BUSY = "another layer is being brought or dropped; wait until it has ended"
_NAME = re.compile(r"[a-z0-9][a-z0-9_-]{0,39}", re.ASCII)


def add(wanted: Wanted, today: dt.date) -> OwnLayer:
    """Bring a file into the user's store as a layer; ``today`` is noted as the day.

    Raises FileFault where the file cannot be read or nothing of it can be kept, InputError for a
    kind or name that cannot be, TargetExists where a layer of that name is there and is not to be
    replaced, WriteFault where the disk refuses.
    """
    from plotter.datastore.layer_making import made

    name = _name(wanted)
    if wanted.kind and wanted.kind not in KINDS:
        raise InputError(f"no layer can be '{wanted.kind}'; use --as {'|'.join(KINDS)}")
    folder = (wanted.own or needed_folder()) / FOLDER
    with only_one(folder / LOCK, BUSY):
        path = folder / f"{name}{SUFFIX}"
        if path.exists() and not wanted.replace:
            raise TargetExists(
                f"there is a layer '{name}' already; choose another --name, or --replace it"
            )
        layer, content = made(wanted, name, today)
        atomic.write_bytes(path, content)
        return layer


def drop(name: str, own: Path | None = None) -> None:
    """Remove a layer; raises InputError where there is none of that name."""
    folder = (own or needed_folder()) / FOLDER
    with only_one(folder / LOCK, BUSY):
        names = _names(folder)
        if name not in names:
            listed = ", ".join(names) or "no layer at all"
            raise InputError(f"there is no layer '{name}'; there is {listed}", candidates=names)
        path = folder / f"{name}{SUFFIX}"
        try:
            path.unlink()
        except OSError as fault:
            raise WriteFault(f"{path} was not removed: {atomic.reason(fault)}") from fault


def layers(own: Path | None = None) -> tuple[OwnLayer, ...]:
    """Every layer by its name; raises DataFault where one is damaged."""
    folder = _folder(own)
    return tuple(_opened(folder, name).layer for name in _names(folder)) if folder else ()


def shapes_in(
    box: Box, kinds: Collection[str] | None = None, own: Path | None = None
) -> Iterator[OwnShape]:
    """The shapes of all layers (of these ``kinds``) near a box of south, west, north, east [°].

    ``west`` > ``east`` runs through 180°. All that touch the box are given, and some beside it.
    Layer by layer, in the order of their features. Raises DataFault where one is damaged.
    """
    folder = _folder(own)
    for name in _names(folder) if folder else ():
        assert folder is not None
        found = _opened(folder, name)
        if kinds is None or found.layer.kind in kinds:
            yield from found.shapes(box)


def attributes(layer: str, number: int, own: Path | None = None) -> dict[str, Any]:
    """All that the file said of one feature of a layer, as it was given."""
    folder = _folder(own)
    if folder is None or layer not in _names(folder):
        raise InputError(f"there is no layer '{layer}'")
    return _opened(folder, layer).attributes(number)


def check_layers(own: Path | None = None) -> list[str]:
    """What is wrong with the layers, in words: every row of each is read and its check compared."""
    folder, findings = _folder(own), []
    for name in _names(folder) if folder else ():
        assert folder is not None
        try:
            found = _opened(folder, name)
            count = sum(1 for _ in found.every())
            if count != found.layer.features:
                findings.append(f"layer {name} has {count} of {found.layer.features} features")
        except DataFault as fault:
            findings.append(fault.message)
    return findings


def _opened(folder: Path, name: str) -> LayerFile:
    return LayerFile(folder / f"{name}{SUFFIX}")


def _folder(own: Path | None) -> Path | None:
    home = own or user_folder()
    return home and home / FOLDER


def _names(folder: Path) -> list[str]:
    """The layers that are there; a file of another name is none."""
    with suppress(OSError):
        found = (path.stem for path in folder.iterdir() if path.suffix == SUFFIX)
        return sorted(name for name in found if _NAME.fullmatch(name))
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
