"""Put finished files in place: on a conflict none of them, and never a file the pilot changed.

Every target is looked at first, and only then is anything written, one file after the other, each
whole (:mod:`plotter.atomic`). A file that is the same already is left alone. A symbolic link at a
target counts as a different file: it is refused, and with ``replace`` it is the link that is
replaced, never what it points at.
"""

from __future__ import annotations

import stat
from collections.abc import Iterable, Mapping
from pathlib import Path

from plotter.atomic import clear_stale, make_folder, reason, write_bytes
from plotter.errors import TargetExists, WriteFault

ANOTHER_NAME = "choose another --name or --into"


def write_files(files: Mapping[Path, bytes], *, replace: bool, instead: str = ANOTHER_NAME) -> None:
    """Put files in place; on a conflict none of them. ``instead`` says what else could be typed.

    Raises :class:`~plotter.errors.TargetExists` and :class:`~plotter.errors.WriteFault`; the
    latter says which files were written before the disk refused.
    """
    for path in files:
        _refuse_what_is_no_file(path, instead)
    waiting = {path: data for path, data in files.items() if not _is_same(path, data)}
    different = [path for path in waiting if _is_there(path)]
    if different and not replace:
        raise TargetExists(
            f"{_listed(different)} {'is' if len(different) == 1 else 'are'} there already and "
            f"would change; add --replace, or {instead}",
            candidates=[str(path) for path in different],
        )
    for folder in dict.fromkeys(path.parent for path in files):
        make_folder(folder)
    for path in files.keys() - waiting.keys():
        clear_stale(path)
    _write_each(waiting)


def would_happen(path: Path, data: bytes, instead: str = ANOTHER_NAME) -> str:
    """What :func:`write_files` would do to one target, in words; raises WriteFault for a folder."""
    _refuse_what_is_no_file(path, instead)
    if not _is_there(path):
        return "would be written"
    return "is the same already" if _is_same(path, data) else "differs and would need --replace"


def _write_each(files: Mapping[Path, bytes]) -> None:
    written: list[Path] = []
    for path, data in files.items():
        try:
            write_bytes(path, data)
        except WriteFault as fault:
            if not written:
                raise
            raise WriteFault(f"{fault.message} (written before it: {_listed(written)})") from fault
        written.append(path)


def _refuse_what_is_no_file(path: Path, instead: str) -> None:
    """A folder or a device at the target is never replaced."""
    try:
        mode = path.lstat().st_mode
    except (FileNotFoundError, NotADirectoryError):
        return
    except OSError as fault:
        raise WriteFault(f"{path} was not written: {reason(fault)}") from fault
    if not (stat.S_ISREG(mode) or stat.S_ISLNK(mode)):
        what = "a folder" if stat.S_ISDIR(mode) else "not an ordinary file"
        raise WriteFault(f"{path} is {what} and is not replaced; {instead}")


def _is_there(path: Path) -> bool:
    return path.is_symlink() or path.exists()


def _is_same(path: Path, data: bytes) -> bool:
    """Whether an ordinary file of exactly these bytes is there; one that cannot be read is not."""
    try:
        state = path.lstat()
        same_size = stat.S_ISREG(state.st_mode) and state.st_size == len(data)
        return same_size and path.read_bytes() == data
    except OSError:
        return False


def _listed(paths: Iterable[Path]) -> str:
    return ", ".join(str(path) for path in paths)
