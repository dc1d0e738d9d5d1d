"""Who may ask the planning page, how much, and for how long."""

from __future__ import annotations

import socket
from collections.abc import Iterator

import httpx
import pytest
from served import ROUTE, Served, serving_page

from plotter.web.guard import MOST_BYTES, TOKEN_HEADER, Guarding

HEADERS = {"content-type": "application/json"}


@pytest.mark.parametrize(
    "host",
    ["evil.example", "evil.example:{port}", "127.0.0.1", "127.0.0.1:1", "", "127.0.0.1.:{port}"],
)
def test_a_site_whose_name_leads_here_is_refused(page: Served, host: str) -> None:
    port = page.url.rpartition(":")[2]
    answer = page.client.get("/", headers={"host": host.format(port=port)})
    assert answer.status_code == 403
    assert answer.json()["error"]["code"] == "host"


def test_both_names_of_this_machine_are_the_page(page: Served) -> None:
    port = page.url.rpartition(":")[2]
    assert page.client.get("/", headers={"host": f"localhost:{port}"}).status_code == 200


@pytest.mark.parametrize("origin", ["https://evil.example", "null", "http://127.0.0.1:1"])
def test_another_origin_is_refused_for_everything(page: Served, origin: str) -> None:
    for answer in (
        page.client.get("/api/session", headers={"origin": origin}),
        page.client.post("/api/plot", json=ROUTE, headers={"origin": origin}),
    ):
        assert answer.status_code == 403
        assert answer.json()["error"]["code"] == "origin"
        assert "access-control-allow-origin" not in answer.headers


def test_one_foreign_origin_among_several_is_enough(page: Served) -> None:
    foreign = ("origin", "https://evil.example")
    for both in ([("origin", page.url), foreign], [foreign, ("origin", page.url)]):
        assert page.client.get("/api/session", headers=both).status_code == 403


def test_its_own_origin_is_let_through(page: Served) -> None:
    answer = page.client.post("/api/plot", json=ROUTE, headers={"origin": page.url})
    assert answer.status_code == 200


def test_a_link_from_elsewhere_opens_the_page_but_a_script_there_reads_nothing(
    page: Served,
) -> None:
    link = {"sec-fetch-site": "cross-site", "sec-fetch-mode": "navigate"}
    script = {"sec-fetch-site": "cross-site", "sec-fetch-mode": "no-cors"}
    assert page.client.get("/", headers=link).status_code == 200
    for path in ("/api/session", "/api/near?point=KRST", "/page/start.js", "/openapi.json"):
        assert page.client.get(path, headers=link).status_code == 403
    assert page.client.post("/api/plot", json=ROUTE, headers=link).status_code == 403
    assert page.client.get("/page/start.js", headers=script).status_code == 403


@pytest.mark.parametrize("token", ["", "wrong", "ü"])
def test_without_the_token_nothing_is_posted(page: Served, token: str) -> None:
    sent = {TOKEN_HEADER: token.encode("utf-8")}
    answer = httpx.post(f"{page.url}/api/plot", json=ROUTE, headers=sent)
    assert answer.status_code == 403
    assert answer.json()["error"]["code"] == "token"


def test_each_start_has_a_token_of_its_own() -> None:
    assert Guarding.of(["127.0.0.1"], 1).token != Guarding.of(["127.0.0.1"], 1).token


def test_the_token_stands_in_the_page_and_in_the_session(page: Served) -> None:
    assert page.token in page.client.get("/").text
    assert page.get("/api/session").json() == {"token": page.token}


def test_only_json_is_taken(page: Served) -> None:
    kinds = {"content-type": "text/plain"}
    answer = page.client.post("/api/plot", content=b"{}", headers=kinds)
    assert answer.status_code == 415


@pytest.mark.parametrize("chunked", [False, True])
def test_a_body_that_is_too_large_is_refused(page: Served, chunked: bool) -> None:
    def parts() -> Iterator[bytes]:
        for _ in range(MOST_BYTES // 50_000 + 2):
            yield b" " * 50_000

    content = parts() if chunked else b"".join(parts())
    with httpx.Client(headers={TOKEN_HEADER: page.token}) as client:
        try:
            answer = client.post(f"{page.url}/api/plot", content=content, headers=HEADERS)
        except httpx.WriteError:
            return  # refused before all of it was sent
    assert answer.status_code == 413
    assert answer.json()["error"]["code"] == "too-large"


@pytest.mark.parametrize("path", ["/", "/page/page.css", "/api/session", "/nothing"])
def test_every_answer_says_what_it_may_not_be_used_for(page: Served, path: str) -> None:
    headers = page.client.get(path).headers
    policy = headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "frame-ancestors 'none'" in policy
    assert "http" not in policy
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "no-referrer"
    assert headers["cross-origin-resource-policy"] == "same-origin"
    assert headers["cache-control"]
    assert "server" not in headers


def test_tiles_that_were_asked_for_open_the_policy_for_pictures_alone() -> None:
    with serving_page(tiles="https://tiles.example/{z}/{x}/{y}.png") as served:
        policy = served.client.get("/").headers["content-security-policy"]
    assert "img-src 'self' data: https://tiles.example;" in policy
    assert policy.count("https://") == 1


def test_a_body_that_never_comes_is_given_up_and_holds_up_nobody() -> None:
    with serving_page(longest_s=0.5) as served:
        port = int(served.url.rpartition(":")[2])
        with socket.create_connection(("127.0.0.1", port), timeout=30) as slow:
            head = (
                f"POST /api/plot HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n"
                f"{TOKEN_HEADER}: {served.token}\r\nContent-Type: application/json\r\n"
                'Content-Length: 100\r\n\r\n{"route": "KR'
            )
            slow.sendall(head.encode())
            assert served.post("/api/plot", ROUTE).status_code == 200
            assert b" 408 " in slow.recv(200)


def test_a_body_that_is_cut_off_hurts_nobody(page: Served) -> None:
    port = int(page.url.rpartition(":")[2])
    for _ in range(5):
        with socket.create_connection(("127.0.0.1", port), timeout=30) as broken:
            broken.sendall(b"POST /api/plot HTTP/1.1\r\nContent-Length: 99\r\n\r\n{")
    assert page.post("/api/plot", ROUTE).status_code == 200


def test_what_is_not_http_hurts_nobody(page: Served) -> None:
    port = int(page.url.rpartition(":")[2])
    with socket.create_connection(("127.0.0.1", port), timeout=30) as broken:
        broken.sendall(b"\x16\x03\x01" + b"\x00" * 200)
        broken.shutdown(socket.SHUT_WR)
        broken.recv(100)
    assert page.post("/api/plot", ROUTE).status_code == 200
