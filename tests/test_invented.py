"""What a plan calls invented: kept through hand editing, counted, said first in every output."""

from __future__ import annotations

import io
import json
import re
import tomllib
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from flights import plan

from plotter.cli.main import run
from plotter.errors import PlanError
from plotter.exports import FORMATS, Job
from plotter.flight.invented import PARTS, still_invented, warning
from plotter.flight.log import navigation_log
from plotter.flight.log_values import NavigationLog
from plotter.flight.plan.read import plan_of_tables, read_plan
from plotter.flight.plan.starter import starter
from plotter.formats.log_document import log_document
from plotter.places.store import Store

TEXT = starter("Sunday")
ALL = tuple(tomllib.loads(TEXT)["invented"])
Call = Callable[..., tuple[int, str, str]]


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Call:
    def _call(*arguments: str) -> tuple[int, str, str]:
        code = run(arguments)
        return code, *capsys.readouterr()

    return _call


def without(*entries: str) -> str:
    """The plan to start from after an editor took these lines out of the list."""
    text = TEXT
    for entry in entries:
        text, count = re.subn(rf'^  "{re.escape(entry)}",.*\n', "", text, flags=re.M)
        assert count == 1, entry
    return text


def test_every_figure_of_the_plan_to_start_from_is_of_a_part() -> None:
    tables = tomllib.loads(TEXT)
    settings = {"flight.name", "flight.route", "flight.checkpoints_every_nm"}
    settings |= {"flight.aircraft_category", "aircraft.fuel_unit"}
    keys = {f"{t}.{key}" for t in ("flight", "aircraft", "limits") for key in tables[t]} - settings
    assert all(any(key.startswith(part) for part in ALL) for key in keys)
    assert set(tables) == {"format", "invented", "flight", "aircraft", "wind", "limits"}
    assert {"wind", "limits.reserve_min"} <= set(ALL)


def test_each_line_taken_out_by_hand_is_one_figure_less() -> None:
    left = list(ALL)
    while left:
        assert read_plan(without(*(e for e in ALL if e not in left)), "x").invented == tuple(left)
        left.pop()
    assert read_plan(without(*ALL), "x").invented == ()


def test_a_figure_that_is_changed_stays_on_the_list_and_one_that_is_gone_does_not_count() -> None:
    changed = read_plan(TEXT.replace("usable_fuel = 53 ", "usable_fuel = 50 "), "x")
    assert changed.invented == ALL
    gone = re.sub(r"^taxi_fuel.*\n", "", TEXT, flags=re.M)
    assert set(ALL) - set(read_plan(gone, "x").invented) == {"aircraft.taxi_fuel"}


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        ('"aircraft.true_airspede_kt"', "can be invented; write aircraft.true_airspeed_kt"),
        ('"quiet"', "not a figure that can be invented; write flight.departure"),
        ('"windy"', "write wind"),
        ("5", "is 5, not text"),
    ],
)
def test_an_entry_that_is_none_is_a_fault_with_its_line(entry: str, words: str) -> None:
    text = TEXT.replace('  "wind", ', f"  {entry}, ")
    with pytest.raises(PlanError) as caught:
        read_plan(text, "ours.toml")
    assert words in str(caught.value)
    assert re.search(r"ours.toml, line \d+: ", str(caught.value))


def test_a_key_of_a_part_stands_for_the_part() -> None:
    tables = tomllib.loads(TEXT) | {"invented": ["aircraft.climb_rate_fpm", "aircraft.climb"]}
    assert plan_of_tables(tables).invented == ("aircraft.climb",)
    assert still_invented(["wind", "winds_aloft", 3], {"wind": [], "winds_aloft": {"a": 1}}) == ()


@pytest.fixture(scope="module")
def log(real_store: Store) -> NavigationLog:
    return navigation_log(plan(invented=ALL, quiet={"invented": "no"}), real_store)


def test_no_quiet_silences_it_and_it_is_told_once(log: NavigationLog) -> None:
    (told,) = [caution for caution in log.cautions if caution.code == "invented"]
    assert told.rank == "CHECK"
    assert all(PARTS[part].called.lower() in told.text for part in ALL)
    assert log.silenced == ()


@pytest.mark.parametrize("name", FORMATS)
def test_every_file_says_it_before_any_figure(name: str, log: NavigationLog) -> None:
    made = FORMATS[name].write(Job(log.plot, log=log))
    if name == "kmz":
        with zipfile.ZipFile(io.BytesIO(made)) as archive:
            made = archive.read("doc.kml")
    text = made.decode("utf-8", "replace")
    words = warning(ALL)
    assert words == f"{len(ALL)} figures invented: not for flight"
    assert words in text
    if name not in ("gpkg", "map"):
        assert text.index(words) < text.index("A planning aid")
        first = re.search(r"KLSE|92\.50|-92\.5", text)
        assert first is not None
        assert text.index(words) < first.start()


def test_the_map_says_it_in_its_title_above_its_heading_and_in_the_margin_of_paper(
    log: NavigationLog,
) -> None:
    page = FORMATS["map"].write(Job(log.plot, log=log)).decode("utf-8")
    words = warning(ALL)
    assert f": {words}</title>" in page
    assert page.index(f'<p class="warning">{words}</p>') < page.index("<h1>")
    assert f'@page {{ @top-center {{ content: "{words}";' in page


def test_a_geopackage_has_it_as_its_first_note(log: NavigationLog, tmp_path: Path) -> None:
    from pyogrio import read_dataframe

    path = tmp_path / "a.gpkg"
    path.write_bytes(FORMATS["gpkg"].write(Job(log.plot, log=log)))
    notes = read_dataframe(path, layer="notes")
    assert notes["note"][0] == f"{warning(ALL)}."


def test_the_document_says_which(log: NavigationLog) -> None:
    found = log_document(log, {})
    assert list(found)[:3] == ["schema", "warning", "invented"]
    assert (found["warning"], found["invented"]) == (warning(ALL), list(ALL))


def test_the_command_line_says_it_first(call: Call, tmp_path: Path) -> None:
    path = tmp_path / "sunday.toml"
    path.write_text(without("wind", "aircraft.climb"), encoding="utf-8")
    words = f"{len(ALL) - 2} figures invented: not for flight"
    code, out, err = call("log", str(path), "--as", "csv", "--into", str(tmp_path))
    assert (code, err, out.partition("\n")[0]) == (0, "", words)
    lines = (tmp_path / "sunday.csv").read_text(encoding="utf-8").splitlines()
    assert lines[1].startswith("note,1,")
    assert lines[1].endswith(f"{words}.")
    assert call("log", str(path), "--working", "1")[1].partition("\n")[0] == words
    assert json.loads(call("log", str(path), "--json")[1])["warning"] == words
    path.write_text(without(*ALL), encoding="utf-8")
    assert "not for flight" not in call("log", str(path))[1]
