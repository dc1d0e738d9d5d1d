"""What the page answers about places and readings: the command's own documents."""

from __future__ import annotations

import datetime as dt
import json

import pytest
from click.testing import CliRunner
from served import DAY, Served

from plotter.cli.main import plotter


def printed(*words: str) -> dict[str, object]:
    made: dict[str, object] = json.loads(CliRunner().invoke(plotter, [*words, "--json"]).stdout)
    return made


def test_a_name_or_town_is_suggested_with_what_to_type(page: Served) -> None:
    found = page.get("/api/find", text="la cros").json()
    assert "KLSE" in {each["type"] for each in found}
    assert all({"type", "said", "kind"} <= set(each) for each in found)
    assert page.get("/api/find", text="<img src=x>").status_code == 200


def test_near_answers_what_the_command_prints(page: Served) -> None:
    asked = {"point": "KRST", "within_nm": 20, "runway_ft": 2000}
    answer = page.get("/api/near", **asked).json()
    wanted = printed("near", "KRST", "--within", "20", "--runway", "2000")
    assert answer["places"] == wanted["places"]
    assert answer["runway_length_not_in_data"] == wanted["runway_length_not_in_data"]
    assert answer["cautions"] == wanted["cautions"]


@pytest.mark.parametrize(
    "query",
    [
        {"point": "QQQQ"},
        {"point": "KRST", "within_nm": 0},
        {"point": "KRST", "within_nm": "NaN"},
        {"point": "KRST", "within_nm": 5000},
        {"point": "A" * 81},
        {},
    ],
)
def test_near_refuses_in_the_one_shape(page: Served, query: dict[str, object]) -> None:
    answer = page.get("/api/near", **query)
    assert answer.status_code == 422
    assert {"code", "message", "where", "candidates"} <= set(answer.json()["error"])


def test_near_refuses_a_date_outside_the_magnetic_model(
    page: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As the command does: the point is laid off by a variation that nobody knows yet."""
    monkeypatch.setattr("plotter.web.addresses.open_date", lambda _: dt.date(2036, 1, 1))
    answer = page.get("/api/near", point="4400N09230W090020")
    assert answer.status_code == 422
    assert answer.json()["error"]["code"] == "model-date"


def test_measure_answers_what_the_command_prints(page: Served) -> None:
    body = {
        "readings": [{"start": "KRST", "end": "KLSE", "reading": "62.1", "course": "093M"}],
        "date": DAY,
    }
    answer = page.post("/api/measure", body)
    words = ("KRST", "KLSE", "--reading", "62.1", "--course", "093M", "--date", DAY)
    assert answer.json() == printed("measure", *words)
    assert answer.json()["distance"]["explanations"][0]["code"] == "nautical_statute"


def test_several_readings_share_one_plotter(page: Served) -> None:
    readings = [
        {"start": "KRST", "end": "KLSE", "reading": "52.5"},
        {"start": "KEAU", "end": "KDLH", "reading": "120.8"},
    ]
    answer = page.post("/api/measure", {"readings": readings, "student": True, "date": DAY}).json()
    assert answer["distance"]["explanations"][0]["code"] == "physical_end"


@pytest.mark.parametrize(
    "body",
    [
        {"readings": []},
        {"readings": [{"start": "KRST", "end": "KLSE"}]},
        {"readings": [{"start": "KRST", "end": "KLSE", "reading": "-4"}]},
        {"readings": [{"start": "KRST", "end": "KLSE", "course": "93"}]},
        {"readings": [{"start": "KRST", "end": "QQQQ", "reading": "54"}]},
        {"readings": [{"start": "KRST", "end": "KLSE", "reading": "54", "unit": "furlong"}]},
        {"readings": [{"start": "KRST", "end": "KLSE", "reading": "54"}], "chart": "tourist"},
        {"readings": [{"start": "KRST", "end": "KLSE", "reading": "54"}] * 101},
        {"unknown": 1},
    ],
)
def test_readings_that_are_none_are_refused_in_words(page: Served, body: object) -> None:
    answer = page.post("/api/measure", body)
    assert answer.status_code == 422
    assert answer.json()["error"]["message"]
