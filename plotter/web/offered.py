"""The formats that the page offers: those of the registry, as what kind of file each is."""

from __future__ import annotations

import re
from typing import Any
from urllib.parse import quote

from plotter.exporting import FORMATS

MEDIA_TYPES = {
    ".html": "text/html; charset=utf-8",
    ".gpx": "application/gpx+xml",
    ".kml": "application/vnd.google-earth.kml+xml",
    ".kmz": "application/vnd.google-earth.kmz",
    ".geojson": "application/geo+json",
    ".gpkg": "application/geopackage+sqlite3",
    ".csv": "text/csv; charset=utf-8",
    ".pdf": "application/pdf",
}
"""Registered by IANA (Media Types registry), ``application/gpx+xml`` apart, which is in use."""


def media_type(suffix: str) -> str:
    """The media type of a file by its suffix.

    >>> media_type(".gpx"), media_type(".new")
    ('application/gpx+xml', 'application/octet-stream')
    """
    return MEDIA_TYPES.get(suffix, "application/octet-stream")


def disposition(name: str) -> str:
    """The header that hands over a file under its name (RFC 6266), letters beyond ASCII too.

    >>> disposition("KRST-KLSE.gpx")
    'attachment; filename="KRST-KLSE.gpx"'
    >>> print(disposition("KRST-é.gpx"))
    attachment; filename="KRST-_.gpx"; filename*=UTF-8''KRST-%C3%A9.gpx
    """
    plain = re.sub(r'[^ -~]|["\\]', "_", name)
    whole = "" if plain == name else f"; filename*=UTF-8''{quote(name, safe='')}"
    return f'attachment; filename="{plain}"{whole}'


def offered() -> list[dict[str, Any]]:
    """Name, suffix, title and what is left out of each format, in the registry's order."""
    return [
        {"name": made.name, "suffix": made.suffix, "title": made.title, "loses": made.loses}
        for made in FORMATS.values()
    ]
