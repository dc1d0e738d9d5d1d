"""Where the cache is: the platform's own place, or where PLOTTER_HOME says."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from plotter.datastore.home import cache_folder, needed_folder, user_folder
from plotter.errors import WriteFault


def test_plotter_home_moves_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PLOTTER_HOME", str(tmp_path))
    assert cache_folder() == tmp_path


def test_a_relative_home_is_beside_the_current_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("PLOTTER_HOME", "here")
    assert cache_folder() == tmp_path / "here"


def test_a_tilde_is_the_home_folder(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PLOTTER_HOME", "~/plotter-test")
    assert cache_folder() == Path.home() / "plotter-test"


@pytest.mark.parametrize("value", ["", "  "])
def test_else_the_platforms_own_place(
    value: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PLOTTER_HOME", value)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    found = cache_folder()
    assert found is not None
    assert found.is_absolute()
    if sys.platform.startswith("linux"):
        assert found == tmp_path / "plotter"


def test_no_home_no_folder(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PLOTTER_HOME", "~nobody-of-that-name/x")
    assert cache_folder() is None


def test_what_the_pilot_brought_lies_apart_from_the_cache(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PLOTTER_HOME", "")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    if sys.platform.startswith("linux"):
        assert user_folder() == tmp_path / "data" / "plotter"
    monkeypatch.setenv("PLOTTER_HOME", str(tmp_path))
    assert user_folder() == cache_folder() == needed_folder() == tmp_path


def test_where_there_must_be_a_folder_it_says_how_to_name_one(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("PLOTTER_HOME", "~nobody-of-that-name/x")
    with pytest.raises(WriteFault, match="set PLOTTER_HOME"):
        needed_folder()
