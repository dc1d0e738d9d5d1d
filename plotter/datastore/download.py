"""One file fetched from a public address: whole, bounded, taken up again where it broke off.

What has arrived lies in ``NAME.part``, and ``NAME.json`` says of which version of the file it is
(RFC 9110: an ETag that is not weak, else Last-Modified). The rest is asked for with ``Range`` and
``If-Range``, so the two halves of one file are never of two versions. Nothing here is used before
it was checked; these are scratch files, and a new run begins where the last one ended.
"""

from __future__ import annotations

import email.utils
import http.client
import io
import json
import re
import time
import urllib.error
import zipfile
import zlib
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from email.message import Message
from pathlib import Path
from typing import Any, BinaryIO, cast
from urllib.parse import urlsplit

from plotter import files
from plotter.datastore.connection import Watch, answer, printable
from plotter.errors import RefreshFault, WriteFault
from plotter.formats.zip_entries import open_entry

# Packed content made plain, never more of it than was agreed: a bomb stays packed.

GZIP, ZIP = b"\x1f\x8b", b"PK\x03\x04"


def unpacked(name: str, content: bytes, limit: int) -> bytes:
    """Plain bytes of a file that may be gzipped, or a zip of one file; at most ``limit`` of them.

    Raises RefreshFault where it is damaged or would be larger.
    """
    try:
        if content.startswith(GZIP):
            return _gunzipped(name, content, limit)
        return _unzipped(name, content, limit) if content.startswith(ZIP) else content
    except NotImplementedError as fault:
        raise RefreshFault(f"{name} cannot be unpacked: {fault}") from fault
    except (zlib.error, zipfile.BadZipFile, EOFError, RuntimeError) as fault:
        raise RefreshFault(f"{name} is packed and damaged: {fault}") from fault


def _gunzipped(name: str, content: bytes, limit: int) -> bytes:
    unpacker = zlib.decompressobj(wbits=31)
    plain = unpacker.decompress(content, limit + 1)
    if len(plain) > limit:
        raise _too_large(name, limit)
    if not unpacker.eof:
        raise EOFError("its end did not arrive")
    if unpacker.unused_data.strip(b"\0"):
        raise EOFError("something follows its end")
    return plain


def _unzipped(name: str, content: bytes, limit: int) -> bytes:
    """The one file of a zip; its name is never used for anything."""
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        files = [each for each in archive.infolist() if not each.is_dir()]
        if len(files) != 1:
            raise RefreshFault(f"{name} is a zip of {len(files)} files; one is expected")
        with open_entry(archive, files[0]) as handle:
            plain = handle.read(limit + 1)
    if len(plain) > limit:
        raise _too_large(name, limit)
    return plain


def _too_large(name: str, limit: int) -> RefreshFault:
    return RefreshFault(f"{name} is larger than {limit // 10**6} MB when unpacked")


CHUNK = 1 << 16
TAKEN_BACK = 1 << 16
"""What is fetched again before a broken end [bytes]: after a power cut it may never have reached
the disk."""
_RANGE = re.compile(r"bytes (\d+)-\d+/(\d+)", re.ASCII)
_OK, _PART, _SAME = 200, 206, 304
_NOT_TABLES = ("text/html", "application/xhtml+xml", "image/", "audio/", "video/")

Progress = Callable[[str, int], None]
"""Told the table's name and how many bytes of it have arrived."""


@dataclass(frozen=True, slots=True)
class Patience:
    """How long to wait [s] and how often to try."""

    silence_s: float = 30.0
    answer_s: float = 600.0
    tries: int = 3
    pause_s: float = 2.0


@dataclass(frozen=True, slots=True)
class Fetched:
    """A file that arrived whole: where it lies, its address, the date its server gives it."""

    path: Path
    address: str
    last_modified: str

    @property
    def date(self) -> str:
        """The server's date of the file as ``2026-08-22``; empty where it gives none that is one.

        >>> Fetched(Path("x"), "", "Sat, 22 Aug 2026 05:00:00 GMT").date
        '2026-08-22'
        """
        with suppress(ValueError, TypeError):
            return email.utils.parsedate_to_datetime(self.last_modified).date().isoformat()
        return ""


class _Broken(RefreshFault):
    """Worth another try: the connection or the server failed, what has arrived is good."""


class Download:
    """One file on its way into a folder."""

    def __init__(self, name: str, address: str, folder: Path, limit: int) -> None:
        self.name, self.address, self.limit = name, address, limit
        self.part = folder / f"{name}.part"
        self.notes = folder / f"{name}.json"
        self.host = urlsplit(address).netloc

    def fetch(self, patience: Patience, progress: Progress) -> Fetched:
        """The whole file; raises RefreshFault in words, WriteFault where the disk refuses."""
        for left in reversed(range(patience.tries)):
            try:
                return self._try(patience, progress)
            except _Broken:
                if not left:
                    raise
                time.sleep(patience.pause_s)
        raise AssertionError("there is at least one try")

    def forget(self) -> None:
        """Remove what has arrived, and what a killed run left of its notes."""
        files.clear_stale(self.notes)
        for path in (self.part, self.notes):
            with suppress(OSError):
                path.unlink()

    def _try(self, patience: Patience, progress: Progress) -> Fetched:
        held = self._held()
        with Watch(patience.answer_s) as watch:
            try:
                with answer(self.address, self._asking(held), watch, patience.silence_s) as reply:
                    fetched = self._take(reply, held, progress)
                    if watch.rang:
                        raise self._broken(_SLOW)
                    return fetched
            except (urllib.error.URLError, http.client.HTTPException, OSError, ValueError) as fault:
                raise self._broken(_words(fault, watch)) from fault
            except RefreshFault as fault:
                if watch.rang:
                    raise self._broken(_SLOW) from fault
                if fault.message.startswith(self.name):
                    raise
                raise RefreshFault(f"{self.name}: {fault.message}") from fault

    def _held(self) -> dict[str, Any]:
        """What is known of the part that has arrived; empty where nothing usable has."""
        try:
            held = json.loads(self.notes.read_text(encoding="utf-8"))
            size = self.part.stat().st_size
            if held["address"] == self.address and held["version"]:
                whole = held["length"] == size
                return cast(dict[str, Any], held | {"whole": whole, "size": size})
        except (OSError, ValueError, KeyError, TypeError):
            pass
        return {}

    def _asking(self, held: Mapping[str, Any]) -> dict[str, str]:
        if not held:
            return {}
        if held["whole"]:
            by = "If-None-Match" if held["version"].startswith('"') else "If-Modified-Since"
            return {by: held["version"]}
        start = max(0, held["size"] - TAKEN_BACK)
        return {"Range": f"bytes={start}-", "If-Range": held["version"]} if start else {}

    def _take(
        self, reply: http.client.HTTPResponse, held: Mapping[str, Any], progress: Progress
    ) -> Fetched:
        if reply.status == _SAME and held.get("whole"):
            return Fetched(self.part, self.address, held["last_modified"])
        if reply.status not in (_OK, _PART):
            kind = _Broken if reply.status >= 500 or reply.status == 429 else RefreshFault
            raise kind(
                f"{self.name}: {self.host} answered {reply.status} ({printable(reply.reason)})"
            )
        self._check_kind(reply.headers)
        start, length = self._extent(reply, held)
        if length > self.limit:
            raise self._too_large()
        if not start:
            self._note(reply.headers, length)
        arrived = self._write(reply, start, progress)
        if length and arrived != length:
            raise self._broken(f"it broke off after {arrived:,} of {length:,} bytes")
        self._note(reply.headers, arrived)
        return Fetched(self.part, self.address, reply.headers.get("Last-Modified", ""))

    def _check_kind(self, headers: Message) -> None:
        kind = headers.get_content_type() if headers.get("Content-Type") else ""
        if kind.startswith(_NOT_TABLES):
            raise RefreshFault(
                f"{self.name}: {self.host} sent {printable(kind)}, not a table; a network that "
                "wants a sign-in first does so"
            )
        if (packed := headers.get("Content-Encoding", "identity").lower()) != "identity":
            raise RefreshFault(
                f"{self.name}: {self.host} sent it packed as {printable(packed)}, unasked"
            )

    def _extent(self, reply: http.client.HTTPResponse, held: Mapping[str, Any]) -> tuple[int, int]:
        """Where the answer's first byte belongs, and the length of the whole file.

        One in chunks has none (0) but an end of its own, which ``http.client`` misses. An answer
        with neither may break off unseen, so it is refused.
        """
        if reply.status == _OK:
            if reply.chunked or reply.length is not None:
                return 0, reply.length or 0
            raise RefreshFault(f"{self.name}: {self.host} does not say how long the file is")
        found = _RANGE.fullmatch(reply.headers.get("Content-Range", "").strip())
        start = max(0, held.get("size", 0) - TAKEN_BACK)
        same = _version(reply.headers) in ("", held.get("version"))
        if not held or not found or int(found[1]) != start or not same:
            self.forget()
            raise self._broken("the rest that was asked for does not fit what has arrived")
        return start, int(found[2])

    def _note(self, headers: Message, length: int) -> None:
        notes = {
            "address": self.address,
            "version": _version(headers),
            "last_modified": headers.get("Last-Modified", ""),
            "length": length,
        }
        files.write_bytes(self.notes, json.dumps(notes).encode("utf-8"))

    def _write(self, reply: http.client.HTTPResponse, start: int, progress: Progress) -> int:
        """Append the answer at ``start``; gives the size of the file then."""
        with self._opened(start) as handle:
            while chunk := reply.read1(CHUNK):
                if handle.tell() + len(chunk) > self.limit:
                    raise self._too_large()
                try:
                    handle.write(chunk)
                except OSError as fault:
                    words = files.reason(fault)
                    raise WriteFault(f"{self.part} was not written: {words}") from fault
                progress(self.name, handle.tell())
            return handle.tell()

    def _opened(self, start: int) -> BinaryIO:
        try:
            handle = self.part.open("r+b" if start else "wb", buffering=0)
            handle.truncate(start)
            handle.seek(start)
        except OSError as fault:
            words = files.reason(fault)
            raise WriteFault(f"{self.part} was not written: {words}") from fault
        return cast(BinaryIO, handle)

    def _broken(self, words: str) -> _Broken:
        return _Broken(f"{self.name} from {self.host}: {words}")

    def _too_large(self) -> RefreshFault:
        self.forget()
        return RefreshFault(f"{self.name} is larger than {self.limit // 10**6} MB; not a table")


_SLOW = "the answer took too long"


def _version(headers: Message) -> str:
    """What names a version of a file for ``If-Range``: a strong ETag, else Last-Modified."""
    tag: str = headers.get("ETag", "").strip()
    if tag.startswith('"'):
        return tag
    modified: str = headers.get("Last-Modified", "")
    return modified.strip()


def _words(fault: Exception, watch: Watch) -> str:
    """Why there was no answer, in plain words."""
    reason = getattr(fault, "reason", fault)
    if watch.rang:
        return _SLOW
    if isinstance(reason, TimeoutError):
        return "nothing came for too long"
    if isinstance(reason, http.client.IncompleteRead | http.client.RemoteDisconnected):
        return "the connection broke off"
    return f"no connection ({printable(str(reason))})"
