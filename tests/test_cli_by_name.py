"""A name where an identifier goes: what to type for it, and the command that looks for more."""

from __future__ import annotations

import json
import shlex
from collections.abc import Callable

import pytest

from plotter.cli import faults
from plotter.cli.faults import with_names
from plotter.cli.main import run
from plotter.errors import DataFault, InputError, RouteError, UnknownIdentifier, Where
from plotter.places.search import search
from plotter.places.store import Store

Call = Callable[..., tuple[int, str, str]]


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str], real_store: Store) -> Call:
    search(real_store, "rochester")  # the index is there from now on

    def _call(*arguments: str) -> tuple[int, str, str]:
        code = run(arguments)
        out, err = capsys.readouterr()
        return code, out, err

    return _call


def unknown(text: str, *candidates: str) -> UnknownIdentifier:
    where = Where(text, 0, len(text))
    return UnknownIdentifier(f"no place '{text}' in the data", where=where, candidates=candidates)


@pytest.mark.parametrize(
    ("arguments", "typed"),
    [
        (("plot", "ROCHESTER", "KLSE", "--as", "none"), "KRST"),
        (("plot", "PARIS", "LFPB", "--as", "none"), "LFPG"),
        (("plot", "BARN=Minneapolis", "KLSE", "--as", "none"), "KMSP"),
        (("plot", "airport:rochester", "KLSE", "--as", "none"), "KRST"),
        (("near", "la", "crosse"), "KLSE"),
        (("airport", "rochester"), "KRST"),
        (("airport", "la crosse"), "KLSE"),
        (("measure", "rochestr", "KLSE", "--reading", "54"), "KRST"),
    ],
)
def test_a_name_is_answered_with_what_to_type(
    call: Call, arguments: tuple[str, ...], typed: str
) -> None:
    code, out, err = call(*arguments)
    assert (code, out) == (2, "")
    assert any(line.split()[:1] == [typed] for line in err.splitlines()), err
    assert "plotter find " in err


def test_what_it_says_to_type_can_be_typed(call: Call) -> None:
    error = json.loads(call("plot", "LaCrosse", "KRST", "--as", "none", "--json")[2])["error"]
    assert len(error["candidates"]) > 1
    for typed in error["candidates"]:
        assert call("plot", *shlex.split(typed), "KDLH", "--as", "none")[0] == 0, typed


def test_a_town_is_not_offered_where_none_can_be_typed(call: Call) -> None:
    error = json.loads(call("airport", "rochester", "--json")[2])["error"]
    assert "KRST" in error["candidates"]
    for typed in error["candidates"]:
        assert call("airport", typed)[0] == 0, typed


def test_a_slip_in_an_identifier_is_answered_as_one(call: Call) -> None:
    err = call("plot", "KRST", "KDHL", "--as", "none")[2]
    assert "did you mean KDLH" in err
    assert "plotter find" not in err


def test_names_and_identifiers_spelled_alike_are_one_list(call: Call) -> None:
    err = call("plot", "PARIS", "KRST", "--as", "none")[2]
    assert "did you mean" not in err
    assert "places with that name or spelled like it, and what to type" in err
    assert err.index("\n  LFPG ") < err.index("\n  PARS ") < err.index("\n  for more: ")
    assert "to search by name: plotter find PARSI" in call("plot", "PARSI", "KRST")[2]


def test_every_such_word_of_a_route_is_answered(call: Call) -> None:
    err = call("plot", "Rochester", "Minneapolis", "--as", "none")[2]
    assert "KRST" in err
    assert "KMSP" in err
    assert err.count("plotter find") == 2


@pytest.mark.parametrize("word", ["ROCHESTER,KLSE", "XX-0873", "12345678", "+"])
def test_what_is_no_name_is_not_looked_for(call: Call, word: str) -> None:
    assert "plotter find" not in call("plot", word, "KRST", "--as", "none")[2]


def test_a_position_is_sent_to_the_command_that_takes_one(call: Call) -> None:
    code, _, err = call("airport", "43.9,-92.5")
    assert code == 2
    assert "plotter near 43.9,-92.5" in err


def test_a_key_of_the_dataset_is_no_name(call: Call) -> None:
    assert "plotter find" not in call("plot", "key:foo", "KRST", "--as", "none")[2]


def test_without_an_index_nothing_is_built_for_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(faults, "open_ready", lambda: None)
    fault = with_names(unknown("ROCHESTER"))
    assert fault.message.endswith("\n  to search by name: plotter find ROCHESTER")
    assert fault.where == Where("ROCHESTER", 0, 9)


def test_a_search_that_fails_leaves_the_fault_as_it_is(
    monkeypatch: pytest.MonkeyPatch, real_store: Store
) -> None:
    def broken(*_: object) -> None:
        raise DataFault("no index")

    monkeypatch.setattr(faults, "search", broken)
    monkeypatch.setattr(faults, "open_ready", lambda: Kept(real_store))
    assert "plotter find ROCHESTER" in with_names(unknown("ROCHESTER")).message


class Kept:
    """A store that is not closed: other tests use it."""

    def __init__(self, store: Store) -> None:
        self.store = store

    def __enter__(self) -> Store:
        return self.store

    def __exit__(self, *_: object) -> None:
        pass


def test_only_such_faults_are_changed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(faults, "open_ready", lambda: None)
    other = InputError("no", code="bearing", where=Where("Rochester", 0, 9))
    both = with_names(RouteError([other, unknown("Rochester")]))
    assert isinstance(both, RouteError)
    assert both.faults[0].message == "no"
    assert "plotter find" in both.faults[1].message
    without_place = UnknownIdentifier("no identifier is given")
    assert with_names(without_place).message == without_place.message


def test_what_a_shell_would_take_apart_is_quoted(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(faults, "open_ready", lambda: None)
    assert "plotter find 'O'\"'\"'Hare'" in with_names(unknown("O'Hare")).message
    assert "plotter find 'x$(id)'" in with_names(unknown("x$(id)")).message
