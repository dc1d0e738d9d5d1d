"""A small invented world of tables, for tests of the store: every name in it is made up.

Positions are ordinary places on the earth; ``ZZ`` is a code ISO 3166 leaves to its users.
"""

from __future__ import annotations

import csv
import hashlib
import io
import json
from collections.abc import Iterable, Mapping
from pathlib import Path

from plotter.places.rows import AIRPORTS, FREQUENCIES, NAVAIDS, RUNWAYS, TOWNS

Row = tuple[str, ...]
HEADERS = {
    "airports": AIRPORTS,
    "runways": RUNWAYS,
    "frequencies": FREQUENCIES,
    "navaids": NAVAIDS,
    "towns": TOWNS,
}


def airport(
    ident: str,
    latitude: float,
    longitude: float,
    kind: str = "small_airport",
    *,
    icao: str = "",
    iata: str = "",
    gps: str = "",
    local: str = "",
    name: str = "",
) -> Row:
    """A row of airports.csv."""
    where = (repr(latitude), repr(longitude))
    name = name or f"Demo {ident}"
    codes = (ident, icao, iata, gps, local)
    return (*codes, kind, name, "Demo Town", "ZZ", "ZZ-D", *where, "812", "", "0.03", "demo")


def navaid(key: str, latitude: float, longitude: float, declination: str = "") -> Row:
    """A row of navaids.csv; the key is IDENT-KIND-COUNTRY."""
    ident, kind, country = key.split("-", 1)[0], *key.split("-", 1)[1].rsplit("-", 1)
    where = (repr(latitude), repr(longitude))
    return (key, ident, f"Demo {ident}", kind, *where, "", "113000", country, declination, "")


AIRPORT_ROWS = (
    airport(
        "KAAA", 44.0, -92.5, "medium_airport", icao="KAAA", iata="AAA", gps="KAAA", local="AAA"
    ),
    airport("KBBB", 44.1, -92.1, icao="KBBB", gps="KBBB", local="BBB"),
    airport("ZZ-0001", 43.9, -91.3, gps="KCCC", local="CCC"),
    airport("1Z1", 43.7, -92.0, local="1Z1", gps="1Z1"),
    airport("ZZ-0002", 10.0, 20.0, iata="BBB", name="Demo Far"),
    airport("ZZ-0003", 44.2, -92.2, "closed", local="DDD", name="Demo Old Field"),
    airport("ZZ-0004", 44.3, -92.3, local="DDD", name="Demo New Field"),
    airport("ZZ-0005", 44.4, -92.4, "heliport", local="HHH"),
    airport("ZZ-0006", -17.0, 179.95, local="EEE", name="Demo “East”, 東"),
    airport("ZZ-0007", -17.0, -179.95, local="WWW"),
    airport("ZZ-0008", 90.0, 0.0, local="NNN"),
    airport("ZZ-0009", -89.95, 100.0, local="SSS"),
    airport("ZZ-0010", 45.0, 180.0, "closed", local="LLL"),
    airport("GGG", 46.0, -90.0, local="FFF"),
    airport("ZZ-0011", 46.5, -90.5, local="GGG", name="Demo Clash"),
    airport("FFF", 47.0, -90.5, local="JJJ", name="Demo Clash Two"),
)
RUNWAY_ROWS = (
    ("KAAA", "02", "20", "", "", "", "0", "1", "", ""),
    ("KAAA", "13", "31", "4200", "75", "asphalt", "1", "0", "134.0", "314.0"),
    ("KBBB", "H1", "", "60", "60", "", "", "", "", ""),
)
FREQUENCY_ROWS = (
    ("KAAA", "CTAF", "Demo traffic, both", "122.8"),
    ("KAAA", "TWR", "", "118.25"),
)
NAVAID_ROWS = (
    navaid("AAA-VOR-DME-ZZ", 44.02, -92.52, "1.5"),
    navaid("NNA-NDB-ZZ", 44.05, -92.55),
    navaid("NNA-NDB-ZY", 10.0, 20.0),
    navaid("NNA-VOR-ZX", -40.0, 170.0),
    navaid("PPA-NDB-ZZ", 44.1, -92.6),
    navaid("PPA-VOR-ZZ", 44.9, -92.6),
    navaid("QQA-NDB-ZZ", -17.5, 180.0),
)
TOWN_ROWS = (
    ("Demo City", "ZZ", "44.02", "-92.46", "118000"),
    ("Demo, Ville", "ZZ", "-17.1", "179.9", "500"),
)
CELLS: Mapping[str, Mapping[str, str]] = {
    "world": {"world": '{"land":[[0,0,10,0,0,10]]}'},
    "coarse": {"+30-100": '{"coast":[[1,2,3,4]]}'},
    "fine": {"+40-095": '{"lake":[[5,6,7,8]]}', "-90-180": '{"land":[[1,1,1,1]]}'},
}


def write_tables(
    folder: Path,
    *,
    airports: Iterable[Row] = AIRPORT_ROWS,
    runways: Iterable[Row] = RUNWAY_ROWS,
    frequencies: Iterable[Row] = FREQUENCY_ROWS,
    navaids: Iterable[Row] = NAVAID_ROWS,
    towns: Iterable[Row] = TOWN_ROWS,
) -> Path:
    """Write tables and their register into a folder, and give it back."""
    (folder / "basemap").mkdir(parents=True, exist_ok=True)
    given = (airports, runways, frequencies, navaids, towns)
    for (name, header), rows in zip(HEADERS.items(), given, strict=True):
        text = io.StringIO()
        writer = csv.writer(text, lineterminator="\n")
        writer.writerow(header)
        writer.writerows(sorted(rows))
        (folder / f"{name}.csv").write_bytes(text.getvalue().encode("utf-8"))
    for tier, cells in CELLS.items():
        lines = [f'{{"cell":"{cell}","layers":{layers}}}\n' for cell, layers in cells.items()]
        (folder / "basemap" / f"{tier}.jsonl").write_bytes("".join(lines).encode("utf-8"))
    register_tables(folder)
    return folder


def register_tables(folder: Path) -> None:
    """Write the register of the tables as they now stand."""
    files = {name: f"{name}.csv" for name in HEADERS}
    files |= {f"basemap_{tier}": f"basemap/{tier}.jsonl" for tier in CELLS}
    register = {
        name: {
            "file": file,
            "source": "invented",
            "date": "2026-01-31",
            "licence": "MIT",
            "sha256": hashlib.sha256((folder / file).read_bytes()).hexdigest(),
            "rows": (folder / file).read_bytes().count(b"\n") - (name in HEADERS),
        }
        for name, file in files.items()
    }
    (folder / "register.json").write_text(json.dumps(register), encoding="utf-8")
