"""What each address of the planning page answers."""

from __future__ import annotations

import json
from concurrent.futures import ThreadPoolExecutor

import pytest
from click.testing import CliRunner
from served import DAY, ROUTE, Served

from plotter.api import plot
from plotter.cli.main import plotter
from plotter.exports import FORMATS, Job
from plotter.places.store import Store


def test_plot_answers_what_the_command_prints(page: Served) -> None:
    words = ["plot", *ROUTE["route"].split(), "--date", DAY, "--as", "none", "--json"]
    printed = json.loads(CliRunner().invoke(plotter, words).stdout)
    answer = page.post("/api/plot", ROUTE)
    assert answer.status_code == 200
    assert answer.json() == printed


def test_every_option_of_the_command_is_a_key(page: Served) -> None:
    body = {
        "route": "KRST BARN 44.5,-92.2",
        "date": DAY,
        "altitude_ft": 5500,
        "every_nm": 7.5,
        "restart": True,
        "clear_of_turns_nm": 2,
        "line": "rhumb",
        "name": "demo",
        "points": [{"name": "BARN", "latitude_deg": 44.1, "longitude_deg": -92.5}],
    }
    answer = page.post("/api/plot", body).json()
    assert answer["line"] == "rhumb"
    assert answer["name"] == "demo"
    assert [point["kind"] for point in answer["points"]] == ["airport", "own", "position"]


@pytest.mark.parametrize("name", FORMATS)
def test_a_file_is_byte_for_byte_what_the_library_writes(
    page: Served, name: str, real_store: Store
) -> None:
    body = {"route": "KRST KONA", "date": DAY, "altitude_ft": 5500}
    answer = page.post(f"/api/export/{name}", body)
    assert answer.status_code == 200, answer.text
    plotted = plot("KRST KONA", date=DAY, altitude_ft=5500, store=real_store).plot
    assert answer.content == FORMATS[name].write(Job(plotted, real_store))
    suffix = FORMATS[name].suffix
    assert answer.headers["content-disposition"] == f'attachment; filename="KRST-KONA{suffix}"'


def test_the_choices_for_a_gps_unit_reach_the_file(page: Served) -> None:
    body = {"route": "KRST KONA", "date": DAY}
    plain = page.post("/api/export/gpx", body).text
    chosen = {**body, "gpx_checkpoints": True, "gpx_as": "both", "names": "6"}
    richer = page.post("/api/export/gpx", chosen).text
    assert richer.count("<rtept") > plain.count("<rtept")
    assert "<trk>" in richer


def test_a_format_that_is_none_is_answered_with_those_there_are(page: Served) -> None:
    answer = page.post("/api/export/gpz", ROUTE)
    assert answer.status_code == 422
    assert answer.json()["error"]["candidates"] == ["gpx"]
    offered = page.get("/api/formats").json()
    assert [each["name"] for each in offered] == list(FORMATS)


def test_a_hostile_name_cannot_leave_the_header(page: Served) -> None:
    body = {"route": 'a"\r\nx:y=44,-92 é/../Ω=45,-92', "date": DAY}
    answer = page.post("/api/export/csv", body)
    if answer.status_code == 200:
        said = answer.headers["content-disposition"]
        assert said.count('"') == 2
        assert "/" not in said.partition("filename")[2]


def test_every_fault_of_a_route_comes_at_once_with_its_place(page: Served) -> None:
    answer = page.post("/api/plot", {"route": "KRST KDHL 99,99", "date": DAY})
    assert answer.status_code == 422
    error = answer.json()["error"]
    assert [each["where"]["start"] for each in error["all"]] == [5, 10]
    assert "KDLH" in error["candidates"]


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({"every_nm": "many"}, "every_nm"),
        ({"rout": "KRST"}, "rout"),
        ({"line": "zigzag"}, "line"),
        ({"route": 7}, "route"),
        ({"date": "tomorrow"}, "date"),
        ({"points": [{"name": "A", "latitude_deg": 95, "longitude_deg": 0}]}, "latitude_deg"),
        ({"edit": {"kind": "fly"}}, "edit"),
    ],
)
def test_a_wrong_key_is_named(page: Served, change: dict[str, object], key: str) -> None:
    answer = page.post("/api/sheet", {**ROUTE, **change})
    assert answer.status_code == 422
    error = answer.json()["error"]
    assert key in error["message"]
    assert key in error["where"]["key"]
    assert "pydantic" not in answer.text


@pytest.mark.parametrize(
    "change",
    [
        {"every_nm": 0},
        {"every_nm": 1e-9},
        {"altitude_ft": 1e9},
        {"date": "2019-01-01"},
        {"route": "KRST " * 700},
        {"route": "K" * 30_000},
    ],
)
def test_what_is_out_of_bounds_is_refused_with_words(
    page: Served, change: dict[str, object]
) -> None:
    answer = page.post("/api/plot", {**ROUTE, **change})
    assert answer.status_code == 422
    assert answer.json()["error"]["message"]


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"{",
        b'{"route": "KRST',
        b"\xff\xfe",
        b"[" * 200_000,
        b'{"a":' * 100_000,
        b'{"route": "KRST KDLH", "every_nm": NaN}',
        b'{"route": "KRST KDLH", "altitude_ft": -Infinity}',
        b'{"route": "KRST KDLH", "altitude_ft": 1e999}',
        b'{"route": "KRST KDLH", "altitude_ft": ' + b"9" * 6000 + b"}",
        b'{"route": "\\ud800 KDLH"}',
        b"null",
        b"[]",
        b'"KRST"',
    ],
    ids=range(14),
)
def test_a_broken_body_gets_an_answer_in_the_one_shape(page: Served, body: bytes) -> None:
    answer = page.client.post(
        "/api/plot", content=body, headers={"content-type": "application/json"}
    )
    assert answer.status_code in (400, 422), answer.text
    assert set(answer.json()["error"]) >= {"code", "message", "where", "candidates"}
    assert "Traceback" not in answer.text


@pytest.mark.parametrize(
    ("path", "status"),
    [
        ("/nothing", 404),
        ("/page/../../pyproject.toml", 404),
        ("/page/%2e%2e%2f%2e%2e%2fpyproject.toml", 404),
        ("/page//etc/passwd", 404),
        ("/docs", 404),
        ("/redoc", 404),
        ("/api/plot", 405),
        ("/api/base?south=1&west=0&north=0&east=1", 422),
        ("/api/base?south=nan&west=0&north=0&east=1", 422),
        ("/api/find?text=" + "A" * 100, 422),
    ],
)
def test_addresses_that_are_none(page: Served, path: str, status: int) -> None:
    answer = page.client.get(path)
    assert answer.status_code == status
    assert answer.json()["error"]["message"]


def test_the_page_and_its_files_are_small_and_are_not_sent_twice(page: Served) -> None:
    document = page.client.get("/")
    names = set(_linked(document.text))
    assert {"map/lettering.js", "chart.js", "plan.js", "page.css"} < names
    carried = len(document.content)
    for name in names:
        first = page.client.get(f"/page/{name}")
        assert first.status_code == 200
        carried += len(first.content)
        again = page.client.get(f"/page/{name}", headers={"if-none-match": first.headers["etag"]})
        assert again.status_code == 304
        assert not again.content
    assert carried < 420_000  # and the first plan asks for some 150,000 more: under 600,000


def _linked(document: str) -> list[str]:
    import re

    return re.findall(r'(?:src|href)="/page/([^"]+)"', document)


def test_places_are_suggested_by_what_is_typed(page: Served) -> None:
    found = page.get("/api/find", text="krs").json()
    assert any(place["type"] == "KRST" for place in found)
    assert page.get("/api/find", text=" ").json() == []
    assert page.get("/api/find", text="KBSO").json()[0]["type"]


def test_the_base_of_the_map_comes_by_view_and_may_be_kept(page: Served) -> None:
    world = page.get("/api/base/world")
    assert world.json()["layers"][0]["box"] is None
    assert "max-age" in world.headers["cache-control"]
    view = page.get("/api/base", south=43, west=-93, north=45, east=-91)
    assert [layer["unit"] for layer in view.json()["layers"]] == [0.01, 0.001]
    assert view.json()["towns"]
    across = page.get("/api/base", south=-20, west=175, north=-10, east=185)
    assert across.status_code == 200


def test_two_hundred_at_once_are_all_answered_and_all_right(page: Served) -> None:
    bodies = [{"route": f"KRST {44 + k / 100:.2f},-91.5 KDLH", "date": DAY} for k in range(200)]
    alone = [page.post("/api/plot", body).json() for body in bodies[::20]]
    with ThreadPoolExecutor(40) as pool:
        answers = list(pool.map(lambda body: page.post("/api/plot", body), bodies))
    assert [answer.status_code for answer in answers] == [200] * 200
    assert [answer.json() for answer in answers[::20]] == alone
    points = [answer.json()["points"][1]["latitude_deg"] for answer in answers]
    assert points == [round(44 + k / 100, 2) for k in range(200)]
