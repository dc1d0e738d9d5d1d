"""The public face: what it lists, what it returns, what it refuses."""

from __future__ import annotations

import datetime as dt
import json
from pathlib import Path

import pytest

from plotter import api
from plotter.places.store import Store

DAY = "2026-07-04"


@pytest.fixture(scope="module")
def flight(real_store: Store) -> api.PlottedRoute:
    return api.plot("KRST KLSE KONA", date=DAY, store=real_store)


def test_the_public_face_is_an_explicit_list() -> None:
    assert api.__all__ == sorted(api.__all__)
    assert all(hasattr(api, name) for name in api.__all__)


def test_legs_and_checkpoints(flight: api.PlottedRoute) -> None:
    assert [(leg.start.name, leg.end.name) for leg in flight.legs] == [
        ("KRST", "KLSE"),
        ("KLSE", "KONA"),
    ]
    assert flight.distance_nm == sum(leg.distance_nm for leg in flight.legs)
    assert flight.route.waypoints[0].elevation_ft is not None
    assert flight.checkpoints[0].distance_from_start_nm == pytest.approx(10.0)
    assert flight.item15 == "KRST DCT KLSE DCT KONA"


def test_the_document_is_what_the_command_prints(flight: api.PlottedRoute) -> None:
    assert json.loads(flight.to_json()) == flight.document()
    assert flight.document()["schema"] == "plot-1"


@pytest.mark.parametrize("part", ["legs", "points", "checkpoints"])
def test_a_geodataframe_of_each_part(flight: api.PlottedRoute, part: str) -> None:
    frame = flight.to_geodataframe(part)  # type: ignore[arg-type]
    wanted = {"legs": 2, "points": 3, "checkpoints": len(flight.checkpoints)}
    assert len(frame) == wanted[part]
    assert frame.crs.to_epsg() == 4326
    west, south, east, north = frame.total_bounds
    assert -93 < west <= east < -91
    assert 43 < south <= north < 45


def test_frames_hold_the_figures_of_the_legs(flight: api.PlottedRoute) -> None:
    frame = flight.to_geodataframe()
    assert list(frame["distance_nm"]) == [leg.distance_nm for leg in flight.legs]
    with pytest.raises(api.InputError, match="legs, points, checkpoints"):
        flight.to_geodataframe("wings")  # type: ignore[arg-type]


def test_a_notebook_shows_the_map_in_a_frame(flight: api.PlottedRoute) -> None:
    html = flight._repr_html_()
    assert html.startswith("<iframe srcdoc=")
    assert html.count("<") == 2, "the page must not leak out of its frame"
    assert "default-src" in html


def test_files_are_saved(flight: api.PlottedRoute, tmp_path: Path) -> None:
    files = flight.save(tmp_path, formats=["gpx", "csv"], name="sunday")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["sunday.csv", "sunday.gpx"]
    assert set(files) == {"gpx", "csv"}


@pytest.mark.parametrize("date", [dt.date(2026, 7, 4), dt.datetime(2026, 7, 4, 12), DAY, None])
def test_dates_as_they_come(real_store: Store, date: dt.date | str | None) -> None:
    flight = api.plot("KRST KONA", date=date, store=real_store)
    assert flight.plot.date == (dt.date.today() if date is None else dt.date(2026, 7, 4))


def test_own_points_from_memory_and_from_a_file(real_store: Store, tmp_path: Path) -> None:
    path = tmp_path / "mine.csv"
    path.write_text("name,latitude,longitude\nBarn,43.95,-92.41\n")
    own = api.OwnPoints([api.OwnPoint("Barn", api.Position(43.95, -92.41))])
    lengths = {
        api.plot(["KRST", "Barn"], points=points, date=DAY, store=real_store).distance_nm
        for points in (own, path, str(path))
    }
    assert len(lengths) == 1


def test_faults_are_typed(real_store: Store) -> None:
    with pytest.raises(api.RouteError):
        api.plot("KRST KDHL", date=DAY, store=real_store)
    with pytest.raises(api.InputError, match="2026-07-04"):
        api.plot("KRST KONA", date="soon", store=real_store)
    with pytest.raises(api.UnknownIdentifier):
        api.find("KDHLX", store=real_store)


def test_find_gives_the_place(real_store: Store) -> None:
    place = api.find("KRST", store=real_store)
    assert isinstance(place, api.Airport)
    assert place.runways


def test_choices_for_a_gps_unit(flight: api.PlottedRoute, tmp_path: Path) -> None:
    files = flight.save(tmp_path, ["gpx"], gpx_checkpoints=True, gpx_as="both", names="6")
    text = files["gpx"].read_text(encoding="utf-8")
    assert text.count("<rtept") == 3 + len(flight.checkpoints)
    assert text.count("<trk>") == 1
    with pytest.raises(api.InputError, match="use full, 10 or 6"):
        flight.save(tmp_path, ["gpx"], names="7")  # type: ignore[arg-type]


def test_every_format_is_saved(flight: api.PlottedRoute, tmp_path: Path) -> None:
    names = ["map", "gpx", "kml", "kmz", "geojson", "gpkg", "csv"]
    files = flight.save(tmp_path, names, name="all")
    assert list(files) == names
    assert all(path.stat().st_size > 500 for path in files.values())


def test_isogonic_lines_when_asked(flight: api.PlottedRoute, tmp_path: Path) -> None:
    assert "isogonic line:" not in flight.map_html()
    page = flight.map_html(isogonic=True)
    assert "isogonic line: variation every degree, WMM2025 of 2026-07-04" in page
    path = flight.save(tmp_path, formats=["map"], isogonic=True)["map"]
    assert path.read_text(encoding="utf-8") == page


def test_a_log_from_a_plan_file(real_store: Store, tmp_path: Path) -> None:
    sample = Path(__file__).parent.parent / "exports" / "sample" / "flight.toml"
    flight = api.log(sample, store=real_store)
    assert flight.rows[-1].end.name == "KDLH"
    assert len(flight.sectors) == 2
    assert flight.working(4, "GS").result == flight.rows[3].triangle.groundspeed_kt
    assert flight.document()["schema"] == "log-1"
    assert all(len(row["working"]) == 19 for row in flight.document(with_working=True)["rows"])
    files = flight.save(tmp_path, ["csv", "gpx"], gpx_checkpoints=True)
    assert files["csv"].read_bytes().startswith(b"row,number,sector")
    assert [one.code for one in flight.cautions if one.rank != "NOTE"] == ["invented"]


def test_a_log_from_the_text_of_a_plan(real_store: Store) -> None:
    with pytest.raises(api.PlanError, match=r"\[flight\]"):
        api.log("format = 1\n[aircraft]\n", store=real_store)


def test_readings_are_judged_as_the_command_does(real_store: Store) -> None:
    found = api.measure("KRST KLSE", reading="62.1", course="272M", date=DAY, store=real_store)
    assert found.distance is not None
    assert found.course is not None
    assert (found.distance.best, found.course.best) == ("nautical_statute", "reciprocal")
    assert json.loads(found.to_json()) == found.document()
    assert found.document()["schema"] == "measure-1"
    assert found.cautions == ()
    assert found.fitted.factor == pytest.approx(1.151, abs=0.005)


def test_readings_as_numbers_rows_and_files(real_store: Store, tmp_path: Path) -> None:
    number = api.measure(["KRST", "KLSE"], reading=54.0, date=DAY, store=real_store)
    assert number.judgement.legs[0].reading == api.Reading("54")
    row = api.ReadingRow(("KRST", "KLSE"), api.Reading("54.0"))
    (tmp_path / "mine.csv").write_text("start,end,reading\nKRST,KLSE,54.0\n")
    rows = api.measure(readings=[row], date=DAY, store=real_store)
    file = api.measure(readings=tmp_path / "mine.csv", date=DAY, store=real_store)
    assert rows.document() == file.document()
    with pytest.raises(api.InputError, match="two points"):
        api.measure(date=DAY, store=real_store)


def test_plain_values_are_judged_without_a_store() -> None:
    leg = api.MeasuredLeg(40.0, 247.0, -8.0, api.Reading("46.0"))
    found = api.judge([leg], api.desk_of(student=True))
    assert isinstance(found, api.Judgement)
    assert found.distance is not None
    assert found.distance.best == "nautical_statute"
