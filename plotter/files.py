"""The one way to write a file: whole or not at all.

The bytes go to a temporary file in the same folder (``.NAME.partial-PID-RANDOM``), are flushed to
the disk, and the temporary is renamed over the target, which common file systems do in one
step; a file that must be new (:func:`write_new`) is linked to its name, which fails where the name
is taken. Killed at any moment there is the old file or the new one, and at most one temporary,
which the next writer of that target clears. A writer holds a lock on its temporary, so that nobody
clears a file that is still being written. Who writes several files that belong together holds
their folder meanwhile (:func:`one_writer`).

A partner that can only write a file step by step gets a scratch folder of its own
(:func:`scratch_folder`); what it made is read from there and written as everything else is.
"""

from __future__ import annotations

import errno
import glob
import os
import stat
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

from plotter.errors import TargetExists, WriteFault
from plotter.messages import Message, message, text

SCRATCH = "plotter-scratch-"
MOST_TURNS, TURN_S = 1_200, 0.05
"""How often a writer tries for its turn, and the pause between [s]: a minute in all."""
_LOCK = "lock"
_REASONS = {
    errno.ENOSPC: "disk.full",
    errno.EDQUOT: "disk.quota",
    errno.EFBIG: "disk.too-large",
    errno.EACCES: "disk.no-permission",
    errno.EPERM: "disk.no-permission",
    errno.EROFS: "disk.read-only",
    errno.ENOENT: "disk.no-folder",
    errno.ENOTDIR: "disk.not-a-folder",
    errno.EISDIR: "disk.is-a-folder",
    errno.ENAMETOOLONG: "disk.long-path",
}


def absolute(path: Path) -> Path:
    """Return the path from the root; raise WriteFault where the current folder was removed.

    >>> absolute(Path("/tmp")).is_absolute()
    True
    """
    try:
        return path.absolute()
    except FileNotFoundError as fault:
        raise WriteFault("no-folder") from fault


def write_bytes(path: Path, data: bytes) -> None:
    """Write a file whole: the old content or the new one, never a part.

    A new file gets ordinary permissions (the umask's); one that replaces another keeps that
    one's. A symbolic link is replaced, not followed. Raises
    :class:`~plotter.errors.WriteFault`; a KeyboardInterrupt passes through. Either way the
    temporary is gone.
    """
    _write(path, data, os.replace)


def write_new(path: Path, data: bytes) -> bool:
    """Write a file whole under a name that nothing has; whether the name was free.

    Nothing that appears there meanwhile is replaced, except in the last instant where the file
    system knows no hard links. Raises WriteFault and leaves no temporary, as :func:`write_bytes`.
    """
    try:
        _write(path, data, _put_new)
    except _Taken:
        return False
    return True


class _Taken(Exception):
    """Something has the name by now."""


def _write(path: Path, data: bytes, put: Callable[[Path, Path], None]) -> None:
    clear_stale(path)
    temporary = path.with_name(f".{path.name}.partial-{os.getpid()}-{os.urandom(6).hex()}")
    try:
        _fill_and_put(temporary, data, path, put)
    except OSError as fault:
        raise WriteFault("write", path=str(path), reason=refusal(fault)) from fault
    finally:
        with suppress(OSError):
            temporary.unlink(missing_ok=True)
    _flush_folder(path.parent)


def _put_new(temporary: Path, path: Path) -> None:
    """Give a temporary its name if that is free; Windows' own rename is such a step."""
    try:
        if sys.platform == "win32":
            os.rename(temporary, path)
        else:
            os.link(temporary, path)
    except FileExistsError:
        raise _Taken from None
    except OSError:  # no hard links here, or a fault that replacing meets too
        if os.path.lexists(path):
            raise _Taken from None
        os.replace(temporary, path)


@contextmanager
def one_writer(folders: Iterable[Path]) -> Iterator[None]:
    """Hold folders while files that belong together are put into them; waits for its turn.

    The system gives the lock back when its holder dies. Where a folder cannot be locked, the
    block runs without. Raises :class:`~plotter.errors.WriteFault` where another writer holds one
    of them for longer than :data:`MOST_TURNS`.
    """
    with ExitStack() as stack:
        for folder in _each_once(folders):
            with suppress(OSError):
                handle = _lockable(folder)
                stack.callback(os.close, handle)
                _wait(handle, folder)
        yield


def _each_once(folders: Iterable[Path]) -> list[Path]:
    """Folders by what they are, not by name, and in an order that all writers share."""
    found: dict[tuple[int, int], Path] = {}
    for folder in folders:
        with suppress(OSError):
            status = folder.stat()
            found.setdefault((status.st_dev, status.st_ino), folder)
    return [found[each] for each in sorted(found)]


def _lockable(folder: Path) -> int:
    """A handle to lock: of the folder, or on Windows of a file that stands for it."""
    if sys.platform != "win32":
        return os.open(folder, os.O_RDONLY)
    import tempfile

    status = folder.stat()
    name = f"plotter-folder-{status.st_dev:x}-{status.st_ino:x}.lock"
    return os.open(Path(tempfile.gettempdir()) / name, os.O_RDWR | os.O_CREAT, 0o666)


def _wait(handle: int, folder: Path) -> None:
    """Take the lock when its holder lets go of it; OSError where there are no locks."""
    import time

    for _ in range(MOST_TURNS):
        try:
            take_lock(handle)
        except (BlockingIOError, PermissionError):
            time.sleep(TURN_S)
        else:
            return
    raise WriteFault("write.busy", folder=str(folder))


def take_lock(handle: int) -> None:
    """Lock an open file until it is closed or its holder dies; OSError where another has it."""
    if sys.platform == "win32":
        import msvcrt

        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
    else:
        import fcntl

        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


def make_folder(path: Path) -> None:
    """Make a folder and those above it; one that is there already is left as it is.

    Raises :class:`~plotter.errors.WriteFault`, naming the file that stands in the way if one does.
    """
    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        obstacle = next((p for p in (path, *path.parents) if p.exists() and not p.is_dir()), None)
        if obstacle is not None:
            raise WriteFault("write.file-in-the-way", path=str(obstacle)) from fault
        raise WriteFault("write.no-folder", path=str(path), reason=refusal(fault)) from fault


def clear_stale(path: Path) -> None:
    """Remove what killed writers of this target left behind; nothing that is being written."""
    with suppress(OSError):
        for old in path.parent.glob(f".{glob.escape(path.name)}.partial-*"):
            with suppress(OSError):
                _remove_if_unused(old)


@contextmanager
def scratch_folder() -> Iterator[Path]:
    """A private folder in the system's temporary place, for flat files, gone afterwards.

    What killed processes left of theirs is cleared first; one in use is locked and stays. Raises
    :class:`~plotter.errors.WriteFault`.
    """
    import tempfile

    try:
        home = Path(tempfile.gettempdir())
        _clear_scratch(home)
        folder, handle = _make_scratch(home)
    except OSError as fault:
        raise WriteFault("write.no-temporary", reason=refusal(fault)) from fault
    try:
        yield folder
    finally:
        os.close(handle)
        with suppress(OSError):
            _empty(folder)


def refusal(fault: OSError) -> Message:
    """Return why the system refused and what to do instead.

    >>> refusal(OSError(errno.ENOSPC, "No space left on device")).key
    'disk.full'
    """
    known = _REASONS.get(fault.errno or 0)
    return message(known) if known else message("disk", system=str(fault.strerror or fault))


def reason(fault: OSError) -> str:
    """Return :func:`refusal` as a finished text.

    >>> reason(OSError(errno.ENOSPC, "No space left on device"))
    'the disk is full; free some space or choose another folder'
    """
    return text(refusal(fault))


def _fill_and_put(
    temporary: Path, data: bytes, path: Path, put: Callable[[Path, Path], None]
) -> None:
    """Keep the lock until the name has changed; only Windows cannot rename an open file."""
    handle = _open_locked(temporary)
    try:
        rest = memoryview(data)
        while rest:
            rest = rest[os.write(handle, rest) :]
        _keep_mode(handle, path)
        os.fsync(handle)
        if sys.platform != "win32":
            put(temporary, path)
    finally:
        os.close(handle)
    if sys.platform == "win32":
        put(temporary, path)


def _open_locked(temporary: Path) -> int:
    """A new file, locked; made again if another writer cleared it before the lock was taken."""
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    while True:
        handle = os.open(temporary, flags, 0o666)
        _lock(handle, wait=True)
        if temporary.exists():
            return handle
        os.close(handle)


def _keep_mode(handle: int, path: Path) -> None:
    """Give the new file the permissions of the ordinary file it replaces, where there are such."""
    with suppress(OSError):
        old = path.lstat()
        if stat.S_ISREG(old.st_mode) and sys.platform != "win32":
            os.fchmod(handle, stat.S_IMODE(old.st_mode))


def _flush_folder(folder: Path) -> None:
    """Make the rename last through a power cut; systems that cannot open a folder go without."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _lock(handle: int, wait: bool) -> bool:
    """Take the writer's lock; where a file system has none, or the system's own does it, go on."""
    if sys.platform == "win32":  # an open file cannot be removed there: that is the lock
        return True
    import fcntl

    try:
        fcntl.flock(handle, fcntl.LOCK_EX | (0 if wait else fcntl.LOCK_NB))
    except OSError:
        return False
    return True


def _remove_if_unused(old: Path) -> None:
    handle = os.open(old, os.O_RDWR)
    try:
        unused = _lock(handle, wait=False)
        # The name may have been taken again by its writer since this file was opened.
        if unused and sys.platform != "win32" and os.path.samestat(os.fstat(handle), old.stat()):
            old.unlink()
    finally:
        os.close(handle)
    if sys.platform == "win32":
        old.unlink()


def _make_scratch(home: Path) -> tuple[Path, int]:
    """A new folder and its held lock; made again if another process cleared it at birth."""
    import tempfile

    while True:
        folder = Path(tempfile.mkdtemp(prefix=SCRATCH, dir=home))
        with suppress(FileNotFoundError):
            return folder, _open_locked(folder / _LOCK)


def _clear_scratch(home: Path) -> None:
    for old in home.glob(f"{SCRATCH}*"):
        with suppress(OSError):
            if _is_own_folder(old):
                _clear_one(old)


def _is_own_folder(path: Path) -> bool:
    """A folder that this user made; never a link, which anybody may leave in a shared place."""
    status = path.lstat()
    ours = sys.platform == "win32" or status.st_uid == os.getuid()
    linked = getattr(status, "st_reparse_tag", 0)  # a junction of Windows counts as a folder
    return stat.S_ISDIR(status.st_mode) and ours and not linked


def _clear_one(folder: Path) -> None:
    """Remove a scratch folder nobody uses; one without a lock may just be being born."""
    try:
        handle = os.open(folder / _LOCK, os.O_RDWR)
    except FileNotFoundError:
        folder.rmdir()
        return
    try:
        unused = _lock(handle, wait=False)
        if unused and sys.platform != "win32":
            _empty(folder)
    finally:
        os.close(handle)
    if sys.platform == "win32":
        _empty(folder)


def _empty(folder: Path) -> None:
    """Remove a folder and its files, the lock last; on Windows first, where a held one stays."""
    for path in sorted(folder.iterdir(), key=_lock_last):
        path.unlink(missing_ok=True)
    folder.rmdir()


def _lock_last(path: Path) -> bool:
    return (path.name == _LOCK) != (sys.platform == "win32")


# Put finished files in place: on a conflict none of them, and never a file the pilot changed.
#
# Every target is looked at first, and only then is anything written, one file after the other, each
# whole (:mod:`plotter.files`). Runs that write into one folder take turns, so that files of two are
# never mixed; without ``replace`` a file that appears meanwhile is kept, and those written before
# it are taken back. A file that is the same already is left alone. A symbolic link at a target
# counts as a different file: it is refused, and with ``replace`` it is the link that is replaced,
# never what it points at.

ANOTHER_NAME = message("exists.another-name")
"""What to do instead of replacing a file, where a caller has no other advice."""


def write_files(
    files: Mapping[Path, bytes], *, replace: bool, instead: Message = ANOTHER_NAME
) -> None:
    """Put files in place; on a conflict none of them. ``instead`` is what else to do.

    Raises :class:`~plotter.errors.TargetExists` and :class:`~plotter.errors.WriteFault`; the
    latter says which files were written before the disk refused.
    """
    for path in files:
        _refuse_what_is_no_file(path, instead)
    _waiting(files, replace, instead)
    folders = list(dict.fromkeys(path.parent for path in files))
    for folder in folders:
        make_folder(folder)
    with one_writer(folders):
        waiting = _waiting(files, replace, instead)
        for path in files.keys() - waiting.keys():
            clear_stale(path)
        if replace:
            _write_each(waiting)
        else:
            _write_new(waiting, instead)


def _waiting(files: Mapping[Path, bytes], replace: bool, instead: Message) -> dict[Path, bytes]:
    """What is not there as it should be; raises TargetExists for what may not be replaced."""
    waiting = {path: data for path, data in files.items() if not _is_same(path, data)}
    different = [path for path in waiting if _is_there(path)]
    if different and not replace:
        raise _exists(different, instead)
    return waiting


def _exists(different: list[Path], instead: Message) -> TargetExists:
    paths = tuple(map(str, different))
    return TargetExists("exists", candidates=paths, paths=paths, count=len(paths), instead=instead)


def would_happen(path: Path, data: bytes, instead: Message = ANOTHER_NAME) -> Message:
    """Return what :func:`write_files` would do to one file; raises WriteFault for a folder."""
    _refuse_what_is_no_file(path, instead)
    if not _is_there(path):
        return message("rehearsal.new")
    return message("rehearsal.same" if _is_same(path, data) else "rehearsal.differs")


def _write_each(files: Mapping[Path, bytes]) -> None:
    written: list[Path] = []
    for path, data in files.items():
        with _told_what_was(written):
            write_bytes(path, data)
        written.append(path)


def _write_new(files: Mapping[Path, bytes], instead: Message) -> None:
    """Write files whose names were free; where one no longer is, take back those before it."""
    written: list[Path] = []
    for path, data in files.items():
        with _told_what_was(written):
            is_ours = write_new(path, data)
        if is_ours:
            written.append(path)
        elif not _is_same(path, data):
            _take_back({each: files[each] for each in written})
            raise _exists([path], instead)


@contextmanager
def _told_what_was(written: list[Path]) -> Iterator[None]:
    """Add to a WriteFault which files were written before it."""
    try:
        yield
    except WriteFault as fault:
        if not written:
            raise
        raise WriteFault(
            "write.partly", fault=fault.said, paths=tuple(map(str, written))
        ) from fault


def _take_back(files: Mapping[Path, bytes]) -> None:
    """Remove files written a moment ago, unless somebody has changed them since."""
    for path, data in files.items():
        with suppress(OSError):
            if _is_same(path, data):
                path.unlink()


def _refuse_what_is_no_file(path: Path, instead: Message) -> None:
    """A folder or a device at the target is never replaced."""
    try:
        mode = path.lstat().st_mode
    except (FileNotFoundError, NotADirectoryError):
        return
    except OSError as fault:
        raise WriteFault("write", path=str(path), reason=refusal(fault)) from fault
    if not (stat.S_ISREG(mode) or stat.S_ISLNK(mode)):
        key = "write.folder" if stat.S_ISDIR(mode) else "write.special"
        raise WriteFault(key, path=str(path), instead=instead)


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
