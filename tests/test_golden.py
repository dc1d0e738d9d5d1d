"""Expected exports of three fixed routes, and the same bytes however often they are made.

``PLOTTER_UPDATE_GOLDEN=1`` writes them anew; the difference is then read before it is kept.
"""

from __future__ import annotations

import hashlib
import io
import json
import os
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import awkward
import packages
import plots
import pytest

from plotter.exports import FORMATS, Job
from plotter.formats.document import document

HERE = Path(__file__).parent
FOLDER = HERE / "golden"
UPDATE = os.environ.get("PLOTTER_UPDATE_GOLDEN") == "1"
EXACT = ("gpx", "kml", "geojson", "csv")
JSON_PLACES = 9
"""Decimals compared in JSON: the last digits of a double may differ between platforms."""


@pytest.mark.parametrize("route", plots.GOLDEN)
@pytest.mark.parametrize("name", EXACT)
def test_a_written_file_is_the_expected_one(route: str, name: str) -> None:
    made = FORMATS[name].write(Job(plots.GOLDEN[route]()))
    path = FOLDER / f"{route}{FORMATS[name].suffix}"
    if UPDATE:
        path.write_bytes(made)
    assert made.decode("utf-8") == path.read_bytes().decode("utf-8")


@pytest.mark.parametrize("route", plots.GOLDEN)
def test_the_content_of_a_geopackage_is_the_expected_one(route: str, tmp_path: Path) -> None:
    (tmp_path / "made.gpkg").write_bytes(FORMATS["gpkg"].write(Job(plots.GOLDEN[route]())))
    made = packages.content(tmp_path / "made.gpkg")
    path = FOLDER / f"{route}.gpkg.json"
    if UPDATE:
        text = json.dumps(made, indent=1, ensure_ascii=False) + "\n"
        path.write_bytes(text.encode("utf-8"))
    assert made == json.loads(path.read_bytes())


@pytest.mark.parametrize("route", plots.GOLDEN)
def test_the_content_of_a_kmz_is_the_expected_kml(route: str) -> None:
    made = FORMATS["kmz"].write(Job(plots.GOLDEN[route]()))
    with zipfile.ZipFile(io.BytesIO(made)) as archive:
        (content,) = (archive.read(name) for name in archive.namelist())
    assert content == (FOLDER / f"{route}.kml").read_bytes()


@pytest.mark.parametrize("route", plots.GOLDEN)
def test_the_document_is_the_expected_one(route: str) -> None:
    made = document(plots.GOLDEN[route](), {})
    path = FOLDER / f"{route}.json"
    if UPDATE:
        text = json.dumps(rounded(made), indent=1, ensure_ascii=False) + "\n"
        path.write_bytes(text.encode("utf-8"))
    assert rounded(made) == json.loads(path.read_bytes())


def rounded(node: Any) -> Any:
    """A document with every number rounded as golden files have them."""
    if isinstance(node, float):
        return round(node, JSON_PLACES) + 0.0
    if isinstance(node, dict):
        return {key: rounded(value) for key, value in node.items()}
    return [rounded(value) for value in node] if isinstance(node, list) else node


def test_nothing_else_is_among_the_golden_files() -> None:
    suffixes = (*(FORMATS[name].suffix for name in EXACT), ".gpkg.json", ".json")
    expected = {f"{route}{suffix}" for route in plots.GOLDEN for suffix in suffixes}
    mine = {path.name for path in FOLDER.iterdir() if path.name.startswith(tuple(plots.GOLDEN))}
    assert mine == expected


def digests() -> Iterator[str]:
    """A line for each format of each golden route, then the first again after a hostile one."""
    hostile = plots.named(*awkward.NAMES.values())
    for made in FORMATS.values():
        for plot in [*(build() for build in plots.GOLDEN.values()), hostile, plots.short()]:
            yield f"{made.name} {hashlib.sha256(made.write(Job(plot))).hexdigest()}"


@pytest.fixture(scope="module")
def here() -> list[str]:
    return list(digests())


def test_the_same_bytes_after_another_document(here: list[str]) -> None:
    for i in range(0, len(here), 5):
        short, *_, again = here[i : i + 5]
        assert short == again
    assert list(digests()) == here


SURROUNDINGS = {
    "far-east": {"PYTHONHASHSEED": "1", "TZ": "Pacific/Kiritimati", "LC_ALL": "C"},
    "turkish": {"PYTHONHASHSEED": "4242", "TZ": "America/Caracas", "LC_ALL": "tr_TR.UTF-8"},
    "latin": {"PYTHONHASHSEED": "0", "PYTHONIOENCODING": "cp1252", "PYTHONUTF8": "0"},
}


@pytest.mark.parametrize("surroundings", SURROUNDINGS.values(), ids=SURROUNDINGS)
def test_the_same_bytes_in_another_process(
    surroundings: dict[str, str], here: list[str], tmp_path: Path
) -> None:
    code = (
        f"import sys; sys.path[:0] = [{str(HERE)!r}, {str(HERE.parent)!r}]\n"
        "import test_golden; print(*test_golden.digests(), sep='\\n')"
    )
    child = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, **surroundings},
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    assert child.returncode == 0, child.stderr
    assert child.stdout.splitlines() == here
