"""One file from a server that breaks off, lies, drips, leads elsewhere, or sends something else."""

from __future__ import annotations

import json
import socket
from collections.abc import Iterator
from pathlib import Path

import pytest
from loopback import Server, drip_body, drip_head, in_chunks, loopback, sending, tag, to

from plotter.datastore import download as module
from plotter.datastore.download import Download, Fetched, Patience
from plotter.errors import RefreshFault, WriteFault

CONTENT = bytes(range(256)) * 1200
"""Longer than what is fetched again before a broken end."""
SHORT = Patience(silence_s=0.5, answer_s=1.0, tries=1, pause_s=0.0)
TWICE = Patience(silence_s=0.5, answer_s=5.0, tries=2, pause_s=0.0)


@pytest.fixture
def server() -> Iterator[Server]:
    with loopback() as made:
        yield made


def fetch(
    address: str, folder: Path, patience: Patience = SHORT, limit: int = 10**6
) -> tuple[bytes, Fetched]:
    done = Download("runways", address, folder, limit).fetch(patience, lambda *_: None)
    return done.path.read_bytes(), done


def test_a_whole_file_with_its_date(server: Server, tmp_path: Path) -> None:
    seen: list[int] = []
    address = server.put("a.csv", CONTENT)
    done = Download("runways", address, tmp_path, 10**6).fetch(SHORT, lambda _, n: seen.append(n))
    assert done.path.read_bytes() == CONTENT
    assert (done.date, done.address) == ("2026-08-22", address)
    assert seen[-1] == len(CONTENT)
    assert server.asked[0][1]["accept-encoding"] == "identity"


@pytest.mark.parametrize("said", ["yesterday", "", "Sat, 99 Aug 2026 05:00:00 GMT"])
def test_a_date_that_is_none(said: str) -> None:
    assert Fetched(Path("a"), "", said).date == ""


def test_a_chunked_file(server: Server, tmp_path: Path) -> None:
    assert fetch(server.put("a", CONTENT, in_chunks()), tmp_path)[0] == CONTENT


@pytest.mark.parametrize(
    "trick",
    [sending(cut=0.9), in_chunks(end=b""), in_chunks(end=b"", cut=0.5)],
    ids=["length", "chunks", "half"],
)
def test_what_breaks_off_is_never_taken_for_whole(
    server: Server, tmp_path: Path, trick: object
) -> None:
    with pytest.raises(RefreshFault, match=r"runways from 127.0.0.1:\d+: .*broke off"):
        fetch(server.put("a", CONTENT, trick), tmp_path)  # type: ignore[arg-type]


def test_it_is_taken_up_again_where_it_broke_off(server: Server, tmp_path: Path) -> None:
    address = server.put("a", CONTENT, sending(cut=0.9))
    assert fetch(address, tmp_path, TWICE)[0] == CONTENT
    again = server.asked[1][1]
    start = int(0.9 * len(CONTENT)) - module.TAKEN_BACK
    assert (again["range"], again["if-range"]) == (f"bytes={start}-", tag(CONTENT))


def test_a_later_run_goes_on_too(server: Server, tmp_path: Path) -> None:
    address = server.put("a", CONTENT, sending(cut=0.9))
    with pytest.raises(RefreshFault):
        fetch(address, tmp_path)
    assert fetch(address, tmp_path)[0] == CONTENT
    assert "range" in server.asked[1][1]


def test_a_file_that_changed_meanwhile_is_fetched_anew(server: Server, tmp_path: Path) -> None:
    with pytest.raises(RefreshFault):
        fetch(server.put("a", CONTENT, sending(cut=0.9)), tmp_path)
    newer = CONTENT[::-1]
    assert fetch(server.put("a", newer), tmp_path)[0] == newer


def test_a_whole_file_is_not_fetched_twice(server: Server, tmp_path: Path) -> None:
    address = server.put("a", CONTENT)
    fetch(address, tmp_path)
    content, done = fetch(address, tmp_path)
    assert content == CONTENT
    assert server.asked[1][1]["if-none-match"] == tag(CONTENT)
    assert done.date == "2026-08-22"


def test_another_address_never_completes_it(server: Server, tmp_path: Path) -> None:
    with pytest.raises(RefreshFault):
        fetch(server.put("a", CONTENT, sending(cut=0.9)), tmp_path)
    assert fetch(server.put("b", CONTENT[::-1]), tmp_path)[0] == CONTENT[::-1]
    assert "range" not in server.asked[1][1]


@pytest.mark.parametrize("notes", [b"{", b"[]", b"{}", b'{"address": 1}', b"\xff"])
def test_notes_that_are_damaged_are_as_none(server: Server, tmp_path: Path, notes: bytes) -> None:
    (tmp_path / "runways.part").write_bytes(b"something else")
    (tmp_path / "runways.json").write_bytes(notes)
    assert fetch(server.put("a", CONTENT), tmp_path)[0] == CONTENT


@pytest.mark.parametrize(
    "changed",
    [
        {"Content_Range": "bytes 5-9/10"},
        {"Content_Range": "lots"},
        {"Content_Range": None},
        {"ETag": '"another"'},
    ],
)
def test_a_rest_that_does_not_fit_is_thrown_away(
    server: Server, tmp_path: Path, changed: dict[str, str | None]
) -> None:
    start = int(0.9 * len(CONTENT)) - module.TAKEN_BACK
    fits = {"Content_Range": f"bytes {start}-{len(CONTENT) - 1}/{len(CONTENT)}"}
    rest = sending(206, body=CONTENT[start:], **({"ETag": tag(CONTENT)} | fits | changed))
    address = server.put("a", CONTENT, sending(cut=0.9), rest)
    with pytest.raises(RefreshFault, match="does not fit what has arrived"):
        fetch(address, tmp_path, TWICE)
    assert fetch(address, tmp_path)[0] == CONTENT


def test_a_weak_name_of_a_version_joins_nothing(server: Server, tmp_path: Path) -> None:
    """RFC 9110, 13.1.5: If-Range wants a strong validator."""
    weak = sending(cut=0.9, ETag='W/"x"', Last_Modified=None)
    address = server.put("a", CONTENT, weak)
    assert fetch(address, tmp_path, TWICE)[0] == CONTENT
    assert "range" not in server.asked[1][1]


def test_a_wrong_length_is_no_file(server: Server, tmp_path: Path) -> None:
    longer = sending(Content_Length=str(len(CONTENT) + 5))
    with pytest.raises(RefreshFault, match="broke off"):
        fetch(server.put("a", CONTENT, longer), tmp_path)
    none = sending(Content_Length=None, Connection="close")
    with pytest.raises(RefreshFault, match="does not say how long"):
        fetch(server.put("b", CONTENT, none), tmp_path)


@pytest.mark.parametrize("trick", [sending(), in_chunks()], ids=["said", "unsaid"])
def test_more_than_was_agreed_is_refused(server: Server, tmp_path: Path, trick: object) -> None:
    address = server.put("a", CONTENT, trick)  # type: ignore[arg-type]
    with pytest.raises(RefreshFault, match="larger than 0 MB"):
        fetch(address, tmp_path, limit=100_000)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("trick", "words"),
    [
        (sending(500), "answered 500"),
        (sending(404), "answered 404"),
        (sending(Content_Type="text/html; charset=utf-8"), "sent text/html, not a table"),
        (sending(Content_Encoding="gzip"), "packed as gzip, unasked"),
        (to("http://127.0.0.1:9/elsewhere"), "sends us to another one"),
        (to("https://example.org/a"), "sends us to another one"),
        (to("file:///etc/hostname"), "is not allowed"),
        (to("/a"), "answered 302"),
        (lambda handler, _: handler.send_error(403, "No\x1b[2Jno"), r"answered 403 \(No \[2Jno\)"),
        (drip_head, "took too long"),
        (drip_body, "took too long"),
        (lambda handler, _: handler.wfile.write(b"SSH-2.0\r\n\r\n"), "no connection"),
        (lambda handler, _: handler.connection.close(), "runways from"),
    ],
)
def test_a_server_that_misbehaves_is_a_fault_in_words(
    server: Server, tmp_path: Path, trick: object, words: str
) -> None:
    address = server.put("a", CONTENT, *[trick] * 9)  # type: ignore[list-item]
    with pytest.raises(RefreshFault, match=words) as caught:
        fetch(address, tmp_path)
    assert caught.value.message.startswith("runways")


def test_silence_is_not_waited_out(tmp_path: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as listener:
        address = f"http://127.0.0.1:{listener.getsockname()[1]}/a"
        with pytest.raises(RefreshFault, match="nothing came for too long"):
            fetch(address, tmp_path)


def test_no_server_at_all(tmp_path: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as listener:
        address = f"http://127.0.0.1:{listener.getsockname()[1]}/a"
    with pytest.raises(RefreshFault, match="no connection"):
        fetch(address, tmp_path)


def test_a_redirect_within_the_server_is_followed(server: Server, tmp_path: Path) -> None:
    server.put("b", CONTENT)
    assert fetch(server.put("a", b"", to("/b")), tmp_path)[0] == CONTENT


def test_a_fault_of_the_server_is_worth_another_try(server: Server, tmp_path: Path) -> None:
    assert fetch(server.put("a", CONTENT, sending(503)), tmp_path, TWICE)[0] == CONTENT
    with pytest.raises(RefreshFault, match="answered 404"):
        fetch(server.put("b", CONTENT, sending(404)), tmp_path, TWICE)


def test_a_disk_that_refuses(server: Server, tmp_path: Path) -> None:
    (tmp_path / "runways.part").mkdir()
    with pytest.raises(WriteFault, match="a folder has that name"):
        fetch(server.put("a", CONTENT), tmp_path)


def test_what_is_noted_is_what_the_server_said(server: Server, tmp_path: Path) -> None:
    address = server.put("a", CONTENT)
    fetch(address, tmp_path)
    notes = json.loads((tmp_path / "runways.json").read_text(encoding="utf-8"))
    assert notes["version"] == tag(CONTENT)
    assert (notes["address"], notes["length"]) == (address, len(CONTENT))
