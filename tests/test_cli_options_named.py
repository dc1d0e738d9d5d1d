"""Sentences name things; those of the command line alone name its options."""

from __future__ import annotations

import ast
import re
from collections.abc import Callable, Iterator
from importlib import import_module
from pathlib import Path

import click
import pytest

import plotter
from plotter.cli.main import COMMANDS, run
from plotter.messages import SUBJECTS

OPTION = re.compile(r"(?<![\w-])--[a-z][a-z-]+")
PACKAGE = Path(plotter.__file__).parent
REACHES_THE_PAGE = ("earth", "places", "route", "flight", "chart", "formats", "maps", "web")
ONLY_TYPED = {
    "chart/own_plotter.py",  # plotter rule
    "chart/own_plotter_verdict.py",
    "earth/lines.py",  # plotter plot FILE
    "formats/reading.py",
    "formats/frame.py",
    "formats/own_plotter_file.py",
    "maps/tiles.py",  # where the page is started
    "web/serving.py",
}
"""What only a command gives rise to, never the page."""


Call = Callable[..., tuple[int, str, str]]


@pytest.fixture
def call(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Call:
    monkeypatch.chdir(tmp_path)

    def _call(*arguments: str) -> tuple[int, str, str]:
        return run(arguments), *capsys.readouterr()

    return _call


def said(path: Path) -> Iterator[str]:
    """The texts of a module that may be shown: its strings without its docstrings."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    silent = {
        id(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and id(node) not in silent:
            yield str(node.value)


def test_no_message_that_the_page_may_show_names_an_option() -> None:
    paths = [path for layer in REACHES_THE_PAGE for path in (PACKAGE / layer).rglob("*.py")]
    names = {path.relative_to(PACKAGE).as_posix(): path for path in paths}
    assert len(names) > 100
    found = {
        name: match[0]
        for name, path in names.items()
        for text in said(path)
        if (match := OPTION.search(text)) and not text.startswith("\n:root")
    }
    assert set(found) <= ONLY_TYPED | {"maps/palette.py"}, found  # the palette's are CSS variables


@pytest.mark.parametrize("subject", [each for each in SUBJECTS if each != "page"])
def test_only_sentences_of_the_command_line_name_options(subject: str) -> None:
    table = vars(import_module(f"plotter.messages.{subject}"))
    sentences = [table.get(edge, {}) for edge in ("COMMON", "PAGE", "FILE")]
    assert [key for each in sentences for key, words in each.items() if OPTION.search(words)] == []


def test_every_option_named_is_one() -> None:
    options = set()
    for module, name in COMMANDS.values():
        command = getattr(import_module(module), name)
        commands = command.commands.values() if isinstance(command, click.Group) else [command]
        options |= {word for each in commands for one in each.params for word in one.opts}
    tables = [vars(import_module(f"plotter.messages.{subject}")) for subject in SUBJECTS]
    sentences = [words for table in tables for words in table.get("CONSOLE", {}).values()]
    named = {word for words in sentences for word in OPTION.findall(words)}
    assert len(named) >= 6
    assert named <= options


@pytest.mark.parametrize(
    ("words", "option"),
    [
        (("plot", "KRST", "KLSE", "--every", "0"), "--every"),
        (("plot", "KRST", "KLSE", "--every", "0.001"), "--every"),
        (("plot", "KRST", "KLSE", "--clear-of-turns", "-1"), "--clear-of-turns"),
        (("plot", "KRST", "KLSE", "--date", "2019-05-01"), "--allow-old-model"),
        (("measure", "KRST", "KLSE"), "--reading"),
        (("measure", "--course", "090T"), "--readings FILE"),
        (("measure", "KRST", "KLSE", "KEAU", "--reading", "54"), "--readings FILE"),
    ],
)
def test_the_command_line_says_which(call: Call, words: tuple[str, ...], option: str) -> None:
    code, _, err = call(*words, *(() if words[0] == "measure" else ("--as", "none")))
    assert code == 2
    assert option in err


def test_a_caution_gets_its_option_too(call: Call) -> None:
    _, out, _ = call("plot", "KRST", "KLSE", "--every", "900", "--as", "none")
    assert "--every" in " ".join(out.split())
