"""A file that the pilot gives is a regular file: pipes, devices and folders are refused at once."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from plotter.errors import FileFault
from plotter.formats.own_plotter_file import read_own_plotter
from plotter.plain_file import open_plain

COMMANDS = [
    (["plot", "{}.gpx"], "gpx"),
    (["plot", "{}.kml"], "kml"),
    (["plot", "{}.kmz"], "kmz"),
    (["plot", "{}.geojson"], "geojson"),
    (["plot", "{}.gpkg"], "gpkg"),
    (["plot", "{}.csv"], "csv"),
    (["plot", "{}.toml"], "toml"),
    (["plot", "KRST KDLH", "--points", "{}.csv"], "csv"),
    (["plot", "KRST KDLH", "--unit", "{}.toml"], "toml"),
    (["log", "{}.toml"], "toml"),
    (["near", "KRST", "--points", "{}.csv"], "csv"),
    (["measure", "--readings", "{}.csv"], "csv"),
    (["data", "add", "{}.geojson", "--as", "points"], "geojson"),
]


def run(arguments: list[str], folder: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "plotter", *arguments],
        cwd=folder,
        env={**os.environ, "PLOTTER_HOME": str(folder / "home")},
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs named pipes")
@pytest.mark.parametrize(("arguments", "suffix"), COMMANDS)
def test_a_pipe_is_refused_without_waiting(
    tmp_path: Path, arguments: list[str], suffix: str
) -> None:
    os.mkfifo(tmp_path / f"given.{suffix}")
    done = run([each.format("given") for each in arguments], tmp_path)
    assert done.returncode == 2
    assert "a pipe or device is not read; name a regular file" in " ".join(done.stderr.split())
    assert "Traceback" not in done.stderr


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs named pipes")
def test_what_is_no_regular_file_is_refused(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "link").symlink_to(tmp_path / "pipe")
    for path in (tmp_path / "pipe", tmp_path / "link", Path("/dev/zero"), Path("/dev/null")):
        with pytest.raises(OSError, match="name a regular file"):
            open_plain(path)
    with pytest.raises(IsADirectoryError):
        open_plain(tmp_path)


def test_a_regular_file_is_opened_under_its_name(tmp_path: Path) -> None:
    path = tmp_path / "given"
    path.write_bytes(b"ab\r\n")
    with open_plain(path) as stream:
        assert (stream.read(), Path(stream.name)) == (b"ab\r\n", path)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs named pipes")
def test_what_is_kept_of_a_plotter_is_no_pipe_either(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "kept.json")
    with pytest.raises(FileFault, match="name a regular file"):
        read_own_plotter(tmp_path / "kept.json")
