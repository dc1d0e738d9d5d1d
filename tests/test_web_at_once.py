"""Many at once: every address asked together with all others; those that hang hold up nobody."""

from __future__ import annotations

import socket
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from itertools import cycle, islice
from typing import Any

import pytest
from served import DAY, Served, serving_page

from plotter.exports import FORMATS
from plotter.web.guard import TOKEN_HEADER

Question = tuple[str, str, dict[str, Any]]
AT_ONCE = 200


def questions(page: Served, number: int) -> list[Question]:
    """One question to every address, each its own by a number: another route, another place."""
    new = page.get("/api/plan/new").json()
    middle = f"{44 + number / 100:.2f},-91.5"
    route = {"route": f"KRST {middle} KDLH", "date": DAY}
    flight = {**new["plan"]["flight"], "route": route["route"], "cruise_altitude_ft": 4500}
    plan = {**new["plan"], "flight": flight}
    reading = {"start": "KRST", "end": middle, "reading": "62.1", "course": "093M"}
    place = {"latitude_deg": 44 + number / 100, "longitude_deg": -91.5, "date": DAY}
    view = {"south": 43 + number, "west": -93, "north": 45 + number, "east": -91}
    asked: list[Question] = [
        ("GET", "/api/session", {}),
        ("GET", "/api/formats", {}),
        ("GET", "/api/plan/new", {}),
        ("GET", "/api/plan/forms", {}),
        ("GET", "/api/base/world", {}),
        ("GET", "/api/base", view),
        ("GET", "/api/find", {"text": "minn"[: 2 + number % 3]}),
        ("GET", "/api/near", {"point": middle}),
        ("GET", "/api/near/words", place),
        ("POST", "/api/plot", route),
        ("POST", "/api/sheet", route),
        ("POST", "/api/sheet", {**route, "plan": plan, "edit": {"kind": "reverse"}}),
        ("POST", "/api/log", {"plan": plan, "working": True}),
        ("POST", "/api/working", {"plan": plan, "row": 2 + number % 5, "column": "GS"}),
        ("POST", "/api/measure", {"readings": [reading], "date": DAY}),
        ("POST", "/api/plan/read", {"text": new["text"]}),
        ("POST", "/api/plan/write", {"text": new["text"], "plan": plan}),
    ]
    return [
        *asked,
        *(("POST", f"/api/export/{name}", {**route, "plan": plan}) for name in FORMATS),
    ]


def answer(page: Served, question: Question) -> tuple[int, bytes]:
    method, path, given = question
    sent = page.get(path, **given) if method == "GET" else page.post(path, given)
    return sent.status_code, sent.content


def test_every_address_of_the_page_is_among_the_questions(page: Served) -> None:
    described = set(page.get("/openapi.json").json()["paths"])
    asked = {path for _, path, _ in questions(page, 0)}
    assert {path.replace("{name}", "gpx") for path in described} <= asked


@pytest.mark.slow
def test_two_hundred_of_every_kind_at_once_are_each_as_if_alone(page: Served) -> None:
    sets = [questions(page, number) for number in range(10)]
    mixed = [each for same in zip(*sets, strict=True) for each in same]
    many = list(islice(cycle(mixed), max(AT_ONCE, len(mixed))))
    alone = {str(each): answer(page, each) for each in mixed}
    assert {status for status, _ in alone.values()} == {200}
    with ThreadPoolExecutor(40) as pool:
        answers = list(pool.map(lambda each: answer(page, each), many))
    different = [each for each, got in zip(many, answers, strict=True) if got != alone[str(each)]]
    assert different == []


def half_a_body(served: Served, port: int) -> bytes:
    head = (
        f"POST /api/sheet HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n{TOKEN_HEADER}: {served.token}\r\n"
        "Content-Type: application/json\r\n"
    )
    return f'{head}Content-Length: 100\r\n\r\n{{"route": "KR'.encode()


def test_twenty_that_hang_and_twenty_that_never_ask_hold_up_nobody() -> None:
    """Half a body, half a head, and silence, all kept open while every address is asked."""
    with serving_page() as served, ExitStack() as hanging:
        port = int(served.url.rpartition(":")[2])
        body = half_a_body(served, port)
        for sent in [body, body[:60], b""] * 20:
            slow = socket.create_connection(("127.0.0.1", port), timeout=60)
            hanging.enter_context(slow).sendall(sent)
        asked = questions(served, 1)
        with ThreadPoolExecutor(8) as pool:
            answers = list(pool.map(lambda each: answer(served, each), asked))
        assert {status for status, _ in answers} == {200}
