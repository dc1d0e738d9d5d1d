"""Where a pilot's tested plotter is kept on this machine, and how it is found again."""

from __future__ import annotations

from pathlib import Path

from plotter.chart.own_plotter import OwnPlotter
from plotter.datastore.home import user_folder
from plotter.errors import WriteFault
from plotter.files import absolute, write_files
from plotter.formats.own_plotter_file import own_plotter_bytes, read_own_plotter
from plotter.messages import message

FILE_NAME = "my-plotter.json"


def kept_path(path: Path | None = None) -> Path:
    """The file asked for, or the one in the user's folder; raises WriteFault without a home."""
    if path is not None:
        return absolute(path)
    folder = user_folder()
    if folder is None:
        raise WriteFault("this user has no folder of their own; name a file with --keep FILE")
    return folder / FILE_NAME


def keep_own_plotter(
    tested: OwnPlotter, path: Path | None = None, *, replace: bool = False
) -> Path:
    """Write a tested plotter down, whole or not at all; gives the file.

    Raises TargetExists where another test is kept there and ``replace`` is not said, WriteFault
    where folder or disk refuses.
    """
    target = kept_path(path)
    data = {target: own_plotter_bytes(tested)}
    write_files(data, replace=replace, instead=message("exists.another-file"))
    return target


def load_own_plotter(path: Path | None = None) -> OwnPlotter | None:
    """The tested plotter that is kept; ``None`` where none was tested on this machine.

    A file that is named must be there. Raises FileFault for one that cannot be read or is damaged.
    """
    if path is not None:
        return read_own_plotter(path)
    folder = user_folder()
    kept = folder / FILE_NAME if folder else None
    return read_own_plotter(kept) if kept and kept.exists() else None
