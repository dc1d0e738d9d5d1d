"""What is near a place on the map, as the page is told it: the command's figures in words."""

from __future__ import annotations

import json
from typing import Any

import pytest
from click.testing import CliRunner
from served import DAY, Served

from plotter import wording
from plotter.cli.main import plotter
from plotter.places.lookup import resolve
from plotter.places.store import Store

KRST = {"latitude_deg": 43.908298, "longitude_deg": -92.5}
DISTANCE, TRUE, MAGNETIC = 0, 1, 2


def listed(page: Served, **query: object) -> dict[str, Any]:
    answer = page.get("/api/near/words", **{**KRST, "date": DAY, **query})
    assert answer.status_code == 200, answer.text
    found: dict[str, Any] = answer.json()
    return found


def printed(*words: str) -> dict[str, Any]:
    made: dict[str, Any] = json.loads(CliRunner().invoke(plotter, [*words, "--json"]).stdout)
    return made


def test_figures_are_those_of_the_command_as_they_are_printed(page: Served) -> None:
    wanted = printed("near", "43.908298,-92.5", "--within", "40", "--most", "30")
    found = listed(page, kind="airport", within_nm=40, most=30)
    assert len(found["rows"]) == len(wanted["places"]) == 30
    for row, place in zip(found["rows"], wanted["places"], strict=True):
        assert row["code"] == place["code"]
        assert row["cells"][DISTANCE] == wording.distance(place["distance_nm"])
        if row["here"]:
            assert place["distance_nm"] < 0.05
            continue
        assert row["cells"][TRUE] == wording.course(place["true_course_deg"], "T")
    head = f"Within 40.0 NM of 43°54.50′N 092°30.00′W: {wanted['count']} in the data"
    assert found["heading"].startswith(head)


def test_the_magnetic_bearing_is_that_of_a_leg_flown_to_it(page: Served) -> None:
    """A leg's course is that at its middle, the bearing that at its start: a degree at most."""
    legs = 0
    for row in listed(page, kind="airport", within_nm=20)["rows"]:
        if row["here"]:
            continue
        plot = page.post("/api/plot", {"route": f"KRST {row['type']}", "date": DAY}).json()
        magnetic = plot["legs"][0]["magnetic_course_deg"]
        away = abs(int(row["cells"][MAGNETIC].removesuffix("°M")) - magnetic) % 360
        assert min(away, 360 - away) < 1.1
        legs += 1
    assert legs > 5


@pytest.mark.parametrize("kind", ["all", "airport", "navaid", "town"])
def test_what_is_typed_for_each_is_that_place_in_a_route(page: Served, kind: str) -> None:
    found = listed(page, kind=kind, within_nm=60, most=20)
    assert found["rows"]
    assert len(found["heads"]) == len(found["rows"][0]["cells"])
    for row in found["rows"]:
        if row["here"]:
            continue
        body = {"route": f"43.908298,-92.5 {row['type']}", "date": DAY}
        answer = page.post("/api/plot", body).json()
        assert wording.distance(answer["distance_nm"]) == row["cells"][DISTANCE]


def test_a_checkpoint_called_after_a_place_says_that_it_is_near(page: Served) -> None:
    rows = listed(page, kind="town", within_nm=60, most=40, longitude_deg=-92.45)["rows"]
    near = [row for row in rows if row["called"]]
    assert 0 < len(near) < len(rows)
    for row in near:
        assert float(row["cells"][DISTANCE].removesuffix(" NM")) <= 5.0
        answer = page.post("/api/plot", {"route": f"KRST {row['called']}", "date": DAY}).json()
        point = answer["points"][1]
        assert point["name"].startswith("near-")
        assert point["longitude_deg"] == pytest.approx(-92.45, abs=1 / 3600)


def test_where_nothing_is_near_the_nearest_beyond_is_told(page: Served) -> None:
    found = listed(page, latitude_deg=-60, longitude_deg=-140, kind="airport")
    assert "nothing in the data; the nearest is" in found["heading"]
    assert len(found["rows"]) == 1


def test_a_runway_that_is_asked_for_and_what_the_data_does_not_know(
    page: Served, real_store: Store
) -> None:
    found = listed(page, kind="airport", within_nm=20, runway_ft=4000)
    for row in found["rows"]:
        place = resolve(real_store, row["type"]).place
        assert (getattr(place, "longest_runway_ft", 0) or 0) >= 4000
    assert any("the length is not in the data" in note for note in found["notes"])
    assert found["cautions"] == list(wording.STANDING)


@pytest.mark.parametrize(
    "change",
    [
        {"latitude_deg": 91},
        {"longitude_deg": 181},
        {"latitude_deg": "nan"},
        {"within_nm": 0},
        {"within_nm": 201},
        {"kind": "volcano"},
        {"kind": "town", "runway_ft": 3000},
        {"runway_ft": -1},
        {"most": 0},
        {"date": "tomorrow"},
        {"date": "2019-01-01"},
        {"altitude_ft": "inf"},
        {"altitude_ft": 1e9},
        {"colour": "red"},
    ],
)
def test_what_cannot_be_asked_is_refused_in_the_one_shape(
    page: Served, change: dict[str, object]
) -> None:
    answer = page.get("/api/near/words", **{**KRST, "date": DAY, **change})
    assert answer.status_code == 422
    assert {"code", "message", "where", "candidates"} <= set(answer.json()["error"])


def test_near_a_magnetic_pole_the_compass_is_doubted(page: Served) -> None:
    notes = listed(page, latitude_deg=85, longitude_deg=140, within_nm=200)["notes"]
    assert any("compass" in note for note in notes)
    assert not any("compass" in note for note in listed(page)["notes"])


@pytest.mark.parametrize("place", [(90, 0), (-90, 180), (0, 180), (0, -180), (89.9, -179.9)])
def test_no_corner_of_the_world_breaks_it(page: Served, place: tuple[float, float]) -> None:
    found = listed(page, latitude_deg=place[0], longitude_deg=place[1], within_nm=200)
    assert found["heading"].startswith("Within 200.0 NM of ")
