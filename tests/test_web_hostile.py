"""Bodies and questions made to break the page: each is answered in words, none breaks it inside."""

from __future__ import annotations

import copy
import json
import socket
from collections.abc import Iterator
from typing import Any

import httpx
import pytest
from served import DAY, Served

from plotter.exports import FORMATS
from plotter.web.guard import TOKEN_HEADER

MARK = "@@HERE@@"
# As they stand in JSON, for Python would not write most of them.
VALUES = (
    *('"\\ud800"', '"\\u0000"', '"a\\r\\nb: c"', '"\\u202e<b>"', '""', '"' + "x" * 300 + '"'),
    *("NaN", "Infinity", "1e400", "9" * 4000, "1e308", "-1e308", "5e-324", "1e-6", "-1", "0"),
    *("null", "true", "[]", "{}", "[[]]", "[null]", '{"a":' * 12 + "1" + "}" * 12),
    *('"9999-12-31T23:59:59-12:00"', '"0001-01-01T00:00:00+14:00"', '"9999-12-31"'),
)
ROUTE = {"route": "KRST KLSE", "date": DAY}
POINT = {"name": "P", "latitude_deg": 44, "longitude_deg": -92, "elevation_ft": 9, "note": "n"}
MOVE = {"kind": "move", "index": 1, "latitude_deg": 44, "longitude_deg": -92, "snap_nm": 1}
READING = {"start": "KRST", "end": "KLSE", "reading": "54", "course": "093M", "unit": "nm"}


def spoiled(body: dict[str, Any]) -> Iterator[str]:
    """The body with each of the values in place of each of its own, as JSON."""
    for path in _paths(body):
        changed = copy.deepcopy(body)
        node: Any = changed
        for key in path[:-1]:
            node = node[key]
        node[path[-1]] = MARK
        text = json.dumps(changed)
        yield from (text.replace(f'"{MARK}"', value) for value in VALUES)


def _paths(node: Any, above: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    pairs = node.items() if isinstance(node, dict) else enumerate(node[:1])
    for key, value in pairs:
        yield (*above, key)
        if isinstance(value, dict | list):
            yield from _paths(value, (*above, key))


def answered_in_words(answer: httpx.Response) -> None:
    assert answer.status_code in (200, 400, 422), answer.text
    assert "Traceback" not in answer.text
    if answer.status_code != 200:
        error = answer.json()["error"]
        assert error["message"]
        assert {"code", "where", "candidates"} <= set(error)
    elif answer.headers["content-type"] == "application/json":
        answer.json()


def posted(page: Served, path: str, body: str) -> httpx.Response:
    kind = {"content-type": "application/json"}
    return page.client.post(path, content=body.encode("utf-8"), headers=kind)


@pytest.mark.parametrize(
    ("path", "body"),
    [
        ("/api/plot", {**ROUTE, "altitude_ft": 0, "every_nm": 10, "name": "", "points": [POINT]}),
        ("/api/sheet", {**ROUTE, "sm": True, "edit": MOVE}),
        ("/api/sheet", {**ROUTE, "edit": {"kind": "write-in", "index": 1, "text": "KEAU"}}),
        ("/api/sheet", {**ROUTE, "edit": {"kind": "name", "index": 1, "name": "A"}}),
        ("/api/sheet", {**ROUTE, "edit": {"kind": "order", "order": [1, 0]}}),
        ("/api/measure", {"readings": [READING], "chart": "sectional", "date": DAY}),
        ("/api/plan/read", {"text": "format = 1", "name": "x"}),
    ],
    ids=range(7),
)
def test_every_value_of_a_body_spoiled(page: Served, path: str, body: dict[str, Any]) -> None:
    for text in spoiled(body):
        answered_in_words(posted(page, path, text))


@pytest.mark.slow
@pytest.mark.parametrize("path", ["/api/log", "/api/plan/write"])
def test_every_value_of_a_plan_spoiled(page: Served, path: str) -> None:
    new = page.get("/api/plan/new").json()
    plan = {**new["plan"], "limits": {"reserve_min": 45}, 'a"]\nx=1': {"b": 1}}
    text = {"text": new["text"]} if path.endswith("write") else {}
    for body in spoiled({"plan": plan}):
        answered_in_words(posted(page, path, json.dumps(text)[:-1] + ", " * bool(text) + body[1:]))


@pytest.mark.parametrize(
    "text",
    [
        "x=" * 50_000,
        "[" + "a." * 50_000 + "b]",
        "x=" + "[" * 5_000 + "]" * 5_000,
        "x=" + "{a=" * 3_000 + "1" + "}" * 3_000,
        "a=1e999999",
        "a=" + "9" * 5_000,
        "a=9999-12-31T23:59:59-23:59",
        "format = 1\x00",
        "\ufeff\ufeff",
        "<script>",
    ],
    ids=range(10),
)
def test_a_text_that_is_no_plan(page: Served, text: str) -> None:
    for path, body in (
        ("/api/plan/read", {"text": text}),
        ("/api/log", {"plan": text}),
        ("/api/plan/write", {"text": text, "plan": {}}),
    ):
        answered_in_words(page.post(path, body))


def test_a_flight_so_slow_that_it_never_ends_is_refused(page: Served) -> None:
    plan = page.get("/api/plan/new").json()["plan"]
    plan["wind"] = []
    plan["aircraft"]["true_airspeed_kt"] = 2e-6
    answer = page.post("/api/log", {"plan": plan})
    assert answer.status_code == 422
    assert answer.json()["error"]["code"] == "impossible-value"


def test_a_headwind_that_leaves_next_to_nothing_is_refused_in_words(page: Served) -> None:
    plan = page.get("/api/plan/new").json()["plan"]
    plan["flight"] |= {"route": "44.0,-92.0 45.0,-92.0", "cruise_altitude_ft": 4500}
    plan["wind"] = [{"altitude_ft": 4500, "from_true_deg": 360, "speed_kt": 109.99999}]
    for key in ("climb", "descent"):
        for each in [name for name in plan["aircraft"] if name.startswith(key)]:
            del plan["aircraft"][each]
    answer = page.post("/api/log", {"plan": plan})
    assert answer.status_code == 422
    assert answer.json()["error"]["code"] == "no-groundspeed"


def test_half_a_character_in_a_plan_is_told(page: Served) -> None:
    for plan in ('{"flight": {"name": "\\ud800"}}', '{"\\udc00": 1}'):
        answer = posted(page, "/api/log", f'{{"plan": {plan}}}')
        assert answer.json()["error"]["code"] == "half-a-character"


NAMES = (
    'a"b',
    "a\r\nset-cookie: x=1",
    "../../etc/passwd",
    "..",
    "con",
    "a\x00b",
    "é\u202eΩ",
    "`x`",
)


@pytest.mark.parametrize("name", NAMES, ids=range(len(NAMES)))
def test_no_name_leaves_the_header_of_a_download(page: Served, name: str) -> None:
    """Names of the flight, of an own point and of a point of the route, in every format."""
    bodies = (
        {**ROUTE, "name": name},
        {**ROUTE, "route": f"KRST '{name}'", "points": [{**POINT, "name": name}]},
        {**ROUTE, "route": f"KRST '{name}=44,-92'"},
    )
    made = 0
    for body in bodies:
        for each in FORMATS:
            answer = page.post(f"/api/export/{each}", body)
            answered_in_words(answer)
            if answer.status_code != 200:
                continue
            made += 1
            assert "set-cookie" not in answer.headers
            said = answer.headers["content-disposition"]
            assert said.isascii()
            assert said.count('"') == 2
            file = said.partition('filename="')[2].partition('"')[0]
            assert file.startswith("KRST-")
            assert not set(file) & set('/\\:*?<>|"\r\n\0')
    assert made >= len(FORMATS)


WORDS = (
    "%ED%A0%80",
    "%00",
    "%0d%0a",
    "%FF",
    "%F4%90%80%80",
    "%27" * 80,
    "%EF%BF%BF",
    "..",
    "1e400",
)


@pytest.mark.parametrize("word", WORDS)
def test_words_of_an_address_that_are_no_text(page: Served, word: str) -> None:
    for path in ("/api/find?text=", "/api/near?point=", "/page/", "/api/base/"):
        answer = page.client.get(path + word)
        assert answer.status_code in (200, 400, 404, 422), answer.text


NUMBERS = ("nan", "inf", "1e400", "9" * 400, "", "%00", "1_0", "0x10")


@pytest.mark.parametrize("number", NUMBERS, ids=range(len(NUMBERS)))
def test_numbers_of_an_address_that_are_none(page: Served, number: str) -> None:
    place = "/api/near/words?longitude_deg=0&latitude_deg="
    for path in (
        "/api/near?point=KRST&within_nm=",
        "/api/near?point=KRST&runway_ft=",
        "/api/base?west=0&north=50&east=10&south=",
        "/api/find?text=kr&most=",
        place,
        f"{place}0&altitude_ft=",
        f"{place}0&date=",
    ):
        answered_in_words(page.client.get(path + number))


HEAD = "POST /api/plot HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nContent-Type: application/json\r\n"
FRAMES = {
    "two lengths": "Content-Length: 2\r\nContent-Length: 3\r\n\r\n{}",
    "a length and chunks": "Content-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n",
    "less than nothing": "Content-Length: -5\r\n\r\n{}",
    "a length beyond all": f"Content-Length: {'9' * 18}\r\n\r\n{{}}",
    "no size of a chunk": "Transfer-Encoding: chunked\r\n\r\nzz\r\n{}",
    "packed": "Content-Encoding: gzip\r\nContent-Length: 4\r\n\r\n\x1f\x08\x08\x00",
    "two hosts": "Host: evil.example\r\nContent-Length: 2\r\n\r\n{}",
    "a folded host": " evil.example\r\nContent-Length: 2\r\n\r\n{}",
    "two tokens": "X-Plotter-Token: x\r\nContent-Length: 2\r\n\r\n{}",
}


@pytest.mark.parametrize("frame", FRAMES)
def test_a_request_that_is_framed_to_deceive_is_refused(page: Served, frame: str) -> None:
    port = int(page.url.rpartition(":")[2])
    token = "" if frame == "two tokens" else f"{TOKEN_HEADER}: {page.token}\r\n"
    sent = (HEAD.format(port=port) + token + FRAMES[frame]).encode("latin-1")
    with socket.create_connection(("127.0.0.1", port), timeout=30) as asking:
        asking.sendall(sent)
        status = int(asking.recv(65_536).split()[1])
    assert status in (400, 403, 413, 422)
    assert page.post("/api/plot", ROUTE).status_code == 200


@pytest.mark.parametrize("method", ["OPTIONS", "PUT", "DELETE", "TRACE", "PATCH", "FOO"])
def test_other_methods_are_refused_with_the_token_and_without(page: Served, method: str) -> None:
    assert httpx.request(method, f"{page.url}/api/plot").status_code == 403
    kind = {"content-type": "application/json"}
    answer = page.client.request(method, "/api/plot", content=b"{}", headers=kind)
    assert answer.status_code == 405


def test_a_fault_inside_is_told_in_the_one_shape_too() -> None:
    """A fault of the program itself: made here, for none is known."""
    from starlette.applications import Starlette

    from plotter.web import guard

    app = Starlette()
    guard.install(app)  # type: ignore[arg-type]
    handler = app.exception_handlers[Exception]
    answer = handler(None, ZeroDivisionError("secret"))  # type: ignore[arg-type]
    assert answer.status_code == 500
    assert json.loads(answer.body)["error"]["code"] == "inside"
    assert b"secret" not in answer.body


def test_a_bearing_of_hundreds_of_figures_is_answered_in_words(page: Served) -> None:
    asked = {"route": f"KRST ODI{'1' * 480}", "date": DAY}
    answer = page.post("/api/sheet", asked)
    assert answer.status_code == 200
    assert "has two bearings and distances" in answer.json()["error"]["message"]
