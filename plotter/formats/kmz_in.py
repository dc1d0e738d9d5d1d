"""KMZ opened: the one KML document inside a zip archive, unpacked as it is read.

Source: OGC 07-147r2, annex C. Nothing is unpacked to the disk and nothing but that document is
read, so paths, links and archives within the archive do no harm. Bounded are the archive, its list
of contents, and the unpacked bytes, by count and in proportion to the packed ones.
"""

from __future__ import annotations

import io
import struct
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from typing import IO
from zipfile import BadZipFile, ZipFile

from plotter.formats.incoming import Contents, Source
from plotter.formats.kml_in import read_kml
from plotter.formats.zip_entries import open_entry

MOST_PACKED_BYTES = 64_000_000
MOST_LIST_BYTES = 1_000_000
"""Of the archive's list of contents: some ten thousand files."""
MOST_TIMES_PACKED = 200
"""KML packs to a fifth or a twentieth; an archive of nothing but zeros to a thousandth."""
FREE_BYTES = 1_000_000
"""Unpacked bytes that are read whatever the proportion."""

_END, _END_64 = b"PK\x05\x06", b"PK\x06\x07"
_END_BYTES, _END_64_BYTES, _LONGEST_COMMENT = 22, 20, 0xFFFF


def read_kmz(stream: IO[bytes], contents: Contents) -> None:
    """Read the KML of an archive into its contents; raises FileFault for what has none."""
    with _refused(contents):
        _check_list(stream, contents)
        with ZipFile(stream) as archive:
            name = _document(archive, contents)
            packed = archive.getinfo(name).compress_size
            with open_entry(archive, archive.getinfo(name)) as unpacked:
                read_kml(_Bounded(unpacked, packed, contents), contents)


@contextmanager
def _refused(contents: Contents) -> Iterator[None]:
    """The faults of a broken archive, in words."""
    try:
        yield
    except (BadZipFile, EOFError, zlib.error, struct.error, UnicodeDecodeError, ValueError):
        words = "is not a whole zip archive; export it anew"
        raise contents.fault(words) from None
    except (NotImplementedError, RuntimeError):
        words = "is packed or locked in a way that is not read; save the KML itself"
        raise contents.fault(words) from None


def _check_list(stream: IO[bytes], contents: Contents) -> None:
    """Refuse an archive whose list of contents alone would fill the memory."""
    size = stream.seek(0, io.SEEK_END)
    if size > MOST_PACKED_BYTES:
        raise contents.fault(f"is over {MOST_PACKED_BYTES // 1_000_000} MB; cut it down")
    tail_at = max(0, size - _LONGEST_COMMENT - _END_BYTES - _END_64_BYTES)
    stream.seek(tail_at)
    tail = stream.read()
    at = tail.rfind(_END)
    if at < 0:
        raise BadZipFile
    (list_bytes,) = struct.unpack_from("<L", tail, at + 12)
    if _END_64 in tail or list_bytes > MOST_LIST_BYTES:
        raise contents.fault("is an archive of too many files; save the KML itself")
    stream.seek(0)


def _document(archive: ZipFile, contents: Contents) -> str:
    """The main document: ``doc.kml``, or the first KML of the archive."""
    names = [name for name in archive.namelist() if name.lower().endswith(".kml")]
    if not names:
        raise contents.fault("holds no KML document")
    if len(names) > 1:
        contents.pass_over("KML document", len(names) - 1)
    return "doc.kml" if "doc.kml" in names else names[0]


class _Bounded:
    """A stream that refuses to give more than a packed size can honestly hold."""

    def __init__(self, stream: Source, packed: int, contents: Contents) -> None:
        self._stream = stream
        self._most = FREE_BYTES + packed * MOST_TIMES_PACKED
        self._contents = contents
        self._given = 0

    def read(self, size: int = -1, /) -> bytes:
        """The next bytes; raises FileFault past the limit."""
        chunk = self._stream.read(size)
        self._given += len(chunk)
        if self._given > self._most:
            words = f"unpacks to more than {MOST_TIMES_PACKED} times its size; it is not read"
            raise self._contents.fault(words)
        return chunk
