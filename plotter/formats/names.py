"""Names made safe: for a document (any reader can hold them) and for a file (any disk can)."""

from __future__ import annotations

import re
import unicodedata

from plotter.errors import NameFault
from plotter.messages import Message, message

NAME_LIMIT = 300
"""Characters kept of a waypoint's name; what is longer is cut and marked with an ellipsis."""
UNNAMED = "unnamed"
FILE_NAME_LIMIT_BYTES = 100
"""UTF-8 bytes of a file name before its suffix: disks take 255, a temporary's own part is short."""

DIRECTION_ORDERS = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
"""Characters that order the writing direction of all that follows: embeddings, overrides and
isolates, with their ends (Unicode Standard Annex 9, section 2)."""
DIRECTION_MARKS = "\u061c\u200e\u200f"
"""Letters without a shape that only have a direction (the same, section 2.6)."""
# What XML 1.0 (section 2.2, production Char) and a terminal cannot hold, white space apart.
_CONTROL = r"\x00-\x08\x0e-\x1b\x7f-\x84\x86-\x9f"
_IMPOSSIBLE = f"{_CONTROL}\\ud800-\\udfff\\ufdd0-\\ufdef\\ufffe\\uffff"
_GONE = re.compile(f"[{_IMPOSSIBLE}{DIRECTION_ORDERS}{DIRECTION_MARKS}]")
# Separators and what Windows forbids: Microsoft, "Naming Files, Paths, and Namespaces".
_FORBIDDEN = re.compile(r'[<>:"/\\|?*]+')
_RESERVED = re.compile(r"(CON|PRN|AUX|NUL|CONIN\$|CONOUT\$|(COM|LPT)[0-9¹²³])\s*(?=\.|$)", re.I)


def clean_name(text: str, limit: int = NAME_LIMIT) -> str:
    """A name that XML and JSON can hold: hostile characters stay, impossible ones go.

    Control characters, lone surrogates, non-characters and what turns the writing direction (a name
    could read as another one) are removed, white space (line and paragraph separators too) is
    folded to single spaces, the rest is composed (NFC) and cut at ``limit`` characters. Nothing is
    escaped here: that is each writer's own duty.

    >>> clean_name("  Old\\x00 mill\\u2028<b> "), clean_name("\\x07"), clean_name("exe\\u202egpx")
    ('Old mill <b>', '', 'exegpx')
    """
    folded = " ".join(unicodedata.normalize("NFC", _GONE.sub("", text)).split())
    if len(folded) > limit:
        folded = folded[: limit - 1] + "…"
    return folded


def shown_name(text: str) -> str:
    """A cleaned name for a place in a document that may not be left empty.

    >>> shown_name("Old mill"), shown_name("\\x07")
    ('Old mill', 'unnamed')
    """
    return clean_name(text) or UNNAMED


def clean_text(text: str) -> str:
    """Longer text, cleaned as a name is but not cut; empty stays empty.

    >>> clean_text("one\\ntwo\\x00")
    'one two'
    """
    return clean_name(text, limit=1_000_000)


def file_name(text: str) -> str:
    """A file name (no suffix) made of any text, usable on every common disk and never a path.

    Separators and the characters Windows forbids become ``-``; invisible characters, leading
    dots and trailing dots and spaces go; a reserved device name gets ``_``; a leading ``-`` too,
    lest it be read as an option. Source: Microsoft, "Naming Files, Paths, and Namespaces".

    >>> file_name("KAAA/KBBB"), file_name("../../etc"), file_name("con"), file_name("..")
    ('KAAA-KBBB', '_-..-etc', 'con_', 'route')
    """
    visible = "".join(c for c in clean_text(text) if unicodedata.category(c) != "Cf")
    safe = unicodedata.normalize("NFC", _FORBIDDEN.sub("-", visible)).strip(" ").lstrip(". ")
    safe = _RESERVED.sub(r"\1_", safe.rstrip(". "), count=1) if _RESERVED.match(safe) else safe
    if safe.startswith("-"):
        safe = "_" + safe
    return _cut(safe, FILE_NAME_LIMIT_BYTES).rstrip(". ") or "route"


def _cut(text: str, limit_bytes: int) -> str:
    return text.encode("utf-8")[:limit_bytes].decode("utf-8", errors="ignore")


def default_name(first: str, last: str) -> str:
    """The file name of a route nobody named: its first and its last point.

    >>> default_name("KAAA", "KBBB"), default_name("a/b", "x" * 200)[:8]
    ('KAAA-KBBB', 'a-b-xxxx')
    """
    half = FILE_NAME_LIMIT_BYTES // 2 - 1
    return file_name(f"{_cut(clean_name(first), half)}-{_cut(clean_name(last), half)}")


def typed_file_name(text: str) -> str:
    """A file name as the pilot typed it, composed (NFC) and otherwise taken as it is.

    Raises :class:`~plotter.errors.NameFault`, with a name that would do, where it cannot be one.

    >>> typed_file_name("sunday trip")
    'sunday trip'
    >>> typed_file_name("sunday/trip")
    Traceback (most recent call last):
    plotter.errors.NameFault: name 'sunday/trip' must not contain '/'; use 'sunday-trip'
    """
    composed = unicodedata.normalize("NFC", text)
    proposal = file_name(composed)
    if proposal == composed:
        return composed
    shown = text if len(text) <= 60 else text[:59] + "…"
    raise NameFault(
        "name", candidates=(proposal,), name=shown, reason=_reason(composed), proposal=proposal
    )


def _reason(text: str) -> Message:
    forbidden = _FORBIDDEN.search(text)
    if not text.strip(". "):
        return message("name.empty")
    if forbidden:
        return message("name.forbidden", characters=forbidden[0])
    if _RESERVED.match(text):
        return message("name.reserved")
    if _bytes(text) > FILE_NAME_LIMIT_BYTES:
        return message("name.long", limit_bytes=FILE_NAME_LIMIT_BYTES)
    if text.startswith("-"):
        return message("name.dash")
    if text.lstrip(". ") != text.rstrip(". "):
        return message("name.dots")
    return message("name.invisible")


def _bytes(text: str) -> int:
    return len(text.encode("utf-8", "replace"))
