"""Packed content: plain, bounded, or refused."""

from __future__ import annotations

import gzip
import io
import zipfile
import zlib

import pytest

from plotter.datastore.download import unpacked
from plotter.errors import RefreshFault

PLAIN = b"id,ident\n" * 1000


def zipped(*names: str, content: bytes = PLAIN, method: int = zipfile.ZIP_DEFLATED) -> bytes:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", method) as archive:
        for name in names:
            archive.writestr(name, content)
    return made.getvalue()


@pytest.mark.parametrize(
    "content",
    [PLAIN, gzip.compress(PLAIN), zipped("a.txt"), zipped("../../a.txt")],
    ids=["plain", "gzip", "zip", "zip with a way out"],
)
def test_all_ways_lead_to_the_same(content: bytes) -> None:
    assert unpacked("towns", content, len(PLAIN)) == PLAIN


@pytest.mark.parametrize("pack", [gzip.compress, lambda c: zipped("a", content=c)])
def test_a_bomb_stays_packed(pack: object) -> None:
    bomb = pack(b"\0" * 50_000_000)  # type: ignore[operator]
    assert len(bomb) < 100_000
    with pytest.raises(RefreshFault, match="larger than 1 MB when unpacked"):
        unpacked("towns", bomb, 1_000_000)


def test_gzip_in_gzip_is_not_unpacked_twice() -> None:
    inner = gzip.compress(PLAIN)
    assert unpacked("towns", gzip.compress(inner), 10**6) == inner


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (gzip.compress(PLAIN)[:-3], "damaged"),
        (gzip.compress(PLAIN)[:30], "damaged"),
        (gzip.compress(PLAIN) + b"more", "something follows"),
        (b"\x1f\x8b" + b"x" * 50, "damaged"),
        (zipped("a.txt")[:-10], "damaged"),
        (zipped("a.txt")[:40], "damaged"),
        (zipped("a.txt", "b.txt"), "a zip of 2 files"),
        (zipped("a.txt").replace(zlib.compress(PLAIN)[4:9], b"\0" * 5), "damaged"),
        (zipped("a.txt", method=zipfile.ZIP_LZMA), "are deflated"),
        (zipped("a.txt", method=zipfile.ZIP_BZIP2), "are deflated"),
    ],
    ids=range(10),
)
def test_what_is_damaged_is_refused(content: bytes, words: str) -> None:
    with pytest.raises(RefreshFault, match=words):
        unpacked("towns", content, 10**6)
