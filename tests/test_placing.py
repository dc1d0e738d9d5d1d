"""Sets of files put in place while others do the same: never mixed, nothing overwritten unasked."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from plotter import files as atomic
from plotter.errors import TargetExists, WriteFault
from plotter.files import write_files

POSIX_ONLY = pytest.mark.skipif(sys.platform == "win32", reason="no such signals, locks or links")
NAMES = ("a.gpx", "b.kml", "c.csv", "d.html", "e.gpkg")
FOREIGN = b"somebody else's"


def files(folder: Path, letter: str = "n") -> dict[Path, bytes]:
    return {folder / name: letter.encode() * 50_000 for name in NAMES}


def seen(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


# Writes one set after another, each into a folder of its own, all writers at the same moments.
WRITER = """
import sys, time
from pathlib import Path
from plotter.errors import TargetExists
from plotter.files import write_files
home, letter, replace, start = Path(sys.argv[1]), sys.argv[2], sys.argv[3] == "yes", sys.argv[4]
rounds, *names = sys.argv[5:]
for n in range(int(rounds)):
    while time.time() < float(start) + n * 0.1:
        pass
    folder = home / str(n)
    data = {folder / name: letter.encode() * 50_000 for name in names}
    try:
        write_files(data, replace=replace)
        print("wrote")
    except TargetExists:
        print("refused")
"""


def race(home: Path, replace: bool, rounds: int) -> list[list[str]]:
    """What each of four writers said of each round."""
    start = str(time.time() + 1.5)
    command = [sys.executable, "-c", WRITER, str(home)]
    children = [
        subprocess.Popen(
            [*command, letter, "yes" if replace else "no", start, str(rounds), *NAMES],
            stdout=subprocess.PIPE,
            text=True,
        )
        for letter in "wxyz"
    ]
    said = [child.communicate()[0].split() for child in children]
    assert [child.returncode for child in children] == [0] * 4
    return [list(each) for each in zip(*said, strict=True)]


@pytest.mark.parametrize("replace", [False, True])
def test_sets_that_are_written_at_once_are_not_mixed(tmp_path: Path, replace: bool) -> None:
    rounds = 30
    said = race(tmp_path, replace, rounds)
    assert len(said) == rounds
    for number, words in enumerate(said):
        found = seen(tmp_path / str(number))
        assert tuple(found) == NAMES
        assert len(set(found.values())) == 1, f"round {number}: of one run alone"
        assert sorted(words) == ["wrote"] * 4 if replace else ["refused"] * 3 + ["wrote"]


# Puts one whole file into each folder as soon as that is there, under a name that is still free.
INTRUDER = """
import os, sys
from pathlib import Path
home, *names = Path(sys.argv[1]), *sys.argv[2:]
whole = home / "whole"
whole.write_bytes(b"somebody else's")
print("ready", flush=True)
left = [home / str(n) / names[n % len(names)] for n in range(40)]
while left:
    for path in [path for path in left if path.parent.exists()]:
        left.remove(path)
        try:
            os.link(whole, path)
        except FileExistsError:
            continue
        print(path, flush=True)
"""


@POSIX_ONLY
def test_a_file_that_another_program_puts_there_meanwhile_is_kept(tmp_path: Path) -> None:
    child = subprocess.Popen(
        [sys.executable, "-c", INTRUDER, str(tmp_path), *NAMES], stdout=subprocess.PIPE, text=True
    )
    assert child.stdout is not None
    assert child.stdout.readline() == "ready\n"
    wrote = []
    for number in range(40):
        folder = tmp_path / str(number)
        try:
            write_files(files(folder), replace=False)
            wrote.append(folder)
        except TargetExists:
            assert set(seen(folder).values()) == {FOREIGN}, "none of ours stays"
    theirs = [Path(line) for line in child.communicate()[0].split()]
    assert theirs, "the two met"
    for path in theirs:
        assert path.read_bytes() == FOREIGN
        assert path.parent not in wrote
    assert all(set(seen(folder).values()) == {b"n" * 50_000} for folder in wrote)


def meeting(
    monkeypatch: pytest.MonkeyPatch, step: str, nth: int, meanwhile: Callable[[Path], None]
) -> None:
    """Let something happen to a target just before the nth file gets its name."""
    real, count = getattr(os, step), iter(range(1, 99))

    def late(temporary: Path, path: Path) -> None:
        if next(count) == nth:
            meanwhile(path)
        real(temporary, path)

    monkeypatch.setattr(atomic.os, step, late)


@POSIX_ONLY
@pytest.mark.parametrize("nth", range(1, len(NAMES) + 1))
def test_a_name_taken_at_the_last_moment_takes_the_whole_set_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, nth: int
) -> None:
    meeting(monkeypatch, "link", nth, lambda path: void(path.write_bytes(FOREIGN)))
    with pytest.raises(TargetExists, match="already exists and differs") as caught:
        write_files(files(tmp_path), replace=False)
    assert caught.value.candidates == (str(tmp_path / NAMES[nth - 1]),)
    assert seen(tmp_path) == {NAMES[nth - 1]: FOREIGN}


def void(_: object) -> None:
    """For a function that must return nothing."""


@POSIX_ONLY
def test_what_appears_may_be_a_link_to_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    meeting(monkeypatch, "link", 2, lambda path: path.symlink_to(tmp_path / "gone"))
    with pytest.raises(TargetExists):
        write_files(files(tmp_path), replace=False)
    assert [path.name for path in tmp_path.iterdir()] == [NAMES[1]]


@POSIX_ONLY
def test_the_same_bytes_put_there_meanwhile_are_no_conflict(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    meeting(monkeypatch, "link", 3, lambda path: void(path.write_bytes(b"n" * 50_000)))
    write_files(files(tmp_path), replace=False)
    assert seen(tmp_path) == {path.name: data for path, data in files(tmp_path).items()}


@POSIX_ONLY
def test_what_somebody_changed_meanwhile_is_not_taken_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def meanwhile(path: Path) -> None:
        path.write_bytes(FOREIGN)
        (tmp_path / NAMES[0]).write_bytes(b"edited")

    meeting(monkeypatch, "link", 3, meanwhile)
    with pytest.raises(TargetExists):
        write_files(files(tmp_path), replace=False)
    assert seen(tmp_path) == {NAMES[0]: b"edited", NAMES[2]: FOREIGN}


@POSIX_ONLY
@pytest.mark.parametrize("number", [errno.EPERM, errno.EOPNOTSUPP, errno.ENOSYS, errno.EMLINK])
def test_where_there_are_no_hard_links_files_are_renamed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    taken: list[Path] = []

    def refuse(_: Path, path: Path) -> None:
        for each in taken:
            each.write_bytes(FOREIGN)
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(atomic.os, "link", refuse)
    write_files(files(tmp_path), replace=False)
    assert len(set(seen(tmp_path).values())) == 1
    taken.append(tmp_path / "new" / NAMES[1])
    with pytest.raises(TargetExists):
        write_files(files(tmp_path / "new"), replace=False)
    assert seen(tmp_path / "new") == {NAMES[1]: FOREIGN}


HOLDER = """
import sys, time
from pathlib import Path
from plotter.files import one_writer
with one_writer([Path(sys.argv[1])]):
    print("held", flush=True)
    time.sleep(60)
"""


@POSIX_ONLY
def test_writers_wait_and_a_killed_one_leaves_no_lock(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    child = subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(tmp_path)], stdout=subprocess.PIPE, text=True
    )
    assert child.stdout is not None
    assert child.stdout.readline() == "held\n"
    monkeypatch.setattr(atomic, "MOST_TURNS", 2)
    with pytest.raises(WriteFault, match="another run is still writing into"):
        write_files(files(tmp_path), replace=True)
    assert seen(tmp_path) == {}
    monkeypatch.undo()
    threading.Timer(0.3, child.send_signal, [signal.SIGKILL]).start()
    write_files(files(tmp_path), replace=True)
    assert child.wait() == -signal.SIGKILL
    assert tuple(seen(tmp_path)) == NAMES, "and no lock is left lying there"
    child.stdout.close()


@POSIX_ONLY
def test_one_folder_under_two_names_is_held_once(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "real")
    both = {tmp_path / name / f"{name}.gpx": b"x" for name in ("real", "link")}
    write_files(both, replace=False)
    assert tuple(seen(tmp_path / "real")) == ("link.gpx", "real.gpx")


@POSIX_ONLY
def test_where_a_folder_cannot_be_locked_files_are_written_all_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(_: int) -> None:
        raise OSError(errno.ENOLCK, "No locks available")

    monkeypatch.setattr(atomic, "take_lock", refuse)
    write_files(files(tmp_path), replace=False)
    assert tuple(seen(tmp_path)) == NAMES
