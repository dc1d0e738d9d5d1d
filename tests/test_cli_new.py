"""``plotter new``, and what other commands do with the file it writes."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from plotter import api
from plotter.cli.main import run
from plotter.cli.new import new
from plotter.flight.plan.schema import plan_schema
from plotter.flight.plan.starter import starter
from plotter.wording import STANDING_SHORT


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def call(*arguments: str) -> Result:
    return CliRunner().invoke(new, list(arguments))


def test_it_writes_the_starter(here: Path) -> None:
    done = call("sunday")
    assert done.exit_code == 0
    assert (here / "sunday.toml").read_text(encoding="utf-8") == starter("sunday")
    assert str(here / "sunday.toml") in done.output
    assert STANDING_SHORT[1] in " ".join(done.output.split())


def test_into_a_folder_and_with_the_suffix_typed(here: Path) -> None:
    assert call("sunday.toml", "--into", "plans/summer").exit_code == 0
    assert api.plan(here / "plans" / "summer" / "sunday.toml").name == "sunday"


def test_a_changed_plan_is_never_lost(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = here / "sunday.toml"
    path.write_text("# mine\n")
    assert run(["new", "sunday"]) == 1
    assert "--replace" in capsys.readouterr().err
    assert path.read_text() == "# mine\n"
    assert run(["new", "sunday", "--replace"]) == 0
    assert path.read_text(encoding="utf-8") == starter("sunday")
    assert run(["new", "sunday"]) == 0  # the same already: nothing to lose
    assert [each.name for each in here.iterdir()] == ["sunday.toml"]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ([], "no NAME given"),
        (["a/b"], "use 'a-b'"),
        ([""], "is empty; use"),
        (["..toml"], "; use '"),
        (["x", "--schema"], "leave NAME out"),
    ],
)
def test_bad_names(
    arguments: list[str], words: str, here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["new", *arguments]) == 2
    assert words in capsys.readouterr().err
    assert not list(here.iterdir())


def test_the_schema_is_printed(here: Path) -> None:
    done = call("--schema")
    assert json.loads(done.output) == plan_schema()
    assert not list(here.iterdir())


PLOT = ["plot", "sunday.toml", "--as", "none"]


def plotted(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, object]:
    assert run([*PLOT, "--json", *arguments]) == 0
    document: dict[str, object] = json.loads(capsys.readouterr().out)
    return document


def test_plot_reads_it_and_what_is_typed_wins(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    call("sunday")
    by_hand = ["plot", "KRST", "KLSE", "KEAU", "KDLH", "--as", "none", "--json"]
    by_hand += ["--date", "2026-07-04", "--altitude", "4500", "--name", "sunday"]
    assert run(by_hand) == 0
    document = json.loads(capsys.readouterr().out)
    assert plotted(capsys) == document
    changed = plotted(capsys, "--every", "30", "--line", "rhumb", "--date", "2027-01-02")
    assert run([*by_hand, "--every", "30", "--line", "rhumb", "--date", "2027-01-02"]) == 0
    assert changed == json.loads(capsys.readouterr().out)


def test_an_option_typed_as_its_own_default_wins_too(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = starter("sunday").replace("checkpoints_every_nm = 10", "checkpoints_every_nm = 50")
    (here / "sunday.toml").write_text(text)
    tens = plotted(capsys, "--every", "10")["checkpoints"]
    fifties = plotted(capsys)["checkpoints"]
    assert isinstance(tens, list)
    assert isinstance(fifties, list)
    assert (len(tens), len(fifties)) == (len(api.plot("sunday.toml", every_nm=10).checkpoints), 4)


def test_files_are_called_as_the_plan_file(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (here / "our trip.toml").write_text(starter('Sunday: "the big one"'))
    assert run(["plot", "our trip.toml", "--as", "gpx"]) == 0
    assert run(["plot", "our trip.toml", "--as", "gpx", "--name", "other"]) == 0
    assert sorted(path.name for path in (here / "exports").iterdir()) == [
        "other.gpx",
        "our trip.gpx",
    ]
    assert "Sunday:" in (here / "exports" / "our trip.gpx").read_text(encoding="utf-8")


def test_own_points_lie_beside_the_plan(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = here / "plans"
    folder.mkdir()
    text = starter("x").replace("# points =", "points =").replace("KLSE KEAU", "Barn")
    text = text.replace("[3500, 4500, 4500]", "4500")
    (folder / "x.toml").write_text(text)
    (folder / "points.csv").write_text("name,latitude,longitude\nBarn,44,-92\n")
    other = here / "other.csv"
    other.write_text("name,latitude,longitude\nBarn,44.5,-92\n")
    assert api.plot(str(folder / "x.toml")).route.waypoints[1].position.latitude_deg == 44.0
    typed = ["plot", str(folder / "x.toml"), "--as", "none", "--json", "--points", str(other)]
    assert run(typed) == 0
    second = json.loads(capsys.readouterr().out)["points"][1]
    assert second["latitude_deg"] == 44.5


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["sunday.toml", "KRST"], "enter it alone"),
        (["nowhere.toml"], "nowhere.toml: no such file"),
        (["."], ""),
    ],
)
def test_a_plan_file_stands_alone_and_must_be_there(
    arguments: list[str], words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    call("sunday")
    assert run(["plot", *arguments, "--as", "none"]) == 2
    assert words in capsys.readouterr().err


def test_every_fault_of_a_plan_is_told_with_its_line(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = starter("x").replace("= 8.5", "= -8.5").replace("speed_kt = 15", "sped_kt = 15")
    (here / "x.toml").write_text(text)
    assert run(["plot", "x.toml", "--as", "none"]) == 2
    told = capsys.readouterr().err
    assert told.count("Error: x.toml, line ") == 3
    assert "Traceback" not in told
    assert run(["plot", "x.toml", "--as", "none", "--json"]) == 2
    error = json.loads(capsys.readouterr().err)["error"]
    assert [one["where"]["key"] for one in error["all"]] == [
        "aircraft.cruise_fuel_per_hour",
        "wind.1.speed_kt",
        "wind.1.sped_kt",
    ]
    line = error["where"]["line"]
    assert "-8.5" in text.split("\n")[line - 1]
