"""KMZ: the KML of a plot in a zip archive, smaller and one file wherever it is sent.

Source: OGC 07-147r2, annex C (a KMZ is a zip archive whose main document is ``doc.kml``). The
archive's time is fixed at the earliest a zip can hold, and its system at one, so that the same
flight gives the same bytes; another version of zlib may pack the same content otherwise.
"""

from __future__ import annotations

import io
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from plotter.formats.kml import kml
from plotter.route.plot import Plot

MAIN_DOCUMENT = "doc.kml"
_NO_TIME = (1980, 1, 1, 0, 0, 0)
_UNIX = 3
_ORDINARY_FILE = 0o100644 << 16


def kmz(plot: Plot) -> bytes:
    """The KMZ of a plot: one ``doc.kml``, the same as the KML format's own file."""
    entry = ZipInfo(MAIN_DOCUMENT, date_time=_NO_TIME)
    entry.compress_type = ZIP_DEFLATED
    entry.create_system = _UNIX
    entry.external_attr = _ORDINARY_FILE
    packed = io.BytesIO()
    with ZipFile(packed, "w") as archive:
        archive.writestr(entry, kml(plot), compresslevel=9)
    return packed.getvalue()
