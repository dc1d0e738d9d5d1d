"""Rows of the datasets' own tables, each checked by the rules of its columns before it is used.

What comes from a network is hostile until it is proven: a column that is missing, a row cut short,
a number that is none or lies where nothing can lie, a key used twice. A row that breaks a rule is
a finding; more findings than :data:`MOST_FAULTY` and the whole table is refused.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

from plotter.datastore.making.tables import Row, Rows
from plotter.errors import RefreshFault

MOST_FAULTY = 0.001
"""The share of faulty rows up to which they are left out and named: slips of single editors (the
tables of August 2026 have none); more is a table of another kind, or a broken one."""
MOST_ROWS = 500_000
"""Five times the rows of the largest table of 2026."""
MOST_LETTERS = 500
"""The longest field of 2026 in a column that is used has 108 letters."""
MOST_SHOWN = 10
KINDS = (
    *("small_airport", "medium_airport", "large_airport"),
    *("heliport", "seaplane_base", "balloonport", "closed"),
)
"""The kinds of airport that the tables of 2026 know."""

Check = Callable[[str], str]
"""What is wrong with a field, in words; empty where nothing is."""


def within(low: float, high: float, *, empty: bool = True) -> Check:
    """A number from ``low`` to ``high``; ``empty`` says whether nothing may stand there.

    >>> within(-90, 90)("95.2")
    'is not a number from -90 to 90'
    """

    def check(value: str) -> str:
        if not value and empty:
            return ""
        try:
            fits = low <= float(value) <= high
        except ValueError:
            fits = False
        return "" if fits and "_" not in value else f"is not a number from {low:g} to {high:g}"

    return check


def one_of(*words: str) -> Check:
    """One of these words."""
    return lambda value: "" if value in words else f"is not one of {', '.join(map(repr, words))}"


def filled(value: str) -> str:
    """Anything but nothing."""
    return "" if value.strip() else "is empty"


def anything(_: str) -> str:
    """Text, which is cleaned later."""
    return ""


LATITUDE, LONGITUDE = within(-90, 90, empty=False), within(-180, 180, empty=False)
HEIGHT_FT = within(-2_000, 30_000)
"""From below the Dead Sea's shore (-1,400 ft) to above the highest mountain (29,032 ft)."""
FLAG = one_of("0", "1", "")
# A heading that no compass has, a size of 0, are left out later and counted, not refused.
NUMBER = within(-9_999, 9_999)


@dataclass(frozen=True, slots=True)
class Rules:
    """What one table must look like: the column that is a key, and a check for each column used."""

    key: str
    columns: Mapping[str, Check] = field(default_factory=dict)


RULES: Mapping[str, Rules] = {
    "airports": Rules(
        "ident",
        {
            "id": within(1, 10**9, empty=False),
            "ident": filled,
            "type": one_of(*KINDS),
            "name": anything,
            "latitude_deg": LATITUDE,
            "longitude_deg": LONGITUDE,
            "elevation_ft": HEIGHT_FT,
            "iso_country": filled,
            "iso_region": filled,
            "municipality": anything,
            **dict.fromkeys(("icao_code", "iata_code", "gps_code", "local_code"), anything),
        },
    ),
    "runways": Rules(
        "id",
        {
            "id": within(1, 10**9, empty=False),
            "airport_ident": filled,
            "length_ft": within(-1, 100_000),
            "width_ft": within(-1, 100_000),
            "surface": anything,
            "lighted": FLAG,
            "closed": FLAG,
            "le_ident": anything,
            "he_ident": anything,
            "le_heading_degT": NUMBER,
            "he_heading_degT": NUMBER,
            "le_latitude_deg": within(-90, 90),
            "he_latitude_deg": within(-90, 90),
            "le_longitude_deg": within(-180, 180),
            "he_longitude_deg": within(-180, 180),
        },
    ),
    "frequencies": Rules(
        "id",
        {
            "id": within(1, 10**9, empty=False),
            "airport_ref": within(1, 10**9, empty=False),
            "airport_ident": filled,
            "type": anything,
            "description": anything,
            "frequency_mhz": within(0, 100_000, empty=False),
        },
    ),
    "navaids": Rules(
        "id",
        {
            "id": within(1, 10**9, empty=False),
            "ident": filled,
            "name": anything,
            "type": one_of("DME", "NDB", "NDB-DME", "TACAN", "VOR", "VOR-DME", "VORTAC"),
            "frequency_khz": within(-1, 10**9),
            "latitude_deg": LATITUDE,
            "longitude_deg": LONGITUDE,
            "elevation_ft": HEIGHT_FT,
            "iso_country": anything,
            "slaved_variation_deg": within(-180, 180),
            "associated_airport": anything,
        },
    ),
    "second": Rules(
        "icao",
        {
            "icao": filled,
            "lid": anything,
            "name": anything,
            "city": anything,
            "country": filled,
            "elevation": HEIGHT_FT,
            "lat": LATITUDE,
            "lon": LONGITUDE,
            "tz": anything,
        },
    ),
}


@dataclass(frozen=True, slots=True)
class Checked:
    """The rows of one table that keep every rule, and what is wrong with those that do not."""

    rows: Rows
    findings: tuple[str, ...]


def checked(table: str, content: bytes) -> Checked:
    """Read a table as its makers wrote it (UTF-8, CSV with a header) and check every row.

    Raises RefreshFault, naming line and column, where a column is missing, a row has other than
    the header's number of fields, or too many rows break a rule.
    """
    rules, rows, findings = RULES[table], list[Row](), list[str]()
    seen: set[str] = set()
    try:
        for line, row in _rows(table, content, rules):
            faults = list(_faults(row, rules))
            if row[rules.key] in seen:
                faults.append(f"{rules.key} {row[rules.key]!r} stands there twice")
            seen.add(row[rules.key])
            if faults:
                findings.append(f"{table}, line {line}: {'; '.join(faults)}")
            else:
                rows.append(row)
    except (UnicodeDecodeError, csv.Error) as fault:
        raise RefreshFault(f"{table} is not a table of text: {fault}") from fault
    if len(findings) > MOST_FAULTY * (len(rows) + len(findings)):
        raise _too_many(table, findings, len(rows))
    return Checked(rows, tuple(findings))


def _rows(table: str, content: bytes, rules: Rules) -> Iterator[tuple[int, Row]]:
    """Line number and columns of each row; every one has exactly the fields of the header."""
    text = content.decode("utf-8-sig")
    if not text.endswith("\n"):
        raise RefreshFault(f"{table} ends in the middle of a line; the end of it did not arrive")
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    header = next(reader, [])
    if missing := [column for column in rules.columns if header.count(column) != 1]:
        raise RefreshFault(f"{table} has no column (or two of them) called {', '.join(missing)}")
    places = [(column, header.index(column)) for column in rules.columns]
    for count, fields in enumerate(reader, start=1):
        if len(fields) != len(header):
            raise RefreshFault(
                f"{table}, line {reader.line_num}: {len(fields)} fields where the header has "
                f"{len(header)}"
            )
        if count > MOST_ROWS:
            raise RefreshFault(f"{table} has more than {MOST_ROWS:,} rows")
        yield reader.line_num, {column: fields[place] for column, place in places}


def _faults(row: Row, rules: Rules) -> Iterator[str]:
    for column, check in rules.columns.items():
        value = row[column]
        wrong = check(value) if len(value) <= MOST_LETTERS else f"is over {MOST_LETTERS} letters"
        if wrong:
            yield f"{column} {value[:40]!r} {wrong}"


def _too_many(table: str, findings: list[str], good: int) -> RefreshFault:
    shown = "\n  ".join(findings[:MOST_SHOWN])
    more = len(findings) - MOST_SHOWN
    tail = f"\n  and {more:,} more like it" if more > 0 else ""
    return RefreshFault(
        f"{len(findings):,} of {len(findings) + good:,} rows of {table} break a rule, "
        f"so none of it is used:\n  {shown}{tail}"
    )
