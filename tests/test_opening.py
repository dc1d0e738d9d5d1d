"""What the pilot gives, made into values."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import given_files
import pytest

from plotter.earth.position import Position
from plotter.errors import FileFault, InputError, PlanError
from plotter.flight.plan.starter import starter
from plotter.inputs import (
    MOST_PLAN_BYTES,
    is_plan_file,
    open_date,
    open_plan,
    open_points,
    open_route,
)
from plotter.route.reading.points import OwnPoint, OwnPoints
from plotter.route.reading.whole import GivenRoute

DAY = dt.date(2026, 7, 4)


@pytest.mark.parametrize(
    "date", [DAY, dt.datetime(2026, 7, 4, 23, 59), "2026-07-04", " 2026-07-04 "]
)
def test_dates_as_they_come(date: dt.date | str) -> None:
    assert open_date(date) == DAY


def test_no_date_is_today() -> None:
    before = dt.date.today()
    assert before <= open_date(None) <= dt.date.today()


@pytest.mark.parametrize(
    "text",
    [
        "",
        "tomorrow",
        "04/07/2026",
        "2026-02-30",
        "20260704",
        "2026-W27-6",
        "2026-07-4",
        "٢٠٢٦-07-04",
    ],
)
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
    with pytest.raises(
        FileFault,
        match=r"b\.csv and .*a\.csv both have",
    ):
        open_points(files)


@pytest.mark.parametrize(
    "route", ["KRST KDLH", ["KRST", "KDLH"], "41.5,-92.5 42,-93", ["43 54.5 N 092 30.0 W", "KDLH"]]
)
def test_a_typed_route_is_handed_on_as_it_is(route: str | list[str]) -> None:
    assert open_route(route) is route


def gpx(folder: Path, name: str = "my trip.gpx") -> Path:
    path = folder / name
    path.write_text(given_files.gpx_route((44, -92), (45, -92)), encoding="utf-8")
    return path


@pytest.mark.parametrize("shape", ["{}", '"{}"', " {} ", "'{}'"])
@pytest.mark.parametrize("alone", [str, list])
def test_a_file_is_a_whole_route(shape: str, alone: type, tmp_path: Path) -> None:
    typed = shape.format(gpx(tmp_path))
    given = open_route(typed if alone is str else [typed])
    assert isinstance(given, GivenRoute)
    assert given.name == "Demo route"


def test_a_relative_name_is_looked_for_in_the_folder(tmp_path: Path) -> None:
    gpx(tmp_path, "Trip.GPX")
    assert isinstance(open_route("Trip.GPX", folder=tmp_path), GivenRoute)
    with pytest.raises(FileFault, match="cannot be read"):
        open_route("Trip.GPX", folder=tmp_path / "elsewhere")


@pytest.mark.parametrize("route", ["KRST trip.gpx", ["KRST", "trip.kml"], "a.csv KDLH"])
def test_a_file_among_points_is_refused(route: str | list[str]) -> None:
    with pytest.raises(InputError, match="give it alone") as caught:
        open_route(route)
    assert caught.value.code == "file-among-points"


def test_part_and_tolerance_want_a_file() -> None:
    for wish in ({"part": "track"}, {"tolerance_nm": 1.0}):
        with pytest.raises(InputError, match="a part and a track tolerance apply only to a file"):
            open_route("KRST KDLH", **wish)  # type: ignore[arg-type]


def test_plans_as_they_come(tmp_path: Path) -> None:
    text = starter("Sunday")
    path = tmp_path / "sunday.TOML"
    path.write_bytes(b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode())
    plan = open_plan(text)
    assert plan.name == "Sunday"
    assert open_plan(plan) is plan
    assert open_plan(path) == open_plan(str(path)) == plan
    assert is_plan_file(path)
    assert not is_plan_file("sunday.gpx")


def test_own_points_of_a_plan_are_found_from_its_folder(tmp_path: Path) -> None:
    text = starter("Sunday").replace("# points =", "points =")
    path = tmp_path / "sunday.toml"
    path.write_text(text)
    assert open_plan(path).points_file == str(tmp_path / "points.csv")
    assert open_plan(text).points_file == "points.csv"


@pytest.mark.parametrize(
    ("data", "words", "line"),
    [
        ("format = 1\n".encode("utf-16"), "save the file as UTF-8", None),
        (b"format = 1\n[flight]\nname = '\xe9t\xe9'\n", "not UTF-8 text", 3),
        (b"#" * (MOST_PLAN_BYTES + 1), "larger than any plan", None),
    ],
)
def test_what_is_no_text_of_a_plan(
    data: bytes, words: str, line: int | None, tmp_path: Path
) -> None:
    path = tmp_path / "x.toml"
    path.write_bytes(data)
    with pytest.raises(FileFault, match=words) as caught:
        open_plan(path)
    assert caught.value.where is not None
    assert (caught.value.where.file, caught.value.where.line) == (str(path), line)


def test_a_plan_file_that_is_not_there_or_is_a_folder(tmp_path: Path) -> None:
    for path in (tmp_path / "none.toml", tmp_path):
        with pytest.raises(FileFault, match=r"no such file|directory"):
            open_plan(path)


def test_a_fault_names_the_file_as_it_was_given(tmp_path: Path) -> None:
    path = tmp_path / "x.toml"
    path.write_text("format = 1")
    with pytest.raises(PlanError) as caught:
        open_plan(path)
    assert caught.value.message.startswith(f"{path}, line 1: ")
