"""What every table has in common: clean text, plain numbers, sorted rows, one way to write."""

from __future__ import annotations

import csv
import gzip
import io
import unicodedata
from collections.abc import Iterable, Sequence
from decimal import ROUND_HALF_EVEN, Decimal, InvalidOperation
from pathlib import Path

Row = dict[str, str]
Rows = list[Row]
KEPT_JOINERS = "\u200c\u200d"  # written inside words of some scripts


def read_csv(content: bytes) -> Rows:
    """The rows of a CSV table, plain or gzipped, as its makers wrote them."""
    if content[:2] == b"\x1f\x8b":
        content = gzip.decompress(content)
    return list(csv.DictReader(io.StringIO(content.decode("utf-8-sig"), newline="")))


def write_csv(path: Path, columns: Sequence[str], rows: Iterable[tuple[str, ...]]) -> int:
    """Write a sorted table (UTF-8, LF, header) and say how many rows it has."""
    ordered = sorted(rows)
    with path.open("w", encoding="utf-8", newline="") as handle:
        writer = csv.writer(handle, lineterminator="\n")
        writer.writerow(columns)
        writer.writerows(ordered)
    return len(ordered)


def text(value: str) -> str:
    """Text in composed form, without control and invisible characters, spaces made single."""
    kept = (
        " " if ch.isspace() else ch
        for ch in unicodedata.normalize("NFC", value)
        if ch.isspace() or ch in KEPT_JOINERS or not unicodedata.category(ch).startswith("C")
    )
    return " ".join("".join(kept).split())


def code(value: str) -> str:
    """An identifier, in capitals and without a space."""
    return "".join(text(value).upper().split())


def number(value: str | float, decimals: int) -> str:
    """A number without trailing zeros, at most so many decimals; empty stays empty.

    >>> number("-74.933690000", 6), number("0.0", 6), number("-0", 1), number("", 2)
    ('-74.93369', '0', '0', '')
    """
    if value == "":
        return ""
    try:
        exact = Decimal(str(value).strip())
    except InvalidOperation as fault:
        raise ValueError(f"{value!r} stands where a number is expected") from fault
    rounded = exact.quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_EVEN)
    shown = f"{rounded:f}"
    if "." in shown:
        shown = shown.rstrip("0").rstrip(".")
    return "0" if shown == "-0" else shown


def positive(value: str, decimals: int) -> str:
    """A size of which 0 or less can only mean unknown: then empty."""
    shown = number(value, decimals)
    return "" if shown == "" or float(shown) <= 0 else shown
