"""Packed content made plain, never more of it than was agreed: a bomb stays packed."""

from __future__ import annotations

import io
import zipfile
import zlib

from plotter.errors import RefreshFault
from plotter.formats.zip_entries import open_entry

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
