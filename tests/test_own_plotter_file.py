"""The file that keeps a tested plotter: written whole, found again, never trusted blindly."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from plotter.chart.own_plotter import OwnPlotter, read_pairs
from plotter.chart.scales import SECTIONAL
from plotter.datastore.home import user_folder
from plotter.datastore.own_plotter import keep_own_plotter, kept_path, load_own_plotter
from plotter.errors import FileFault, TargetExists, WriteFault
from plotter.formats.own_plotter_file import own_plotter_bytes, read_own_plotter

MINE = OwnPlotter(SECTIONAL, "nm", read_pairs("ruler 50 = plotter 50.6, ruler 100 = plotter 101.3"))
OTHER = OwnPlotter(SECTIONAL, "sm", read_pairs("10 = 10.1, 70 = 70.3", "sm"), 0.3)


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "home"
    monkeypatch.setenv("PLOTTER_HOME", str(folder))
    return folder


@pytest.mark.parametrize("tested", [MINE, OTHER])
def test_what_is_kept_is_found_again(tested: OwnPlotter, home: Path) -> None:
    assert load_own_plotter() is None
    assert keep_own_plotter(tested) == home / "my-plotter.json"
    assert load_own_plotter() == tested
    assert sorted(path.name for path in home.iterdir()) == ["my-plotter.json"]


def test_the_same_test_is_the_same_bytes() -> None:
    assert own_plotter_bytes(MINE) == own_plotter_bytes(MINE)
    held = json.loads(own_plotter_bytes(MINE))
    assert held["schema"] == "own-plotter-1"
    assert held["fitted"]["factor"] == pytest.approx(1.014)
    assert held["fitted"]["offset_nm"] == pytest.approx(-0.1)
    assert len(held["cautions"]) == 3


def test_another_test_is_not_written_over_unless_told(tmp_path: Path) -> None:
    path = tmp_path / "mine.json"
    keep_own_plotter(MINE, path)
    keep_own_plotter(MINE, path)
    with pytest.raises(TargetExists, match="choose to replace it, or choose another file"):
        keep_own_plotter(OTHER, path)
    assert load_own_plotter(path) == MINE
    keep_own_plotter(OTHER, path, replace=True)
    assert load_own_plotter(path) == OTHER


def test_a_folder_in_the_way_is_not_replaced(tmp_path: Path) -> None:
    with pytest.raises(WriteFault, match="is a folder"):
        keep_own_plotter(MINE, tmp_path, replace=True)


def test_figures_edited_by_hand_do_not_count_but_pairs_do(tmp_path: Path) -> None:
    path = tmp_path / "mine.json"
    held = json.loads(own_plotter_bytes(MINE))
    held["fitted"]["factor"] = 1.0
    held["verdict"] = "trust"
    path.write_text(json.dumps(held), encoding="utf-8")
    assert read_own_plotter(path) == MINE


GOOD = json.loads(own_plotter_bytes(MINE))


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"{",
        b"[]",
        b"null",
        b"\xff\xfe",
        b"{}",
        b"[" * 100_000,
        b" " * 200_000,
        json.dumps(GOOD | {"schema": "plot-1"}).encode(),
        json.dumps(GOOD | {"chart": "moon"}).encode(),
        json.dumps(GOOD | {"chart": 3}).encode(),
        json.dumps(GOOD | {"edge": "km"}).encode(),
        json.dumps(GOOD | {"pairs": []}).encode(),
        json.dumps(GOOD | {"pairs": 5}).encode(),
        json.dumps(GOOD | {"pairs": [{"ruler": "50", "plotter": 50, "decimals": 1}]}).encode(),
        json.dumps(GOOD | {"pairs": [{"ruler": 50, "plotter": True, "decimals": 1}]}).encode(),
        json.dumps(GOOD | {"pairs": [{"ruler": 50, "plotter": 50, "decimals": 400}]}).encode(),
        json.dumps(GOOD | {"pairs": [{"ruler": 50, "plotter": 506, "decimals": 0}]}).encode(),
        json.dumps(GOOD | {"reading_error_mm": -1}).encode(),
        b'{"schema": "own-plotter-1", "pairs": [{"ruler": NaN, "plotter": 1, "decimals": 1}],'
        b' "chart": "sectional", "edge": "nm", "reading_error_mm": 0.5}',
    ],
)
def test_a_damaged_file_is_said_with_what_to_do(content: bytes, tmp_path: Path) -> None:
    path = tmp_path / "mine.json"
    path.write_bytes(content)
    with pytest.raises(FileFault, match="test the plotter again"):
        load_own_plotter(path)


def test_a_file_that_is_named_must_be_there(tmp_path: Path) -> None:
    with pytest.raises(FileFault, match="cannot be read"):
        load_own_plotter(tmp_path / "none.json")


def test_without_a_home_a_file_must_be_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PLOTTER_HOME", "~nobody-of-that-name/x")
    assert user_folder() is None
    assert load_own_plotter() is None
    with pytest.raises(WriteFault, match="--keep FILE"):
        kept_path()


def test_what_is_the_users_own_is_not_in_the_cache(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("PLOTTER_HOME", "")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    found = user_folder()
    assert found is not None
    assert "cache" not in found.parts[-2:]
