"""One catalogue: every key used has a sentence, every sentence a use, every field a value."""

from __future__ import annotations

import ast
import string
from collections.abc import Iterator
from pathlib import Path

import pytest

from plotter.messages import SUBJECTS, Edge, Message, literal, message, text
from plotter.messages import _table as table_of

PACKAGE = Path(__file__).parent.parent / "plotter"
EDGES: tuple[Edge, ...] = ("python", "console", "page", "file")
TABLES = ("COMMON", *(edge.upper() for edge in EDGES))
ERRORS = ("Error", "Fault", "CannotDo", "TargetExists", "Identifier")


def sentences() -> Iterator[tuple[str, str, str]]:
    """Subject and table, key, template."""
    for subject in SUBJECTS:
        for name in TABLES:
            for key, template in getattr(table_of(subject), name, {}).items():
                yield f"{subject}.{name}", key, template


def fields(template: str) -> set[str]:
    found = set()
    for _, name, spec, _ in string.Formatter().parse(template):
        if name is not None:
            found.add(name.partition("[")[0].partition(".")[0])
            found |= fields(spec or "")
    return found


CATALOGUE = {key: template for table, key, template in sentences() if table.endswith("COMMON")}


def called(node: ast.Call) -> str:
    return node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")


def calls() -> Iterator[tuple[str, str, set[str] | None]]:
    """Where a key is used with which values; none where they are handed on as a mapping."""
    for path in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call) or not node.args:
                continue
            first, name = node.args[0], called(node)
            if not (isinstance(first, ast.Constant) and isinstance(first.value, str)):
                continue
            if name == "message" or (name.endswith(ERRORS) and first.value in CATALOGUE):
                names = {each.arg for each in node.keywords}
                at = f"{path.relative_to(PACKAGE)}:{node.lineno}"
                yield at, first.value, None if None in names else {str(n) for n in names}


def test_every_key_that_is_used_has_a_sentence() -> None:
    assert {f"{at}: {key}" for at, key, _ in calls() if key not in CATALOGUE} == set()


def test_every_field_of_a_sentence_has_its_value() -> None:
    missing = {
        f"{at}: {key} lacks {sorted(fields(CATALOGUE[key]) - given)}"
        for at, key, given in calls()
        if given is not None and key in CATALOGUE and fields(CATALOGUE[key]) - given
    }
    assert missing == set()


def test_every_sentence_has_a_use() -> None:
    texts = {
        node.value
        for path in PACKAGE.rglob("*.py")
        if path.parent.name != "messages"
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
    assert {key for _, key, _ in sentences() if key not in texts} == set()


def test_a_key_stands_once() -> None:
    keys = [(table.partition(".")[2], key) for table, key, _ in sentences()]
    assert len(keys) == len(set(keys))


def test_an_edge_says_only_what_is_said_in_common_too() -> None:
    own = {key for table, key, _ in sentences() if not table.endswith("COMMON")}
    assert own - CATALOGUE.keys() == set()


@pytest.mark.parametrize(
    ("template", "value", "shown"),
    [
        ("{x:leg|legs}", 1, "leg"),
        ("{x:leg|legs}", 3, "legs"),
        ("{x:fuel_left}", 3.99, "3.9"),
        ("{x:T}", 64.4, "064°T"),
        ("{x:, }", ("a", "b"), "a, b"),
        ("{x: or }", ("a", "b"), "a or b"),
        ("{x:Legs}: low", (3, 1, 2), "Legs 1–3: low"),
        ("{x:legs}", ("4",), "leg 4"),
        ("{x:.1f}", 2.04, "2.0"),
        ("{x}", literal("a", "inner"), "inner"),
    ],
)
def test_values_are_shown_as_the_template_asks(
    monkeypatch: pytest.MonkeyPatch, template: str, value: object, shown: str
) -> None:
    monkeypatch.setattr("plotter.messages._template", lambda key, edge: template)
    assert text(message("demo", x=value)) == shown


def test_a_message_is_a_value() -> None:
    assert message("reserve", b=2, a=1) == message("reserve", a=1, b=2)
    assert len({message("night"), message("night")}) == 1
    assert message("reserve.dry", row=3)["row"] == 3
    assert Message("reserve.dry").code == "reserve"


def test_a_key_without_a_sentence_is_a_fault_of_ours() -> None:
    with pytest.raises(KeyError, match="nonsense"):
        text(message("nonsense", a=1))
