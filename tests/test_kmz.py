"""KMZ: an ordinary zip with the KML in it, the same bytes at any hour."""

from __future__ import annotations

import io
import time
import zipfile
from pathlib import Path

import awkward
import plots
import pytest
import readers
import schemas

from plotter.formats.kml import MAIN_DOCUMENT, kml, kmz
from plotter.route.plotting import Plot

HOSTILE = plots.named(*awkward.NAMES.values())


@pytest.fixture(params=plots.GOLDEN)
def plot(request: pytest.FixtureRequest) -> Plot:
    return plots.GOLDEN[request.param]()


def opened(plot: Plot) -> zipfile.ZipFile:
    return zipfile.ZipFile(io.BytesIO(kmz(plot)))


def test_it_holds_the_kml_and_nothing_else(plot: Plot) -> None:
    with opened(plot) as archive:
        assert archive.testzip() is None
        assert archive.namelist() == [MAIN_DOCUMENT] == ["doc.kml"]
        assert archive.read(MAIN_DOCUMENT) == kml(plot)
        schemas.validate("ogckml22.xsd", archive.read(MAIN_DOCUMENT))


def test_neither_time_nor_machine_is_in_it() -> None:
    with opened(plots.short()) as archive:
        (entry,) = archive.infolist()
    assert entry.date_time == (1980, 1, 1, 0, 0, 0)
    assert (entry.create_system, entry.external_attr >> 16) == (3, 0o100644)
    assert (entry.extra, entry.comment, archive.comment) == (b"", b"", b"")


def test_the_same_bytes_at_another_hour(monkeypatch: pytest.MonkeyPatch) -> None:
    before = kmz(plots.short())
    monkeypatch.setattr(time, "time", lambda: 4e9)
    assert kmz(plots.short()) == before


def test_it_is_packed() -> None:
    plot = plots.many(100)
    assert len(kmz(plot)) < len(kml(plot)) / 4


@pytest.mark.parametrize("build", [*plots.GOLDEN.values(), lambda: HOSTILE])
def test_gdal_reads_it_like_the_kml(build: type[Plot], tmp_path: Path) -> None:
    plot = build()
    path = tmp_path / "route.kmz"
    path.write_bytes(kmz(plot))
    turns = readers.gdal_points(path, "Turning points", "Name")
    assert readers.close(turns, readers.turning_points(plot))
    marks = readers.gdal_points(path, "Checkpoints", "Name")
    assert readers.close(marks, readers.checkpoints(plot))
