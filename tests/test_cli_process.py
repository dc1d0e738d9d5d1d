"""The command as a process: pipes, encodings, signals, disks, first runs."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

PLOT = (sys.executable, "-m", "plotter", "plot", "KRST", "KONA", "--date", "2026-07-04")


def run(*more: str, cwd: Path, **environment: str) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [*PLOT, *more],
        cwd=cwd,
        env=os.environ | environment,
        capture_output=True,
        check=False,
        stdin=subprocess.DEVNULL,
    )


@pytest.mark.parametrize("encoding", ["ascii", "cp1252", "latin-1", "utf-8", "utf-16"])
def test_never_an_encoding_error(tmp_path: Path, encoding: str) -> None:
    name = "Zażółć 航线"
    done = run("--as", "none", "--name", name, cwd=tmp_path, PYTHONIOENCODING=encoding)
    assert done.returncode == 0, done.stderr
    assert "KRST" in done.stdout.decode(encoding)
    assert b"T  " in done.stdout or encoding == "utf-16"


def test_plain_when_piped(tmp_path: Path) -> None:
    done = run("--as", "none", cwd=tmp_path)
    assert b"\x1b" not in done.stdout
    assert max(len(line) for line in done.stdout.decode().splitlines()) <= 100


@pytest.mark.skipif(os.name == "nt", reason="pipes close otherwise on Windows")
def test_a_closed_pipe_is_quiet(tmp_path: Path) -> None:
    with subprocess.Popen(
        [*PLOT, "--as", "none", "--every", "0.05"],
        cwd=tmp_path,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.close()
        assert process.stderr.read() == b""
    assert process.returncode == 0


INTERRUPTED = """
import os, signal, sys

folder = sys.argv.pop(1)

def interrupt(event, given):
    global folder
    if folder and given and isinstance(given[0], (str, os.PathLike)) and folder in str(given[0]):
        folder = ""
        os.kill(os.getpid(), signal.SIGINT)

sys.addaudithook(interrupt)
from plotter.cli.main import main
main()
"""
"""The command, interrupted at the moment it first touches a path with this text in it."""


@pytest.mark.skipif(os.name == "nt", reason="signals differ on Windows")
@pytest.mark.parametrize("folder", ["new-home", "exports"])
def test_control_c_ends_with_130_and_leaves_nothing(tmp_path: Path, folder: str) -> None:
    """While the store is built, and while files are written: whatever the speed of the machine."""
    home = {"PLOTTER_HOME": str(tmp_path / "new-home")} if folder == "new-home" else {}
    done = subprocess.run(
        [sys.executable, "-c", INTERRUPTED, folder, *PLOT[3:]],
        cwd=tmp_path,
        env=os.environ | home,
        capture_output=True,
        check=False,
    )
    assert done.returncode == 130, done.stderr
    assert done.stdout == b""
    assert b"Traceback" not in done.stderr
    assert not list(tmp_path.glob("exports/*"))


@pytest.mark.skipif(os.name == "nt", reason="no limit on file size on Windows")
def test_a_full_disk_is_told_and_leaves_nothing(tmp_path: Path) -> None:
    import resource

    done = subprocess.run(
        PLOT,
        cwd=tmp_path,
        capture_output=True,
        check=False,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000)),
    )
    assert done.returncode == 1, done.stderr
    assert b"Traceback" not in done.stderr
    assert not list((tmp_path / "exports").glob("*"))


def test_same_flight_same_bytes_whatever_the_machine(tmp_path: Path) -> None:
    files = []
    worlds = [
        {"TZ": "UTC", "LC_ALL": "C", "PYTHONHASHSEED": "1"},
        {"TZ": "Asia/Kathmandu", "LC_ALL": "tr_TR.UTF-8", "PYTHONHASHSEED": "2", "PYTHONUTF8": "0"},
    ]
    for number, world in enumerate(worlds):
        folder = tmp_path / str(number)
        folder.mkdir()
        done = run("--as", "map,gpx,kml,csv", "--json", cwd=folder, **world)
        assert done.returncode == 0, done.stderr
        paths = sorted((folder / "exports").iterdir())
        files.append([(path.name, path.read_bytes()) for path in paths])
        document = json.loads(done.stdout)
        document.pop("files")
        files[-1].append(("json", json.dumps(document).encode()))
    assert files[0] == files[1]


@pytest.mark.slow
def test_eight_first_runs_at_once_answer_alike(tmp_path: Path) -> None:
    home = {"PLOTTER_HOME": str(tmp_path / "home")}
    processes = [
        subprocess.Popen(
            [*PLOT, "--as", "none", "--json"],
            cwd=tmp_path,
            env=os.environ | home,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
        )
        for _ in range(8)
    ]
    answers = [process.communicate(timeout=300) for process in processes]
    assert [process.returncode for process in processes] == [0] * 8
    assert {out for out, _ in answers} == {answers[0][0]}


def test_a_cache_that_cannot_be_written_still_answers(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    done = run("--as", "none", cwd=tmp_path, PLOTTER_HOME=str(tmp_path / "file" / "home"))
    assert done.returncode == 0, done.stderr
    assert b"KRST" in done.stdout


def test_start_up_is_lean(tmp_path: Path) -> None:
    code = (
        "import sys; from plotter.cli.main import run;"
        "code = run(['plot', 'KRST', 'KONA', '--date', '2026-07-04', '--as', 'none']);"
        "heavy = {'numpy', 'shapely', 'folium', 'geopandas', 'pandas', 'rich', 'rapidfuzz'};"
        "print(code, sorted(heavy & set(sys.modules)), file=sys.stderr)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert done.stderr.strip() == "0 []"


def test_start_up_loads_at_most_64_of_our_modules(tmp_path: Path) -> None:
    """Each costs some 0.3 ms before the first line; ``-X importtime`` misses the sentences."""
    code = (
        "import sys; from plotter.cli.main import run;"
        "code = run(['plot', 'KRST', 'KONA', '--date', '2026-07-04', '--as', 'none']);"
        "print(code, *(each for each in sys.modules if each.split('.')[0] == 'plotter'),"
        " file=sys.stderr)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    exit_code, *ours = done.stderr.split()
    assert exit_code == "0"
    assert "plotter.messages.route" in ours, "a caution is printed, so its sentences are loaded"
    assert 40 < len(ours) <= 64, sorted(ours)
