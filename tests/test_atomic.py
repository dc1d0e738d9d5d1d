"""A file is written whole or not at all, whatever stops the writer."""

from __future__ import annotations

import errno
import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from plotter import files as atomic
from plotter.errors import WriteFault
from plotter.files import SCRATCH, make_folder, scratch_folder, write_bytes

OLD, NEW = b"old " * 500, b"new " * 5000
POSIX_ONLY = pytest.mark.skipif(sys.platform == "win32", reason="no such permissions or limits")
STEPS = ("open", "write", "fchmod", "fsync", "replace", "close")


def temporaries(folder: Path) -> list[Path]:
    return sorted(folder.glob(".*.partial-*"))


@pytest.fixture
def target(tmp_path: Path) -> Path:
    return tmp_path / "route.gpx"


def test_a_new_file_is_written_and_nothing_else_is_left(target: Path) -> None:
    write_bytes(target, NEW)
    assert target.read_bytes() == NEW
    assert list(target.parent.iterdir()) == [target]


def test_an_old_file_is_replaced_also_by_nothing(target: Path) -> None:
    target.write_bytes(OLD)
    write_bytes(target, b"")
    assert target.read_bytes() == b""


@POSIX_ONLY
@pytest.mark.parametrize("umask", [0o022, 0o077, 0o002])
def test_a_new_file_has_the_permissions_of_the_umask(target: Path, umask: int) -> None:
    before = os.umask(umask)
    try:
        write_bytes(target, NEW)
    finally:
        os.umask(before)
    assert stat.S_IMODE(target.stat().st_mode) == 0o666 & ~umask


@POSIX_ONLY
@pytest.mark.parametrize("mode", [0o600, 0o640, 0o444])
def test_a_replaced_file_keeps_its_permissions(target: Path, mode: int) -> None:
    target.write_bytes(OLD)
    target.chmod(mode)
    write_bytes(target, NEW)
    assert stat.S_IMODE(target.stat().st_mode) == mode


@POSIX_ONLY
def test_a_link_is_replaced_and_what_it_points_at_is_left(target: Path, tmp_path: Path) -> None:
    outside = tmp_path / "outside.txt"
    outside.write_bytes(OLD)
    target.symlink_to(outside)
    write_bytes(target, NEW)
    assert not target.is_symlink()
    assert target.read_bytes() == NEW
    assert outside.read_bytes() == OLD


REFUSALS = [
    (errno.ENOSPC, "disk is full"),
    (errno.EDQUOT, "your disk quota is used up"),
    (errno.EFBIG, "file that large"),
    (errno.EACCES, "you have no permission to write here"),
    (errno.EROFS, "read-only"),
    (errno.EIO, os.strerror(errno.EIO)),
]


@pytest.mark.parametrize("step", ["open", "write", "fsync", "replace"])
@pytest.mark.parametrize(("number", "words"), REFUSALS)
def test_a_refusal_at_any_step_is_said_in_words_and_leaves_the_old_file(
    monkeypatch: pytest.MonkeyPatch, target: Path, step: str, number: int, words: str
) -> None:
    target.write_bytes(OLD)

    def refuse(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(atomic.os, step, refuse)
    with pytest.raises(WriteFault) as caught:
        write_bytes(target, NEW)
    monkeypatch.undo()
    assert words in caught.value.message
    assert str(target) in caught.value.message
    assert caught.value.code == "write"
    assert target.read_bytes() == OLD
    assert temporaries(target.parent) == []


@pytest.mark.parametrize("step", ["write", "fsync", "replace"])
def test_an_interrupt_passes_through_and_leaves_the_old_file(
    monkeypatch: pytest.MonkeyPatch, target: Path, step: str
) -> None:
    target.write_bytes(OLD)

    def interrupt(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(atomic.os, step, interrupt)
    with pytest.raises(KeyboardInterrupt):
        write_bytes(target, NEW)
    monkeypatch.undo()
    assert target.read_bytes() == OLD
    assert temporaries(target.parent) == []


def test_short_writes_are_continued(monkeypatch: pytest.MonkeyPatch, target: Path) -> None:
    real = os.write
    monkeypatch.setattr(atomic.os, "write", lambda handle, data: real(handle, data[:7]))
    write_bytes(target, NEW)
    assert target.read_bytes() == NEW


def test_a_missing_folder_and_a_file_for_a_folder_are_said(tmp_path: Path) -> None:
    with pytest.raises(WriteFault, match="the folder does not exist"):
        write_bytes(tmp_path / "no" / "route.gpx", NEW)
    (tmp_path / "file").write_bytes(OLD)
    with pytest.raises(WriteFault, match="choose another folder"):
        write_bytes(tmp_path / "file" / "route.gpx", NEW)


def test_folders_are_made_once_and_a_file_in_the_way_is_named(tmp_path: Path) -> None:
    make_folder(tmp_path / "a" / "b")
    make_folder(tmp_path / "a" / "b")
    assert (tmp_path / "a" / "b").is_dir()
    (tmp_path / "file").write_bytes(OLD)
    with pytest.raises(WriteFault) as caught:
        make_folder(tmp_path / "file" / "c" / "d")
    assert f"{tmp_path / 'file'} is a file" in caught.value.message


def test_a_folder_that_may_not_be_made_is_said(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(Path, "mkdir", refuse)
    with pytest.raises(
        WriteFault,
        match="was not created: you have no permission",
    ):
        make_folder(tmp_path / "a")


# What a killed process leaves: the child below dies, for real, at a step named on its command line.
CHILD = """
import os, signal, sys
from pathlib import Path
from plotter import files as atomic
step, when, path = sys.argv[1], sys.argv[2], Path(sys.argv[3])
real = getattr(os, step)
def die():
    os.kill(os.getpid(), signal.SIGKILL) if hasattr(signal, "SIGKILL") else os._exit(9)
def dying(*arguments, **named):
    if when.isdigit():
        real(arguments[0], arguments[1][: int(when)])
        die()
    if when == "before":
        die()
    real(*arguments, **named)
    die()
setattr(atomic.os, step, dying)
atomic.write_bytes(path, b"new " * 5000)
sys.exit("it lived")
"""
KILLS = [(step, when) for step in STEPS for when in ("before", "after")] + [
    ("write", str(count)) for count in (0, 1, 1999, 19_999)
]


@POSIX_ONLY
@pytest.mark.parametrize(("step", "when"), KILLS)
def test_killed_at_any_step_there_is_the_old_file_or_the_new_one(
    target: Path, step: str, when: str
) -> None:
    target.write_bytes(OLD)
    child = subprocess.run(
        [sys.executable, "-c", CHILD, step, when, str(target)], capture_output=True, check=False
    )
    assert child.returncode == -9, child.stderr
    done = step == "close" or (step, when) == ("replace", "after")
    assert target.read_bytes() == (NEW if done else OLD)
    assert len(temporaries(target.parent)) == (
        0 if done or (step, when) == ("open", "before") else 1
    )
    write_bytes(target, b"next")
    assert target.read_bytes() == b"next"
    assert temporaries(target.parent) == []


def test_what_is_being_written_is_not_cleared_and_other_targets_are_left(target: Path) -> None:
    live = target.with_name(f".{target.name}.partial-1-live")
    other = target.with_name(".other.gpx.partial-1-dead")
    stale = target.with_name(f".{target.name}.partial-1-dead")
    for path in (other, stale):
        path.write_bytes(OLD)
    handle = atomic._open_locked(live)
    try:
        write_bytes(target, NEW)
        assert temporaries(target.parent) == [other, live]
    finally:
        os.close(handle)
    write_bytes(target, NEW)
    assert temporaries(target.parent) == [other]


def test_a_target_with_pattern_characters_clears_only_its_own(tmp_path: Path) -> None:
    mine, other = tmp_path / ".a[b]*.gpx.partial-1-x", tmp_path / ".abc.gpx.partial-1-x"
    for path in (mine, other):
        path.write_bytes(OLD)
    write_bytes(tmp_path / "a[b]*.gpx", NEW)
    assert temporaries(tmp_path) == [other]


MANY = """
import sys
from pathlib import Path
from plotter.files import write_bytes
for i in range(60):
    write_bytes(Path(sys.argv[1]), sys.argv[2].encode() * 30_000)
"""


def test_many_writers_of_one_target_at_once(target: Path) -> None:
    children = [
        subprocess.Popen([sys.executable, "-c", MANY, str(target), letter]) for letter in "abcd"
    ]
    seen = set()
    while any(child.poll() is None for child in children):
        if target.exists():
            seen.add(target.read_bytes())
    assert [child.returncode for child in children] == [0, 0, 0, 0]
    whole = {letter.encode() * 30_000 for letter in "abcd"}
    assert seen | {target.read_bytes()} <= whole
    assert temporaries(target.parent) == []


@POSIX_ONLY
def test_a_name_that_its_writer_took_again_is_not_cleared(
    target: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A clearing writer opens one file; before it locks, the name stands for another."""
    old = target.with_name(f".{target.name}.partial-1-abc")
    old.write_bytes(b"old")
    real = atomic._lock

    def taken_again(handle: int, wait: bool) -> bool:
        old.unlink()
        old.write_bytes(b"new")
        return real(handle, wait)

    monkeypatch.setattr(atomic, "_lock", taken_again)
    atomic._remove_if_unused(old)
    assert old.read_bytes() == b"new"


LIMITED = """
import resource, sys
from pathlib import Path
from plotter.files import write_bytes
from plotter.errors import WriteFault
resource.setrlimit(resource.RLIMIT_FSIZE, (10_000, 10_000))
try:
    write_bytes(Path(sys.argv[1]), b"x" * 1_000_000)
except WriteFault as fault:
    print(fault.message)
"""


@POSIX_ONLY
def test_a_file_past_the_size_limit_is_a_fault_not_a_death(target: Path) -> None:
    target.write_bytes(OLD)
    child = subprocess.run(
        [sys.executable, "-c", LIMITED, str(target)], capture_output=True, text=True, check=False
    )
    assert child.returncode == 0, child.stderr
    assert "a file that large is not allowed here" in child.stdout
    assert target.read_bytes() == OLD
    assert temporaries(target.parent) == []


@POSIX_ONLY
def test_a_folder_that_cannot_be_opened_for_flushing_is_no_fault(
    monkeypatch: pytest.MonkeyPatch, target: Path
) -> None:
    real = os.open

    def refuse_folders(path: Path, *arguments: int) -> int:
        if Path(path).is_dir():
            raise PermissionError(errno.EACCES, "Permission denied")
        return real(path, *arguments)

    monkeypatch.setattr(atomic.os, "open", refuse_folders)
    write_bytes(target, NEW)
    assert target.read_bytes() == NEW


@pytest.fixture
def temporary(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A temporary place of the test's own, for this process and its children."""
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    return tmp_path


def test_a_scratch_folder_is_private_and_gone_afterwards(temporary: Path) -> None:
    with scratch_folder() as folder:
        assert folder.parent == temporary
        if sys.platform != "win32":
            assert stat.S_IMODE(folder.stat().st_mode) == 0o700
        (folder / "work").write_bytes(NEW)
    assert list(temporary.iterdir()) == []


def test_a_scratch_folder_is_gone_also_after_a_fault(temporary: Path) -> None:
    def fail() -> None:
        with scratch_folder() as folder:
            (folder / "work").write_bytes(NEW)
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        fail()
    assert list(temporary.iterdir()) == []


def test_scratch_folders_in_use_and_what_is_not_ours_are_left(temporary: Path) -> None:
    (temporary / "other").mkdir()
    (temporary / f"{SCRATCH}file").write_bytes(OLD)
    with scratch_folder() as first:
        (first / "work").write_bytes(OLD)
        with scratch_folder() as second:
            assert first != second
            assert (first / "work").read_bytes() == OLD
        assert not second.exists()
    assert sorted(path.name for path in temporary.iterdir()) == ["other", f"{SCRATCH}file"]


def test_scratch_folders_of_the_dead_are_cleared(temporary: Path) -> None:
    for name, files in {"empty": [], "bare": ["lock"], "full": ["lock", "work", "more"]}.items():
        (temporary / f"{SCRATCH}{name}").mkdir()
        for file in files:
            (temporary / f"{SCRATCH}{name}" / file).write_bytes(b"")
    with scratch_folder() as folder:
        assert list(temporary.iterdir()) == [folder]


@POSIX_ONLY
def test_a_link_that_looks_like_a_scratch_folder_is_not_followed(
    temporary: Path, tmp_path: Path
) -> None:
    kept = tmp_path / "kept"
    kept.mkdir()
    for name in ("lock", "lakes.layer"):
        (kept / name).write_bytes(OLD)
    (temporary / f"{SCRATCH}x").symlink_to(kept, target_is_directory=True)
    with scratch_folder():
        pass
    assert sorted(path.name for path in kept.iterdir()) == ["lakes.layer", "lock"]
    assert (temporary / f"{SCRATCH}x").is_symlink()


@POSIX_ONLY
def test_a_scratch_folder_of_another_user_is_left(
    temporary: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old = temporary / f"{SCRATCH}theirs"
    old.mkdir()
    for name in ("lock", "work"):
        (old / name).write_bytes(OLD)
    mine = os.getuid()
    monkeypatch.setattr(atomic.os, "getuid", lambda: mine + 1)
    with scratch_folder():
        pass
    assert sorted(path.name for path in old.iterdir()) == ["lock", "work"]


def test_a_scratch_folder_cleared_at_birth_is_made_again(
    temporary: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real, born = os.open, []

    def clearing(path: Path, *arguments: int) -> int:
        if Path(path).name == "lock" and not born:
            born.append(Path(path).parent)
            born[0].rmdir()
        return real(path, *arguments)

    monkeypatch.setattr(atomic.os, "open", clearing)
    with scratch_folder() as folder:
        assert folder.exists()
        assert folder != born[0]


def test_no_room_for_a_scratch_folder_is_said(
    temporary: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr("tempfile.mkdtemp", refuse)
    words = "the disk is full"
    with pytest.raises(WriteFault, match=words), scratch_folder():
        pass


SCRATCHING = """
import os, signal
from plotter.files import scratch_folder
with scratch_folder() as folder:
    (folder / "work").write_bytes(b"half")
    os.kill(os.getpid(), signal.SIGKILL)
"""


@POSIX_ONLY
def test_a_killed_process_leaves_one_scratch_folder_and_the_next_clears_it(
    temporary: Path,
) -> None:
    for _ in range(2):
        child = subprocess.run([sys.executable, "-c", SCRATCHING], check=False)
        assert child.returncode == -9
        (left,) = temporary.iterdir()
        assert left.name.startswith(SCRATCH)
    with scratch_folder():
        assert not left.exists()
    assert list(temporary.iterdir()) == []


SCRATCHING_MANY = """
from plotter.files import scratch_folder
for i in range(40):
    with scratch_folder() as folder:
        (folder / "work").write_bytes(b"whole")
        assert (folder / "work").read_bytes() == b"whole"
"""


def test_many_scratch_folders_at_once_do_not_clear_each_other(temporary: Path) -> None:
    children = [subprocess.Popen([sys.executable, "-c", SCRATCHING_MANY]) for _ in range(4)]
    assert [child.wait() for child in children] == [0, 0, 0, 0]
    assert list(temporary.iterdir()) == []
