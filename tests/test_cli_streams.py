"""Every command where its output cannot be written, its streams are closed, its folder is gone."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

pytestmark = [
    pytest.mark.usefixtures("real_store"),
    pytest.mark.skipif(os.name == "nt", reason="streams and folders are closed otherwise there"),
]
FLIGHT = str(Path(__file__).parent.parent / "exports" / "sample" / "flight.toml")
PAIRS = "ruler 10 = plotter 10.1, ruler 40 = plotter 40.6, ruler 65 = plotter 65.9"
READING = ["KRST", "KLSE", "--reading", "62.1"]
COMMANDS = {
    "help": ["--help"],
    "version": ["--version"],
    "help of a command": ["plot", "--help"],
    "schema": ["new", "--schema"],
    "plot": ["plot", "KRST", "KLSE", "--as", "none"],
    "plot as JSON": ["plot", "KRST", "KLSE", "--as", "none", "--json"],
    "measure": ["measure", *READING],
    "find": ["find", "rochester"],
    "near": ["near", "KRST"],
    "log": ["log", FLIGHT],
    "airport": ["airport", "KRST"],
    "data": ["data"],
    "data changes": ["data", "changes"],
}
WRITING = {
    "new": ["new", "sunday"],
    "plot": ["plot", "KRST", "KLSE", "--as", "gpx"],
    "dry run": ["plot", "KRST", "KLSE", "--dry-run"],
    "log": ["log", FLIGHT, "--as", "csv"],
    "rule": ["rule"],
    "test of a plotter": ["rule", "--my-plotter", PAIRS, "--keep", "mine.json"],
}
FOLDER = "the current folder no longer exists; change to another folder"


def run(
    command: Sequence[str], cwd: Path, *, out: int = subprocess.PIPE, before: Callable[[], object]
) -> subprocess.CompletedProcess[str]:
    done = subprocess.run(
        [sys.executable, "-m", "plotter", *command],
        cwd=cwd,
        stdin=subprocess.DEVNULL,
        stdout=out,
        stderr=subprocess.PIPE,
        preexec_fn=before,
        encoding="utf-8",
        timeout=120,
        check=False,
    )
    assert "Traceback" not in done.stderr
    return done


def closing(*numbers: int) -> Callable[[], object]:
    return lambda: [os.close(number) for number in numbers]


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
@pytest.mark.parametrize("command", COMMANDS.values(), ids=COMMANDS)
def test_output_that_cannot_be_written_is_an_error_in_words(
    command: Sequence[str], tmp_path: Path
) -> None:
    with open("/dev/full", "wb") as full:
        done = run(command, tmp_path, out=full.fileno(), before=lambda: None)
    assert done.returncode == 1
    assert "standard output is incomplete: No space left on device" in done.stderr


@pytest.mark.parametrize("command", (COMMANDS | WRITING).values(), ids=COMMANDS | WRITING)
def test_closed_streams_do_not_fail_a_good_run(command: Sequence[str], tmp_path: Path) -> None:
    done = run(command, tmp_path, before=closing(0, 1, 2))
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")


def test_a_closed_standard_error_does_not_fail_a_good_run(tmp_path: Path) -> None:
    done = run(COMMANDS["plot"], tmp_path, before=closing(2))
    assert done.returncode == 0
    assert "54.0" in done.stdout


@pytest.mark.parametrize("command", COMMANDS.values(), ids=COMMANDS)
def test_a_pipe_that_nobody_reads_is_no_error(command: Sequence[str], tmp_path: Path) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    done = run(command, tmp_path, out=writing, before=lambda: None)
    os.close(writing)
    assert (done.returncode, done.stderr) == (0, "")


def test_a_file_never_takes_the_place_of_a_closed_output(tmp_path: Path) -> None:
    run(WRITING["plot"], tmp_path, before=lambda: None)
    run([*WRITING["plot"], "--into", "again"], tmp_path, before=closing(0, 1, 2))
    first, second = (next((tmp_path / name).iterdir()) for name in ("exports", "again"))
    assert first.read_bytes() == second.read_bytes()


def test_an_error_is_still_its_exit_code_where_nobody_hears_it(tmp_path: Path) -> None:
    assert run(["airport", "QQQQ"], tmp_path, before=closing(2)).returncode == 2


@pytest.mark.parametrize("command", WRITING.values(), ids=WRITING)
def test_a_removed_folder_is_told_where_a_file_would_go_into_it(
    command: Sequence[str], tmp_path: Path
) -> None:
    gone = tmp_path / "gone"
    gone.mkdir()
    done = run(command, gone, before=gone.rmdir)
    assert done.returncode == 1
    assert FOLDER in done.stderr


@pytest.mark.parametrize("command", COMMANDS.values(), ids=COMMANDS)
def test_a_removed_folder_matters_to_no_other_command(
    command: Sequence[str], tmp_path: Path
) -> None:
    gone = tmp_path / "gone"
    gone.mkdir()
    assert run(command, gone, before=gone.rmdir).returncode == 0
