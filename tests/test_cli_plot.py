"""`plotter plot` as its user meets it: what is printed, what is written, what is refused."""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from plotter.cli.main import run

DATE = ("--date", "2026-07-04")
KEYS = [
    "schema", "name", "date", "line", "distance_nm", "distance_sm", "points", "legs",
    "checkpoints", "near", "files", "cautions", "data",
]  # fmt: skip
POINT_KEYS = [
    "name", "text", "kind", "ident", "latitude_deg", "longitude_deg", "elevation_ft",
    "sources_apart_nm",
]  # fmt: skip
LEG_KEYS = [
    "number", "start", "end", "distance_nm", "distance_sm", "true_course_deg",
    "initial_true_course_deg", "final_true_course_deg", "variation_deg_east",
    "magnetic_course_deg", "line", "middle", "label_angle_deg", "parts",
]  # fmt: skip
CHECKPOINT_KEYS = [
    "number", "name", "leg", "latitude_deg", "longitude_deg", "distance_from_start_nm",
    "distance_to_go_nm",
]  # fmt: skip


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str]) -> Callable[..., tuple[int, str, str]]:
    def _call(*arguments: str) -> tuple[int, str, str]:
        code = run(["plot", *arguments])
        out, err = capsys.readouterr()
        return code, out, err

    return _call


Call = Callable[..., tuple[int, str, str]]


def plotted(call: Call, *arguments: str) -> dict[str, Any]:
    code, out, err = call(*arguments, *DATE, "--json")
    assert (code, err) == (0, "")
    document: dict[str, Any] = json.loads(out, parse_constant=pytest.fail)
    return document


def test_the_defaults_write_map_gpx_and_kml_into_exports(call: Call, folder: Path) -> None:
    code, out, err = call("KRST", "KONA", *DATE)
    assert (code, err) == (0, "")
    written = sorted(path.name for path in (folder / "exports").iterdir())
    assert written == ["KRST-KONA.gpx", "KRST-KONA.html", "KRST-KONA.kml"]
    for name in written:
        assert name in out
    assert "Planning aid" in out
    assert "Not checked: airspace" in " ".join(out.split())


def test_as_none_writes_nothing(call: Call, folder: Path) -> None:
    assert call("KRST", "KONA", "--as", "none", *DATE)[0] == 0
    assert list(folder.iterdir()) == []


def test_the_json_document_is_whole(call: Call, folder: Path) -> None:
    document = plotted(call, "KRST", "KLSE", "KONA", "--as", "csv,gpx")
    assert list(document) == KEYS
    assert document["schema"] == "plot-1"
    assert list(document["points"][0]) == POINT_KEYS
    assert list(document["legs"][0]) == LEG_KEYS
    assert list(document["checkpoints"][0]) == CHECKPOINT_KEYS
    assert set(document["legs"][0]["middle"]) == {"latitude_deg", "longitude_deg"}
    assert set(document["cautions"][0]) == {"rank", "code", "text", "source", "where"}
    assert all(Path(path).is_absolute() for path in document["files"].values())
    assert set(document["files"]) == {"csv", "gpx"}
    model = document["data"]["magnetic_model"]
    assert (model["name"], model["valid_to"][:4]) in {("WMM2025", "2029"), ("WMM2025", "2030")}


def test_figures_of_the_document_belong_together(call: Call) -> None:
    document = plotted(call, "KRST", "KLSE", "KONA", "--as", "none")
    legs = document["legs"]
    assert math.fsum(leg["distance_nm"] for leg in legs) == pytest.approx(document["distance_nm"])
    for leg in legs:
        magnetic = (leg["true_course_deg"] - leg["variation_deg_east"]) % 360
        assert leg["magnetic_course_deg"] == pytest.approx(magnetic)
        assert leg["distance_sm"] == pytest.approx(leg["distance_nm"] * 1852 / 1609.344)
        assert -90 <= leg["label_angle_deg"] <= 90
        start = leg["line"][0]
        assert start == pytest.approx(
            [
                document["points"][leg["number"] - 1][key]
                for key in ("latitude_deg", "longitude_deg")
            ]
        )


def test_statute_miles_stand_beside_nautical(call: Call) -> None:
    plain = call("KRST", "KONA", "--as", "none", *DATE)[1]
    both = call("KRST", "KONA", "--as", "none", "--sm", *DATE)[1]
    assert "SM" not in plain
    assert "NM" in both
    assert "SM" in both


def test_an_identical_file_is_left_and_a_changed_one_is_not_overwritten(
    call: Call, folder: Path
) -> None:
    assert call("KRST", "KONA", *DATE)[0] == 0
    gpx = folder / "exports" / "KRST-KONA.gpx"
    before = gpx.stat().st_mtime_ns
    assert call("KRST", "KONA", *DATE)[0] == 0
    assert gpx.stat().st_mtime_ns == before
    gpx.write_text("my own notes")
    (folder / "exports" / "KRST-KONA.kml").unlink()
    code, out, err = call("KRST", "KONA", *DATE)
    assert (code, out) == (1, "")
    assert "--replace" in err
    assert gpx.read_text() == "my own notes"
    assert not (folder / "exports" / "KRST-KONA.kml").exists()
    assert call("KRST", "KONA", "--replace", *DATE)[0] == 0
    assert gpx.read_text() != "my own notes"


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((), "no point"),
        (("KRST",), "only one point"),
        (("KRST", "KRST"), "same place"),
        (("KRST", "KDHL"), "KDLH"),
        (("KRST", "BOS"), "navaid:BOS"),
        (("KRST", "95,10"), "latitude"),
        (("KRST", "nan,nan"), "nan"),
        (("KRST", "-122.1,37.5"), "37.5,-122.1"),
        (("KRST", "KONA", "--every", "0"), "--every"),
        (("KRST", "KONA", "--every", "-5"), "--every"),
        (("KRST", "KONA", "--every", "inf"), "--every"),
        (("KRST", "KONA", "--every", "nan"), "--every"),
        (("KRST", "KONA", "--every", "ten"), "--every"),
        (("KRST", "PHNL", "--every", "0.001"), "5,000"),
        (("KRST", "KONA", "--date", "2019-05-01"), "2025"),
        (("KRST", "KONA", "--date", "yesterday"), "2026-07-04"),
        (("KRST", "KONA", "--as", "gpx,pdg"), "pdg"),
        (("KRST", "KONA", "--as", ""), "map"),
        (("KRST", "KONA", "--line", "curvy"), "geodesic"),
        (("KRST", "KONA", "--name", "../out"), "name"),
        (("KRST", "KONA", "--name", "CON"), "name"),
        (("KRST", "KONA", "--name", ""), "name"),
        (("KRST", "KONA", "--points", "missing.csv"), "missing.csv"),
        (("KRST", "KONA", "--altitude", "1e9"), "altitude"),
        (("KRST", "KONA", "--evry", "20"), "--every"),
        (("KRST", "--", "-33.9,18.6", "--as", "none"), "'--as' comes after '--'"),
        (("KRST", "--evry", "20", "--", "-33.9,18.6"), "Did you mean '--every'?"),
        (
            ("KRST", "-91,200"),
            "latitude -91 is out of range; enter -90 to 90, and longitude 200 is",
        ),
        (("ROCHESTER,KLSE",), "points need spaces between them: ROCHESTER KLSE"),
        (("KRST", "KONA", "--jsn"), "--json"),
        (("KRST", "KONA", "-x"), "-x"),
        (("KRST", "KONA", "--into"), "--into"),
        (("KRST", "KONA", "--into", ""), "--into ."),
        (("KRST", "KONA", "--into", "  "), "--into ."),
    ],
)
def test_what_is_typed_wrong_is_told_kindly(
    call: Call, folder: Path, arguments: tuple[str, ...], words: str
) -> None:
    code, out, err = call(*arguments)
    assert (code, out) == (2, "")
    assert words in err
    assert "Traceback" not in err
    assert list(folder.iterdir()) == []


def test_a_fault_with_json_is_one_object_on_standard_error(call: Call) -> None:
    code, out, err = call("KRST", "KDHL", "--json")
    assert (code, out) == (2, "")
    fault = json.loads(err)["error"]
    assert list(fault)[:4] == ["code", "message", "where", "candidates"]
    assert fault["where"] == {"text": "KRST KDHL", "start": 5, "end": 9}
    assert "KDLH" in fault["candidates"]


@pytest.mark.parametrize("wrong", [("--evry", "2"), ("--every", "x"), ("--name", "a/b")])
def test_faults_of_options_are_objects_too(call: Call, wrong: tuple[str, str]) -> None:
    code, out, err = call("KRST", "KONA", *wrong, "--json")
    assert (code, out) == (2, "")
    assert json.loads(err)["error"]["message"]


def test_an_old_model_is_marked_when_it_is_allowed(call: Call) -> None:
    code, out, _ = call("KRST", "KONA", "--date", "2019-05-01", "--allow-old-model", "--as", "none")
    assert code == 0
    assert "doubtful" in out


def test_a_file_where_a_folder_should_be(call: Call, folder: Path) -> None:
    (folder / "exports").write_text("not a folder")
    code, out, err = call("KRST", "KONA", *DATE)
    assert (code, out) == (1, "")
    assert "exports" in err
    assert (folder / "exports").read_text() == "not a folder"


def test_the_name_goes_on_the_files(call: Call, folder: Path) -> None:
    assert call("KRST", "KONA", "--name", "Änne's first solo", "--as", "gpx", *DATE)[0] == 0
    assert [path.suffix for path in (folder / "exports").iterdir()] == [".gpx"]


def test_north_is_360(call: Call) -> None:
    out = call("44,-92", "45,-92", "--as", "none", *DATE)[1]
    assert "360°T" in out
    assert "000°" not in out


def test_own_points_are_used_by_name(call: Call, folder: Path) -> None:
    (folder / "mine.csv").write_text("name,latitude,longitude\nRed barn,43.95,-92.41\n")
    document = plotted(call, "KRST", "Red barn", "KONA", "--points", "mine.csv", "--as", "none")
    assert [point["name"] for point in document["points"]] == ["KRST", "Red barn", "KONA"]


def test_rhumb_lines(call: Call) -> None:
    document = plotted(call, "45,-100", "45,-90", "--line", "rhumb", "--as", "none")
    leg = document["legs"][0]
    assert document["line"] == "rhumb"
    assert leg["initial_true_course_deg"] == pytest.approx(90.0, abs=1e-7)
    assert leg["initial_true_course_deg"] == leg["final_true_course_deg"]


def test_a_name_of_300_letters_does_not_widen_the_table_but_is_whole_in_the_document(
    call: Call, folder: Path
) -> None:
    long = "W" * 300
    out = call(f"{long}=43.95,-92.41", "KONA", "--as", "none", *DATE)[1]
    table = out.partition("Leg ")[2].partition("\n\n")[0]
    assert "W" * 20 in table
    assert "…" in table
    assert max(map(len, table.splitlines())) < 80
    assert plotted(call, f"{long}=43.95,-92.41", "KONA", "--as", "none")["points"][0]["name"] == (
        "W" * 300
    )
