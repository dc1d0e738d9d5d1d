"""The register against its files: checksum, count, size, date, and the page for people."""

from __future__ import annotations

import datetime as dt
import hashlib
import json
import re
from pathlib import Path
from typing import Any

import pytest

from plotter.datastore.making import lints
from plotter.places.store import Store
from plotter.places.twins import twins_among

DATA = Path(__file__).parent.parent / "data"
REGISTER: dict[str, dict[str, Any]] = json.loads(
    (DATA / "register.json").read_text(encoding="utf-8")
)
README = (DATA / "README.md").read_text(encoding="utf-8")
LICENCES = {"public domain", "CC-BY-4.0"}
TABLES = ["airports", "runways", "frequencies", "navaids", "towns"]
KEYS = [*TABLES, "basemap_world", "basemap_coarse", "basemap_fine"]


def test_it_names_every_table_and_no_other() -> None:
    assert list(REGISTER) == KEYS
    on_disk = {path.relative_to(DATA).as_posix() for path in DATA.rglob("*.csv")}
    on_disk |= {path.relative_to(DATA).as_posix() for path in DATA.rglob("*.jsonl")}
    assert {made["file"] for made in REGISTER.values()} == on_disk


@pytest.mark.parametrize("key", KEYS)
def test_checksum_size_and_count_are_those_of_the_file(key: str) -> None:
    made = REGISTER[key]
    content = (DATA / made["file"]).read_bytes()
    assert hashlib.sha256(content).hexdigest() == made["sha256"]
    assert len(content) == made["bytes"]
    header = made["file"].endswith(".csv")
    assert content.count(b"\n") - header == made["rows"] > 0


@pytest.mark.parametrize("key", KEYS)
def test_date_licence_and_carrier_are_said(key: str) -> None:
    made = REGISTER[key]
    assert dt.date(2022, 1, 1) < dt.date.fromisoformat(made["date"])
    assert made["licence"] in LICENCES
    assert made["source"]
    for carrier in made["carried_by"]:
        assert re.fullmatch(r"[\w-]+ [\w.]+ \((PyPI|npm)\)", carrier["package"])
        assert re.fullmatch(r"[0-9a-f]{64}", carrier["archive_sha256"])


@pytest.mark.parametrize("key", KEYS)
def test_the_page_for_people_says_the_same(key: str) -> None:
    made = REGISTER[key]
    words = (made["file"], made["source"], made["date"], made["licence"])
    assert f"| {' | '.join(words)} | {made['rows']:,} | {made['bytes']:,} |" in README
    assert f"| {made['file']} | `{made['sha256']}` |" in README
    for carrier in made["carried_by"]:
        assert carrier["package"] in README
        assert carrier["archive_sha256"] in README
    for what, count in made.get("position_rules", {}).items():
        assert f"| {key} | {what} | {count:,} | see below |" in README
    for what, count in made.get("lints", {}).items():
        assert f"| {key} | {what} | {count:,} | {made['done'][what]} |" in README


def test_every_lint_says_what_was_done() -> None:
    found = {
        what: words for made in REGISTER.values() for what, words in made.get("done", {}).items()
    }
    assert found == dict(lints.DONE)
    for made in REGISTER.values():
        assert list(made.get("lints", {})) == list(made.get("done", {}))


def test_the_lints_are_those_of_the_tables(real_store: Store) -> None:
    """Counted again, from the store: twins by their own rule, elevations of 0 one by one."""
    every = real_store.airports_in(-90.0, -180.0, 90.0, 180.0)
    pairs = twins_among(every)
    counted = REGISTER["airports"]["lints"]
    assert counted[lints.BESIDE] + counted[lints.NAMESAKES] == len(pairs)
    assert counted[lints.BESIDE] == sum(pair.apart_nm <= 0.3 for pair in pairs)
    assert counted[lints.ELEVATION_0] == sum(each.elevation_ft == 0.0 for each in every)
    assert counted[lints.IDENTS_TWICE] == len(every) - len({each.ident for each in every}) == 0


def test_the_page_explains_every_rule_of_position() -> None:
    explained = README.split("## Two sources must agree")[1]
    for rule in REGISTER["airports"]["position_rules"]:
        assert f"| {rule} |" in explained


def test_sources_that_ask_to_be_named_are_named() -> None:
    notices = (DATA.parent / "NOTICES.md").read_text(encoding="utf-8")
    for text in (README, notices):
        for name in ("OurAirports", "GeoNames", "CC-BY-4.0", "Natural Earth", "airportsdata"):
            assert name in text


def test_the_builder_pins_the_archives_of_the_register() -> None:
    pinned = (DATA / "build" / "fetch.py").read_text(encoding="utf-8")
    archives = {
        carrier["archive_sha256"] for made in REGISTER.values() for carrier in made["carried_by"]
    }
    assert archives == set(re.findall(r'"([0-9a-f]{64})"', pinned))


def test_nothing_names_the_host_of_a_registry() -> None:
    for path in [*DATA.rglob("*.py"), DATA / "README.md", DATA / "register.json"]:
        assert "://" not in path.read_text(encoding="utf-8"), path
