"""The one way to open a file that the pilot gives: a regular file, or none."""

from __future__ import annotations

import os
import stat
from pathlib import Path
from typing import BinaryIO

_FLAGS = os.O_RDONLY | getattr(os, "O_BINARY", 0) | getattr(os, "O_NONBLOCK", 0)
"""Opening a pipe would wait for somebody to write into it; not so with ``O_NONBLOCK`` (POSIX)."""


def open_plain(path: Path) -> BinaryIO:
    """Open a file for reading bytes.

    Raises OSError where it cannot be opened, and for a folder, pipe, socket or device: reading one
    may wait for ever or never end.
    """
    return open(path, "rb", opener=_opened)


def _opened(path: str, _flags: int) -> int:
    handle = os.open(path, _FLAGS)
    mode = os.fstat(handle).st_mode
    # open() itself refuses a folder, in the system's words.
    if stat.S_ISREG(mode) or stat.S_ISDIR(mode):
        return handle
    os.close(handle)
    raise OSError(None, "a pipe or device is not read; name a regular file", path)
