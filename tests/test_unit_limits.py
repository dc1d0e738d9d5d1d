"""The limits of a GPS unit: as typed, from a file, and what is no limit."""

from __future__ import annotations

from pathlib import Path

import pytest

from plotter.errors import FileFault, InputError
from plotter.formats.unit_limits import KEYS, NO_LIMITS, Choices, UnitLimits, limits_of, read_limits
from plotter.inputs import open_unit

ALL = (
    "name-length=8, letters=any, route-points=30, routes=4, waypoints=500, decimals=5, "
    "elevations=no, over=thin"
)
MEANT = UnitLimits(8, "any", 30, 4, 500, 5, False, "thin")


def test_every_limit_can_be_typed() -> None:
    assert read_limits(ALL) == MEANT
    assert all(f"{key}=" in ALL for key in KEYS)
    assert read_limits("") == read_limits(" , ") == NO_LIMITS


def test_a_file_holds_the_same_keys(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(
        'name-length = 8\nletters = "any"\nroute_points = 30\nroutes = 4\nwaypoints = 500\n'
        'decimals = 5\nelevations = false\nover = "thin"  # my unit\n',
        encoding="utf-8",
    )
    assert open_unit(str(path)) == open_unit("mine.toml", tmp_path) == MEANT
    assert open_unit(ALL) == MEANT


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("name-length", "write key=value"),
        ("name-length=", "write key=value"),
        (
            "maker=demo",
            "use name-length, letters, route-points, routes, waypoints, decimals, elevations, over",
        ),
        ("route-point=3", "did you mean route-points?"),
        ("name-length=2", "from 3 to 300"),
        ("name-length=six", "name-length six is out of range; enter a whole number from 3 to 300"),
        ("name-length=-6", "name-length -6 is out of range; enter a whole number from 3 to 300"),
        ("decimals=7", "from 2 to 6"),
        ("decimals=5.5", "decimals 5.5 is out of range; enter a whole number from 2 to 6"),
        ("route-points=" + "9" * 5_000, "from 2 to 100,000"),
        ("elevations=maybe", "use yes or no"),
        ("letters=greek", "use capitals or any"),
        ("over=drop", "use split or thin"),
        ("routes=3,routes=4", "given twice"),
    ],
)
def test_what_is_no_limit_is_told_what_to_type(text: str, words: str) -> None:
    with pytest.raises(InputError) as caught:
        read_limits(text)
    assert words in caught.value.message
    assert caught.value.code == "unit"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("routes = [", "not TOML"),
        ("routes = true", "routes True is out of range"),
        ("routes = 1e400", "routes inf is out of range"),
        ("[unit]\nroutes = 3", "unknown limit 'unit'"),
        (
            "a = " + "[" * 20_000,
            "not TOML",
        ),
        ("routes = " + "9" * 5_000, "a number has too many digits"),
    ],
)
def test_a_broken_file_is_told(text: str, words: str, tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(FileFault) as caught:
        open_unit(str(path))
    assert words in caught.value.message
    assert str(path) in caught.value.message


def test_a_missing_file_is_told() -> None:
    with pytest.raises(FileFault, match=r"nowhere\.toml: no such file"):
        open_unit("nowhere.toml")


def test_a_length_of_names_goes_before_the_short_choice() -> None:
    assert Choices(names="6", unit=limits_of({"name-length": 9})).name_limit == 9
    assert Choices(names="6", unit=NO_LIMITS).name_limit == 6
    assert not Choices(unit=MEANT).capitals
