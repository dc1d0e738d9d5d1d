"""Entries of a zip archive, opened only where they are packed as files are sent: deflated or plain.

Other methods need more memory to unpack than the size of the archive tells, and their faults are
no faults of a zip.
"""

from __future__ import annotations

from typing import IO
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo


def open_entry(archive: ZipFile, entry: ZipInfo) -> IO[bytes]:
    """A stream of an entry's plain bytes; raises NotImplementedError for any other packing."""
    if entry.compress_type not in (ZIP_STORED, ZIP_DEFLATED):
        raise NotImplementedError("a zip is read where its files are deflated; make it again so")
    return archive.open(entry)
