"""What the pilot gives, made into values."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from plotter.earth.position import Position
from plotter.errors import FileFault, InputError
from plotter.opening import open_date, open_points
from plotter.route.own_points import OwnPoint, OwnPoints

DAY = dt.date(2026, 7, 4)


@pytest.mark.parametrize(
    "date", [DAY, dt.datetime(2026, 7, 4, 23, 59), "2026-07-04", " 2026-07-04 "]
)
def test_dates_as_they_come(date: dt.date | str) -> None:
    assert open_date(date) == DAY


def test_no_date_is_today() -> None:
    before = dt.date.today()
    assert before <= open_date(None) <= dt.date.today()


@pytest.mark.parametrize("text", ["", "tomorrow", "04/07/2026", "2026-02-30"])
def test_what_is_no_date_is_told_what_to_write(text: str) -> None:
    with pytest.raises(InputError, match="2026-07-04"):
        open_date(text)


def written(folder: Path, name: str, *points: str) -> Path:
    path = folder / name
    rows = "".join(f"{point},44,-92\n" for point in points)
    path.write_text("name,latitude,longitude\n" + rows, encoding="utf-8")
    return path


def test_points_as_they_come(tmp_path: Path) -> None:
    own = OwnPoints([OwnPoint("Barn", Position(44.0, -92.0))])
    path = written(tmp_path, "a.csv", "Barn")
    assert open_points(own) is own
    assert list(open_points(path)) == list(open_points(str(path))) == list(own)
    assert list(open_points(None)) == list(open_points([])) == []


def test_several_files_add_up(tmp_path: Path) -> None:
    files = [written(tmp_path, "a.csv", "Barn", "Mill"), written(tmp_path, "b.csv", "Tower")]
    assert [point.name for point in open_points(files)] == ["Barn", "Mill", "Tower"]


def test_a_name_that_two_files_give_is_refused(tmp_path: Path) -> None:
    files = [written(tmp_path, "a.csv", "Barn"), written(tmp_path, "b.csv", "BARN")]
    with pytest.raises(FileFault, match=r"b\.csv and .*a\.csv both give"):
        open_points(files)
