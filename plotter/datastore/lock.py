"""One at a time: a lock that the system gives back when its holder dies."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from plotter import atomic
from plotter.errors import CannotDo, WriteFault


@contextmanager
def only_one(path: Path, busy: str) -> Iterator[None]:
    """Hold the lock file ``path`` while the block runs.

    Raises CannotDo with the words ``busy`` where another process, or another thread, holds it;
    WriteFault where the file cannot be made. The file stays: a lock is on what is open, not on
    what lies there, so a killed holder leaves nothing that must be cleared.
    """
    atomic.make_folder(path.parent)
    try:
        handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o666)
    except OSError as fault:
        raise WriteFault(f"{path} cannot be made: {atomic.reason(fault)}") from fault
    try:
        if not _taken(handle):
            raise CannotDo(busy, code="busy")
        yield
    finally:
        os.close(handle)


def _taken(handle: int) -> bool:
    try:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True
