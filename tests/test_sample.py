"""The sample in exports/ is what the program writes today.

``PLOTTER_UPDATE_SAMPLE=1`` writes it anew (the picture apart, which is taken in a browser).
"""

from __future__ import annotations

import os
import re
import shlex
import zipfile
from pathlib import Path

import packages
import pytest

from plotter.cli.main import run
from plotter.exports import FORMATS

ROOT = Path(__file__).parent.parent
SAMPLE = ROOT / "exports" / "sample"
README = ROOT / "exports" / "README.md"
PICTURE = "map.png"
LOG_FILES = {"flight.toml", "log.csv", "log.gpx", "log.kml"}


def command(into: Path, name: str = "plot") -> list[str]:
    """A command of exports/README.md, into another folder."""
    text = README.read_text(encoding="utf-8")
    (line,) = re.findall(rf"^plotter ({name} .*)$", text, re.M)
    words = shlex.split(line)
    words[words.index("--into") + 1] = str(into)
    return words


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory, plotter_home: Path) -> Path:
    folder = tmp_path_factory.mktemp("sample")
    assert run(command(folder)) == 0
    if os.environ.get("PLOTTER_UPDATE_SAMPLE") == "1":
        assert run([*command(SAMPLE), "--replace"]) == 0
    return folder


def test_it_is_one_full_set(made: Path) -> None:
    files = {f"demo{each.suffix}" for each in FORMATS.values()}
    assert {path.name for path in made.iterdir()} == files
    assert {path.name for path in SAMPLE.iterdir()} - {PICTURE} - LOG_FILES == files


def test_the_log_is_what_is_written_today(
    tmp_path: Path, plotter_home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(ROOT)
    if os.environ.get("PLOTTER_UPDATE_SAMPLE") == "1":
        assert run([*command(SAMPLE, "log"), "--replace"]) == 0
    assert run(command(tmp_path, "log")) == 0
    written = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    assert set(written) == LOG_FILES - {"flight.toml"}
    for name, data in written.items():
        assert data == (SAMPLE / name).read_bytes(), name


@pytest.mark.parametrize("name", [name for name in FORMATS if name not in ("kmz", "gpkg")])
def test_a_file_is_byte_for_byte_what_is_written_today(made: Path, name: str) -> None:
    file = f"demo{FORMATS[name].suffix}"
    same = (made / file).read_bytes() == (SAMPLE / file).read_bytes()
    assert same, f"{file} is not what is written today; if it should change, write it anew"


def test_the_geopackage_has_the_content_of_todays(made: Path) -> None:
    """Its bytes may differ with the version of GDAL."""
    assert packages.content(made / "demo.gpkg") == packages.content(SAMPLE / "demo.gpkg")


def test_the_kmz_has_the_content_of_todays(made: Path) -> None:
    """Its bytes may differ with the version of zlib."""
    read = []
    for folder in (made, SAMPLE):
        with zipfile.ZipFile(folder / "demo.kmz") as archive:
            read.append([(name, archive.read(name)) for name in archive.namelist()])
    assert read[0] == read[1]
    assert read[0][0][1] == (SAMPLE / "demo.kml").read_bytes()


def test_the_page_beside_it_says_what_each_file_is_and_that_the_flight_is_invented() -> None:
    text = README.read_text(encoding="utf-8")
    assert "The flight is invented" in text
    cells = " ".join(re.findall(r"^\| (`demo[^|]*)\|", text, re.M))
    listed = re.findall(r"`(demo\.\w+)`", cells)
    assert sorted(listed) == sorted(f"demo{each.suffix}" for each in FORMATS.values())
    assert ",".join(FORMATS) in text
