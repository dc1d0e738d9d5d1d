"""The ``plot-1`` document: key for key, unrounded, and JSON that any reader takes."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import awkward
import plots
import pytest

from plotter.earth.units import sm_from_nm
from plotter.formats.document import document, to_json
from plotter.formats.names import clean_name
from plotter.route.plotting import Plot

KEYS = {
    "": "schema name date line distance_nm distance_sm points legs checkpoints near files cautions "
    "data",
    "points": "name text kind ident latitude_deg longitude_deg elevation_ft sources_apart_nm",
    "legs": "number start end distance_nm distance_sm true_course_deg initial_true_course_deg "
    "final_true_course_deg variation_deg_east magnetic_course_deg line middle "
    "label_angle_deg parts",
    "checkpoints": "number name leg latitude_deg longitude_deg distance_from_start_nm "
    "distance_to_go_nm",
    "near": "ident name kind latitude_deg longitude_deg elevation_ft leg along_nm off_nm side "
    "longest_runway_ft runways frequencies",
    "cautions": "rank code text source where",
}


@pytest.fixture
def made() -> dict[str, Any]:
    return document(plots.short(), {})


def test_the_keys_are_those_of_the_schema_in_its_order(made: dict[str, Any]) -> None:
    assert list(made) == KEYS[""].split()
    for part, keys in KEYS.items():
        if part:
            assert made[part], part
            for item in made[part]:
                assert list(item) == keys.split()
    assert list(made["legs"][0]["middle"]) == ["latitude_deg", "longitude_deg"]
    assert made["data"] == {
        "airports": {"date": "2025-12-02"},
        "navaids": {"date": "2022-10-01"},
        "magnetic_model": {"name": "WMM2025", "valid_to": "2030-01-01"},
    }


def test_numbers_are_those_of_the_plot_unrounded() -> None:
    plot = plots.mountain()
    made = json.loads(to_json(document(plot, {})))
    assert made["distance_nm"] == plot.route.distance_nm
    assert made["distance_sm"] == sm_from_nm(plot.route.distance_nm)
    for written, leg in zip(made["legs"], plot.route.legs, strict=True):
        assert written["distance_nm"] == leg.distance_nm
        assert written["true_course_deg"] == leg.true_course_deg
        assert written["initial_true_course_deg"] == leg.line.initial_true_course_deg
        assert written["final_true_course_deg"] == leg.line.final_true_course_deg
        assert written["variation_deg_east"] == leg.variation.degrees_east
        assert written["magnetic_course_deg"] == leg.magnetic_course_deg
        assert written["middle"]["latitude_deg"] == leg.middle.latitude_deg
        assert -90.0 <= written["label_angle_deg"] < 90.0
    for written, mark in zip(made["checkpoints"], plot.checkpoints, strict=True):
        assert written["latitude_deg"] == mark.position.latitude_deg
        assert written["distance_from_start_nm"] == mark.distance_from_start_nm


def test_latitude_comes_first_in_a_line_and_longitudes_run_on_past_180() -> None:
    first, second = (leg["line"] for leg in document(plots.across_180(), {})["legs"])
    assert first[0] == pytest.approx([-16.5, 178.5])
    assert first[-1] == pytest.approx([-16.0, 180.75])
    assert second[0] == pytest.approx([-16.0, -179.25])
    assert second[-1] == pytest.approx([-17.25, -180.5])


def test_what_is_not_in_the_data_is_null(made: dict[str, Any]) -> None:
    assert made["points"][2]["elevation_ft"] is None
    assert made["points"][1]["ident"] is None


def test_an_airport_beside_the_line_has_its_side_runways_and_frequencies(
    made: dict[str, Any],
) -> None:
    (near,) = made["near"]
    assert (near["leg"], near["along_nm"], near["off_nm"], near["side"]) == (1, 9.9, 1.4, "right")
    assert near["longest_runway_ft"] == 4200.0
    assert near["runways"] == [
        {
            "ends": ["13", "31"],
            "length_ft": 4200.0,
            "width_ft": 75.0,
            "surface": "asphalt",
            "lighted": True,
            "closed": False,
            "headings_true_deg": [134.0, 314.0],
        }
    ]
    assert near["frequencies"] == [
        {"kind": "CTAF", "description": "Demo traffic", "frequency_mhz": 122.8}
    ]


def test_files_are_named_by_format(tmp_path: Path) -> None:
    made = document(plots.short(), {"gpx": tmp_path / "a.gpx"})
    assert made["files"] == {"gpx": str(tmp_path / "a.gpx")}


def test_a_course_of_north_is_0_not_360() -> None:
    due_north = plots.plot_of([plots.at_point("A", 1.0, 2.0), plots.at_point("B", 2.0, 2.0)])
    leg = document(due_north, {})["legs"][0]
    assert leg["true_course_deg"] == 0.0
    assert 0.0 <= leg["magnetic_course_deg"] < 360.0


def test_json_is_one_line_of_ascii_whatever_the_names() -> None:
    text = to_json(document(plots.named(*awkward.NAMES.values()), {}))
    assert text.isascii()
    assert text.count("\n") == 1
    assert text.endswith("\n")
    names = [point["name"] for point in json.loads(text)["points"]]
    assert names == [clean_name(name) for name in awkward.NAMES.values()]


def test_a_nan_is_refused_not_written() -> None:
    plot = plots.short()
    beside = replace(plot.near[0], off_nm=float("nan"))
    broken: Plot = replace(plot, near=(beside,))
    with pytest.raises(ValueError, match="not JSON compliant"):
        to_json(document(broken, {}))
