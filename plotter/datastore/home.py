"""Where this machine keeps what can be built anew (cache) and what is the user's own (data)."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Literal

from plotter import files
from plotter.errors import CannotDo, WriteFault

VARIABLE = "PLOTTER_HOME"


def cache_folder() -> Path | None:
    """The folder for the store; ``PLOTTER_HOME`` moves it. ``None`` where the user has no home.

    The trap: nothing here says that it exists, is a folder or can be written.
    """
    return _folder("user_cache_path")


def user_folder() -> Path | None:
    """The folder for what the user made and nobody can build anew; ``PLOTTER_HOME`` moves it too.

    ``None`` where the user has no home. The trap: as :func:`cache_folder`.
    """
    return _folder("user_data_path")


def needed_folder() -> Path:
    """The user's own folder where there must be one; raises WriteFault, saying how to name one."""
    folder = user_folder()
    if folder is None:
        raise WriteFault(f"this user has no folder to keep data in; set {VARIABLE} to one")
    return folder


def _folder(kind: Literal["user_cache_path", "user_data_path"]) -> Path | None:
    asked = os.environ.get(VARIABLE, "")
    try:
        if asked.strip():
            return Path(asked).expanduser().absolute()
        import platformdirs

        found: Path = getattr(platformdirs, kind)("plotter", appauthor=False)
        return found.absolute()
    except (RuntimeError, OSError):
        return None


# One at a time: a lock that the system gives back when its holder dies.


@contextmanager
def only_one(path: Path, busy: str) -> Iterator[None]:
    """Hold the lock file ``path`` while the block runs.

    Raises CannotDo with the words ``busy`` where another process, or another thread, holds it;
    WriteFault where the file cannot be made. The file stays: a lock is on what is open, not on
    what lies there, so a killed holder leaves nothing that must be cleared.
    """
    files.make_folder(path.parent)
    try:
        handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o666)
    except OSError as fault:
        raise WriteFault(f"{path} cannot be made: {files.reason(fault)}") from fault
    try:
        try:
            files.take_lock(handle)
        except OSError as fault:
            raise CannotDo(busy, code="busy") from fault
        yield
    finally:
        os.close(handle)
