"""New tables from newer rows of the datasets: the same rules as the builder of the shipped ones.

The four tables of places hang together. Newer airports come with all that refers to them and with
the two witnesses of their positions, or not at all; newer runways, frequencies and beacons may
come alone, and are joined to the airports in use.
"""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from plotter.datastore.making import lints, match, places
from plotter.datastore.making import places as ap
from plotter.datastore.making import places as nv
from plotter.datastore.making.places import Witness
from plotter.datastore.making.tables import Row, Rows, code
from plotter.datastore.tables import PLACES
from plotter.errors import RefreshFault

SECOND, TOWNS = "second", "towns"
"""What newer airports are held against: the second source, and the places of GeoNames."""
WITH_AIRPORTS = (*PLACES, SECOND, TOWNS)
Counts = dict[str, dict[str, int]]


@dataclass(frozen=True, slots=True)
class Made:
    """One new table: its text, its rows, and what was counted in making it."""

    content: bytes
    rows: int
    counts: Counts


@dataclass(frozen=True, slots=True)
class Raw:
    """Checked rows of the datasets by table, and the towns."""

    tables: Mapping[str, Rows]
    towns: Sequence[Witness] = field(default_factory=tuple)


def missing_beside_airports(tables: Iterable[str]) -> list[str]:
    """What must come too where newer airports come.

    >>> missing_beside_airports(["airports", "runways", "second", "towns"])
    ['frequencies', 'navaids']
    >>> missing_beside_airports(["runways"])
    []
    """
    given = set(tables)
    return [name for name in WITH_AIRPORTS if name not in given] if "airports" in given else []


def renew(raw: Raw, in_use: Rows) -> dict[str, Made]:
    """The new tables of all that came; ``in_use`` are the airports that stand now, in our columns.

    Raises RefreshFault where airports come without what belongs to them, or a row cannot be made.
    """
    if missing := missing_beside_airports([*raw.tables, *([TOWNS] if raw.towns else ())]):
        raise RefreshFault(f"newer airports need {', '.join(missing)} too")
    made: dict[str, Made] = {}
    try:
        airports, idents = in_use, {row["ident"]: row["ident"] for row in in_use}
        if "airports" in raw.tables:
            airports, idents, made["airports"] = _airports(raw)
        for name, maker in _MAKERS.items():
            if name in raw.tables:
                made[name] = maker(raw.tables, airports, idents)
    except ValueError as fault:
        raise RefreshFault(f"a row cannot be made: {fault}") from fault
    return made


def _airports(raw: Raw) -> tuple[Rows, dict[str, str], Made]:
    """The airports, their idents by the dataset's number, and their table."""
    source = [row for row in raw.tables["airports"] if not ap.disowned(row)]
    airports = [ap.airport(row) for row in source]
    match.compare(airports, raw.tables[SECOND], match.Towns(raw.towns))
    from_neighbours = places.fill(airports)
    rules = Counter(row["position_rule"] for row in airports)
    disowned = len(raw.tables["airports"]) - len(source)
    counts = {
        "position_rules": {rule: rules[rule] for rule in match.POSITION_RULES},
        "lints": lints.airport_lints(airports)
        | {
            lints.DISOWNED: disowned,
            lints.NEIGHBOURS_ZONE: from_neighbours,
        },
    }
    rows = [tuple(row[column] for column in ap.AIRPORT_COLUMNS) for row in airports]
    idents = {row["id"]: code(row["ident"]) for row in source}
    return airports, idents, _made(ap.AIRPORT_COLUMNS, rows, counts)


def _runways(raw: Mapping[str, Rows], airports: Rows, _: Mapping[str, str]) -> Made:
    source = raw["runways"]
    rows = ap.runways(source, {row["ident"] for row in airports})
    return _made(ap.RUNWAY_COLUMNS, rows, {"lints": lints.runway_lints(source, airports, rows)})


def _frequencies(raw: Mapping[str, Rows], airports: Rows, idents: Mapping[str, str]) -> Made:
    """Joined by the dataset's number, or by ident where the airports are those in use."""
    source = raw["frequencies"]
    if "airports" not in raw:
        source = [row | {"airport_ref": code(row["airport_ident"])} for row in source]
    rows = ap.frequencies(source, dict(idents))
    counts = {"lints": lints.frequency_lints(source, set(idents), airports)}
    return _made(ap.FREQUENCY_COLUMNS, rows, counts)


def _navaids(raw: Mapping[str, Rows], airports: Rows, _: Mapping[str, str]) -> Made:
    """The airport beside a beacon is named by ident, which is today's where both came together."""
    known = {row["ident"]: row["ident"] for row in airports}
    today: Rows = [{"ident": ident, "id": ident} for ident in known]
    rows = nv.navaids(raw["navaids"], known, today)
    return _made(nv.NAVAID_COLUMNS, rows, {"lints": nv.navaid_lints(rows)})


_MAKERS = {"runways": _runways, "frequencies": _frequencies, "navaids": _navaids}


def _made(columns: Sequence[str], rows: Iterable[tuple[str, ...]], counts: Counts) -> Made:
    """A sorted table as the builder writes it: UTF-8, LF, a header."""
    text, ordered = io.StringIO(newline=""), sorted(rows)
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows(ordered)
    return Made(text.getvalue().encode("utf-8"), len(ordered), counts)


def as_rows(columns: Sequence[str], rows: Iterable[Sequence[str]]) -> Rows:
    """Rows of a table in our columns as the makers want them."""
    return [Row(zip(columns, row, strict=True)) for row in rows]
