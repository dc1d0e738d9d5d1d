"""Radio beacons, as the dataset has them, each with a key of its own."""

from __future__ import annotations

from collections import Counter

from plotter.datastore.making import lints
from plotter.datastore.making.tables import Row, Rows, code, number, positive, text

NAVAID_COLUMNS = (
    "key",
    "ident",
    "name",
    "kind",
    "latitude_deg",
    "longitude_deg",
    "elevation_ft",
    "frequency_khz",
    "country",
    "station_declination_deg_east",
    "associated_airport",
)
WITH_RADIALS = {"VOR", "VOR-DME", "VORTAC"}


def navaids(rows: Rows, ident_by_id: dict[str, str], old_airports: Rows) -> list[tuple[str, ...]]:
    """Every beacon; the airport beside it by the identifier that airport has today."""
    today = {old["ident"]: ident_by_id.get(old["id"], "") for old in old_airports}
    seen: Counter[str] = Counter()
    made = []
    for row in sorted(rows, key=lambda row: int(row["id"])):
        key = f"{code(row['ident'])}-{row['type']}-{code(row['iso_country'])}"
        seen[key] += 1
        numbered = key if seen[key] == 1 else f"{key}-{seen[key]}"
        made.append((numbered, *_values(row, today.get(row["associated_airport"], ""))))
    return made


def _values(row: Row, beside: str) -> tuple[str, ...]:
    """The columns after the key."""
    declination = row["slaved_variation_deg"] if row["type"] in WITH_RADIALS else ""
    return (
        code(row["ident"]),
        text(row["name"]),
        row["type"],
        number(row["latitude_deg"], 6),
        number(row["longitude_deg"], 6),
        number(row["elevation_ft"], 0),
        positive(row["frequency_khz"], 1),
        code(row["iso_country"]),
        number(declination, 3),
        beside,
    )


def navaid_lints(rows: list[tuple[str, ...]]) -> dict[str, int]:
    """Oddities of the beacons."""
    idents = Counter(row[1] for row in rows)
    with_radials = [row for row in rows if row[3] in WITH_RADIALS]
    return {
        lints.BEACONS_TWICE: sum(count > 1 for count in idents.values()),
        lints.BEACON_NO_FREQUENCY: sum(not row[7] for row in rows),
        lints.BEACONS_WITH_RADIALS: len(with_radials),
        lints.NO_DECLINATION: sum(not row[9] for row in with_radials),
    }
