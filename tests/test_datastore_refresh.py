"""Newer tables: all of them proven and in use, or nothing has changed."""

from __future__ import annotations

import gzip
import io
import json
import os
import threading
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
import raw_tables
from loopback import drip_body, honest, in_chunks, loopback, sending, to
from refreshing import RADIO, TODAY, World

from plotter.cli.data import summary
from plotter.datastore import comparing
from plotter.datastore import refresh as module
from plotter.datastore.check import check_tables
from plotter.datastore.refresh import Asked, refresh
from plotter.datastore.sets import changes_since_previous, register_in_use, restore
from plotter.errors import CannotDo, DataFault, PlotterError, RefreshFault
from plotter.places.model import What


@pytest.fixture
def world(tmp_path: Path) -> Iterator[World]:
    with loopback() as server:
        yield World(tmp_path, server)


def airports(**changed: dict[str, str]) -> bytes:
    rows = raw_tables.airports()
    return raw_tables.table(
        raw_tables.AIRPORTS, [row | changed.get(row["ident"], {}) for row in rows]
    )


def moved_and_closed() -> bytes:
    return airports(KAAA={"latitude_deg": "44.05"}, KBBB={"type": "closed"})


def test_newer_tables_are_in_use_and_say_what_changed(world: World) -> None:
    done = world.refresh(world.publish(airports=moved_and_closed()))
    assert done.left_out == ()
    store = world.store()
    airport = store.airport("KAAA")
    assert airport
    assert airport.position.latitude_deg == 44.05
    assert store.register["airports"]["date"] == "2026-08-22"
    assert done.changes.dates["airports"] == ("2026-01-31", "2026-08-22")
    (moved,) = done.changes.of("KAAA")
    # 0.05 degrees of latitude: 3.0 NM within 0.1 %
    assert moved.moved_nm == pytest.approx(3.0, abs=0.003)
    assert [c.what for c in done.changes.of("KBBB")] == [What.CLOSED]
    assert changes_since_previous(store, own=world.folder / "own") == done.changes


def test_positions_are_held_against_the_second_source_as_in_the_shipped_tables(
    world: World,
) -> None:
    world.refresh(world.publish())
    register = world.store().register["airports"]
    assert register["position_rules"]["two sources differ, first used"] == 1  # type: ignore[typeddict-item]
    airport = world.store().airport("KAAA")
    assert airport
    assert airport.position_rule == "two sources differ, first used"
    assert airport.sources_apart_nm == pytest.approx(3.0, abs=0.003)
    assert register["second_source"]["date"] == "2026-08-22"  # type: ignore[typeddict-item]
    assert "lints" in register


def test_the_set_is_checked_like_any_tables(world: World) -> None:
    world.refresh(world.publish())
    tables, own = world.folder / "tables", world.folder / "own"
    now = register_in_use(tables, own)
    assert check_tables(tables, now.register) == []
    set_folder = own / "sets" / now.name
    (set_folder / "runways.csv").write_bytes(b"airport\n")
    (finding,) = check_tables(tables, now.register)
    assert "plotter data refresh" in finding


def test_some_tables_alone_are_joined_to_the_airports_in_use(world: World) -> None:
    rows = [*raw_tables.runways(), raw_tables.runways()[0] | {"id": "9", "airport_ident": "KXXX"}]
    rows[1]["length_ft"] = "5000"
    found = world.publish(runways=raw_tables.table(raw_tables.RUNWAYS, rows))
    done = world.refresh(found, "runways")
    assert [name for name, _ in world.server.asked] == ["runways"]
    assert list(done.changes.dates) == ["runways"]
    assert [(c.key, c.what) for c in done.changes.every] == [("KAAA", What.RUNWAY_LENGTH)]
    register = world.store().register
    assert register["runways"]["lints"]["runways without airport"] == 1  # type: ignore[typeddict-item]
    assert register["airports"]["date"] == "2026-01-31"


def test_frequencies_alone_are_joined_by_ident(world: World) -> None:
    rows = [row | {"airport_ref": "4711"} for row in raw_tables.frequencies()]
    content = raw_tables.table(raw_tables.FREQUENCIES, rows)
    done = world.refresh(world.publish(frequencies=content), *RADIO)
    assert done.changes.every == ()
    airport = world.store().airport("KAAA")
    assert airport
    assert len(airport.frequencies) == 2


def test_what_says_the_same_changes_nothing(world: World) -> None:
    first = world.refresh(world.publish())
    before = world.seen()
    again = world.refresh(world.publish())
    assert (bool(first.name), again.name) == (True, "")
    assert world.seen() == before


def test_packed_tables_do_too(world: World) -> None:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        archive.writestr("cities.txt", raw_tables.towns())
    content = raw_tables.all_of_them()
    found = world.publish(airports=gzip.compress(content["airports"]), towns=packed.getvalue())
    assert world.refresh(found).name


def test_a_date_still_to_come_or_none_is_the_day_of_fetching(world: World) -> None:
    world.server.modified = "Sat, 22 Aug 2099 05:00:00 GMT"
    world.refresh(world.publish())
    entry = world.store().register["runways"]
    assert entry["date"] == TODAY.isoformat()
    assert entry["date_is"] == "the day it was fetched"  # type: ignore[typeddict-item]


def far_away() -> bytes:
    return airports(
        **{
            row["ident"]: {"latitude_deg": row["longitude_deg"], "longitude_deg": "1"}
            for row in raw_tables.airports()
            if abs(float(row["longitude_deg"])) < 90
        }
    )


def other_idents() -> bytes:
    return airports(**{row[0]: {"ident": f"X{row[0]}"} for row in raw_tables.FILLERS})


def cut_at_a_line(table: str = "airports") -> bytes:
    lines = raw_tables.all_of_them()[table].splitlines(keepends=True)
    return b"".join(lines[: len(lines) * 2 // 3])


def html() -> bytes:
    return b"<!doctype html>\n<title>Sign in</title>\n"


def bomb() -> bytes:
    return gzip.compress(b"0" * 61 * 10**6)


HOSTILE: dict[str, Callable[[], bytes]] = {
    "cut at a line": cut_at_a_line,
    "elsewhere": far_away,
    "other idents": other_idents,
    "a page": html,
    "a bomb": bomb,
    "nothing": lambda: b"",
    "a part": lambda: raw_tables.all_of_them()["airports"][:900],
    "another table": lambda: raw_tables.all_of_them()["navaids"],
    "a latitude of 95": lambda: airports(KAAA={"latitude_deg": "95"}),
    "twice": lambda: airports(KAAA={"ident": "KBBB"}),
    "twice when clean": lambda: airports(KAAA={"ident": "kb bb"}),
    "control": lambda: airports(KAAA={"type": "small_airport\x00"}),
}


@pytest.mark.parametrize("name", list(HOSTILE))
@pytest.mark.parametrize("start", ["shipped", "fetched"])
def test_what_is_hostile_changes_nothing(world: World, name: str, start: str) -> None:
    if start == "fetched":
        world.refresh(world.publish(airports=moved_and_closed()))
    before, register = world.seen(), world.store().register
    with pytest.raises(RefreshFault):
        world.refresh(world.publish(airports=HOSTILE[name]()))
    after = world.seen()
    pointed = {path: content for path, content in after.items() if path in before}
    assert pointed == before
    assert world.store().register == register
    assert world.refresh(world.publish(airports=airports(KBBB={"name": "Demo"}))).name
    assert len({path.split("/")[0] for path in world.seen() if "/" in path}) <= 2


def beacons(column: str, turn: Callable[[str], str]) -> bytes:
    rows = [row | {column: turn(row[column])} for row in raw_tables.navaids()]
    return raw_tables.table(raw_tables.NAVAIDS, rows)


@pytest.mark.parametrize(
    ("column", "turn", "words"),
    [
        ("latitude_deg", lambda text: f"{-float(text)}", "7 beacons would move by more than 1 NM"),
        ("ident", lambda text: f"X{text[1:]}", "only 0 of the 7 beacons in use"),
        ("slaved_variation_deg", lambda text: text and f"{-float(text)}", "declination of 1 beac"),
        ("slaved_variation_deg", lambda _: "", "declination of 1 beacons would .* be gone"),
    ],
)
def test_hostile_beacons_alone_change_nothing(
    world: World, column: str, turn: Callable[[str], str], words: str
) -> None:
    with pytest.raises(RefreshFault, match=words):
        world.refresh(world.publish(navaids=beacons(column, turn)), "navaids")
    assert world.seen() == {}


def test_a_station_that_was_realigned_is_a_change(world: World) -> None:
    newer = beacons("slaved_variation_deg", lambda text: text and f"{float(text) + 1}")
    done = world.refresh(world.publish(navaids=newer), "navaids")
    (change,) = done.changes.every
    assert (change.what, change.before, change.after) == (What.DECLINATION, "1.5", "2.5")
    assert summary(done.changes).splitlines()[-1].split()[-1] == "1"


TRICKS = {
    "500": sending(500),
    "404": sending(404),
    "truncated": sending(cut=0.5),
    "too long said": sending(Content_Length="100000"),
    "no length": sending(Content_Length=None, Connection="close"),
    "chunks without end": in_chunks(end=b""),
    "a page": sending(Content_Type="text/html"),
    "elsewhere": to("http://127.0.0.1:9/"),
    "dripping": drip_body,
}


@pytest.mark.parametrize("name", list(TRICKS))
@pytest.mark.parametrize("table", ["airports", "towns"])
def test_a_server_that_misbehaves_changes_nothing(world: World, name: str, table: str) -> None:
    found = world.publish()
    world.server.tricks[table] = [TRICKS[name]] * 9
    with pytest.raises(RefreshFault, match=table):
        world.refresh(found)
    assert world.seen() == {}
    world.server.tricks[table] = []
    assert world.refresh(found).name, "and the next run takes it up"


def test_older_tables_are_no_refresh(world: World) -> None:
    world.server.modified = "Fri, 30 Jan 2026 05:00:00 GMT"
    with pytest.raises(RefreshFault, match="of 2026-01-30, older than the table in use"):
        world.refresh(world.publish())
    assert world.seen() == {}


def test_airports_never_come_alone(world: World) -> None:
    found = world.publish()
    world.refresh(found, "airports")
    assert {name for name, _ in world.server.asked} == set(found)


def test_two_at_once_are_one_and_a_refusal(world: World) -> None:
    found, waiting, go_on = world.publish(), threading.Event(), threading.Event()

    def slow(handler: object, content: bytes) -> None:
        waiting.set()
        go_on.wait(20)
        honest(handler, content)  # type: ignore[arg-type]

    world.server.tricks["towns"] = [slow]
    first: list[str] = []
    thread = threading.Thread(target=lambda: first.append(world.refresh(found).name))
    thread.start()
    assert waiting.wait(20)
    for other in (lambda: world.refresh(found), lambda: restore(own=world.folder / "own")):
        with pytest.raises(CannotDo, match="another refresh is under way") as caught:
            other()
        assert caught.value.code == "busy"
    go_on.set()
    thread.join()
    assert first[0] == register_in_use(world.folder / "tables", world.folder / "own").name


@pytest.mark.skipif(os.name == "nt", reason="folders without permission")
@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write all")
def test_a_folder_that_refuses(world: World) -> None:
    (world.folder / "own").mkdir(mode=0o500)
    with pytest.raises(PlotterError, match="not permitted"):
        world.refresh(world.publish())


def test_a_file_where_the_folder_should_be(world: World) -> None:
    (world.folder / "own").write_text("mine", encoding="utf-8")
    with pytest.raises(CannotDo, match="is a file where a folder is needed"):
        world.refresh(world.publish())
    assert (world.folder / "own").read_text(encoding="utf-8") == "mine"


def test_a_list_of_changes_that_is_damaged_is_said(world: World) -> None:
    done = world.refresh(world.publish(airports=moved_and_closed()))
    own = world.folder / "own"
    path = own / "sets" / done.name / "changes.jsonl"
    only = changes_since_previous(world.store(), ["KBBB"], own)
    assert [c.key for c in only.every] == ["KBBB"]
    restore(own=own)
    assert changes_since_previous(world.shipped(), own=own) == done.changes, "from both sides"
    path.write_bytes(path.read_bytes()[:-9])
    with pytest.raises(DataFault, match="cannot be read"):
        changes_since_previous(world.shipped(), own=own)


def test_a_store_of_other_tables_has_no_changes(world: World, real_store: object) -> None:
    world.refresh(world.publish(airports=moved_and_closed()))
    found = changes_since_previous(real_store, own=world.folder / "own")  # type: ignore[arg-type]
    assert (found.dates, found.every) == ({}, ())


def test_limits_leave_room_for_the_tables_of_today() -> None:
    real = json.loads((Path(__file__).parent.parent / "data/register.json").read_text("utf-8"))
    for name, limit in module.LIMITS.items():
        if name in real and name != "towns":
            assert 3 * real[name]["bytes"] < limit
    assert 0 < comparing.FEWEST < 1 < comparing.MOST


REAL = "PLOTTER_NEWER_TABLES"


@pytest.mark.slow
@pytest.mark.skipif(REAL not in os.environ, reason=f"{REAL} names no folder of real newer tables")
def test_real_newer_tables(tmp_path: Path) -> None:
    """A folder with runways.csv.gz, airport-frequencies.csv.gz and navaids.csv.gz."""
    files = dict(zip(RADIO, ("runways", "airport-frequencies", "navaids"), strict=True))
    with loopback() as server:
        server.modified = ""
        found = {
            name: server.put(name, (Path(os.environ[REAL]) / f"{file}.csv.gz").read_bytes())
            for name, file in files.items()
        }
        asked = Asked(RADIO, found, own=tmp_path / "own", cache=tmp_path / "cache")
        done = refresh(asked, TODAY)
    assert done.left_out == ()
    assert done.changes.counts()[What.RENUMBERED] > 0
    assert check_tables(None, register_in_use(own=tmp_path / "own").register) == []
