"""The datasets' own tables of a small invented world: that of ``small_tables`` as its makers
would publish it."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

import small_tables

AIRPORTS = (
    *("id", "ident", "type", "name", "latitude_deg", "longitude_deg", "elevation_ft", "continent"),
    *("iso_country", "iso_region", "municipality", "scheduled_service", "icao_code", "iata_code"),
    *("gps_code", "local_code", "home_link"),
)
RUNWAYS = (
    *("id", "airport_ref", "airport_ident", "length_ft", "width_ft", "surface", "lighted"),
    *("closed", "le_ident", "le_latitude_deg", "le_longitude_deg", "le_heading_degT"),
    *("he_ident", "he_latitude_deg", "he_longitude_deg", "he_heading_degT"),
)
FREQUENCIES = ("id", "airport_ref", "airport_ident", "type", "description", "frequency_mhz")
NAVAIDS = (
    *("id", "ident", "name", "type", "frequency_khz", "latitude_deg", "longitude_deg"),
    *("elevation_ft", "iso_country", "slaved_variation_deg", "associated_airport"),
)
SECOND = ("icao", "iata", "name", "city", "subd", "country", "elevation", "lat", "lon", "tz", "lid")
FILLERS = tuple(small_tables.airport(f"ZZ-F{n:02}", 20.0 + n / 2, 30.0 + n) for n in range(40))
"""So many that one which moved is not a twentieth of all."""
AIRPORT_ROWS = (*small_tables.AIRPORT_ROWS, *FILLERS)
Row = dict[str, str]
Rows = list[Row]


def table(columns: Sequence[str], rows: Iterable[Row]) -> bytes:
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, columns, restval="", lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue().encode("utf-8")


def airports() -> Rows:
    made = []
    for number, row in enumerate(AIRPORT_ROWS, start=1):
        ident, icao, iata, gps, local, kind, name, town, country, region, lat, lon, height, *_ = row
        made.append(
            {
                **{"id": str(number), "ident": ident, "type": kind, "name": name},
                **{"latitude_deg": lat, "longitude_deg": lon, "elevation_ft": height},
                **{"iso_country": country, "iso_region": region, "municipality": town},
                **{"icao_code": icao, "iata_code": iata, "gps_code": gps, "local_code": local},
            }
        )
    return made


def runways() -> Rows:
    return [
        {
            **{"id": str(number), "airport_ident": row[0], "le_ident": row[1], "he_ident": row[2]},
            **{"length_ft": row[3], "width_ft": row[4], "surface": row[5], "lighted": row[6]},
            **{"closed": row[7], "le_heading_degT": row[8], "he_heading_degT": row[9]},
        }
        for number, row in enumerate(small_tables.RUNWAY_ROWS, start=1)
    ]


def frequencies() -> Rows:
    numbers = {row["ident"]: row["id"] for row in airports()}
    return [
        {
            **{"id": str(number), "airport_ref": numbers[row[0]], "airport_ident": row[0]},
            **{"type": row[1], "description": row[2], "frequency_mhz": row[3]},
        }
        for number, row in enumerate(small_tables.FREQUENCY_ROWS, start=1)
    ]


def navaids() -> Rows:
    return [
        {
            **{"id": str(number), "ident": row[1], "name": row[2], "type": row[3]},
            **{"latitude_deg": row[4], "longitude_deg": row[5], "frequency_khz": row[7]},
            **{"iso_country": row[8], "slaved_variation_deg": row[9]},
        }
        for number, row in enumerate(small_tables.NAVAID_ROWS, start=1)
    ]


def second() -> Rows:
    """A second opinion on one airport, 3 NM off."""
    field = {"icao": "KAAA", "name": "Demo KAAA", "city": "Demo Town", "country": "ZZ"}
    return [field | {"lat": "44.05", "lon": "-92.5", "tz": "America/Chicago", "elevation": "812"}]


def towns() -> bytes:
    fields = ["7", "Demo Town", "", "", "44.02", "-92.46", "P", "PPL", "ZZ", "", "D", *[""] * 8]
    return ("\t".join(fields) + "\n").encode("utf-8")


def all_of_them() -> dict[str, bytes]:
    """Every table as it is published."""
    return {
        "airports": table(AIRPORTS, airports()),
        "runways": table(RUNWAYS, runways()),
        "frequencies": table(FREQUENCIES, frequencies()),
        "navaids": table(NAVAIDS, navaids()),
        "second": table(SECOND, second()),
        "towns": towns(),
    }
