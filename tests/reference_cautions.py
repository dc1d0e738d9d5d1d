"""The reference page of cautions: every code of the package, its ranks, its sentence."""

from __future__ import annotations

import ast
import string
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path

from reference import code, table

from plotter.messages import SUBJECTS
from plotter.messages import _table as sentences_of
from plotter.route.values import RANKS

PACKAGE = Path(__file__).parent.parent / "plotter"
SUBJECTS_OF = {
    "route": "Route",
    "flight": "Navigation log",
    "chart": "Measuring by hand",
    "formats": "Files",
    "maps": "Map",
    "web": "Planning page",
    "cli": "Places",
}
# Cautions whose code is a value, by the function that raises them: the codes and their ranks.
FROM_VALUES: Mapping[str, Mapping[str, str]] = {
    "route.checks._waypoint_cautions": {
        "heliport": "CHECK",
        "seaplane-base": "CHECK",
        "balloonport": "CHECK",
    },
    "route.checks._leg_cautions": {
        "magnetic-blackout-zone": "CHECK",
        "magnetic-caution-zone": "CHECK",
    },
    "flight.cautions.legs._low": {
        "ground-within-500-ft": "CHECK",
        "ground-within-1000-ft": "CHECK",
    },
    "formats.gps_unit.unit_cautions": {
        "unit-checkpoints": "CHECK",
        "unit-thinned": "CHECK",
        "unit-split": "CHECK",
        "unit-decimals": "CHECK",
    },
}
# Notes whose message is a value of the place that was found.
NOTES_OF_PLACES = (("route", "settled"), ("route", "twin"), ("cli", "twin"))
RAISED_AT_A_LANDING = ("closed", "heliport", "seaplane-base", "balloonport")

Found = dict[tuple[str, str], tuple[set[str], str]]


def page() -> str:
    found = cautions()
    parts = ["# Cautions\n", INTRO]
    for folder, title in SUBJECTS_OF.items():
        rows = [
            (code(key), ", ".join(rank for rank in RANKS if rank in ranks), words)
            for (subject, key), (ranks, words) in sorted(found.items())
            if subject == folder
        ]
        if rows:
            parts += [f"## {title}\n", table(("code", "rank", "says"), rows)]
    return "\n".join(parts)


INTRO = """STOP: the flight cannot be flown as planned. CHECK: look it up, or change the plan.
NOTE: for information. The code of a caution stays the same however its sentence is worded. It
is printed in `--json`, and `[quiet]` in a plan file takes it. A word in ‹brackets› is a value
of the sentence.
"""


def cautions() -> Found:
    """Every code by the folder it is raised in, with its ranks and its sentences."""
    found: Found = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        folder = path.relative_to(PACKAGE).parts[0]
        for ranks, key, words in _Module(path).cautions():
            at = folder, key.partition(".")[0]
            known, said = found.get(at, (set(), ""))
            more = words or sentence(key)
            said = said if more in said else " — ".join(filter(None, (said, more)))
            found[at] = (known | ranks, said)
    for key in RAISED_AT_A_LANDING:
        found["route", key][0].add("STOP")
    found |= {at: ({"NOTE"}, sentence(at[1])) for at in NOTES_OF_PLACES}
    return found


@cache
def catalogue() -> Mapping[str, str]:
    known: dict[str, str] = {}
    for subject in SUBJECTS:
        known |= getattr(sentences_of(subject), "COMMON", {})
    return known


def sentence(key: str) -> str:
    """The sentence of a key, or those of its variants where it has none of its own."""
    variants = [words for name, words in catalogue().items() if name.startswith(f"{key}.")]
    return " — ".join(map(shown, [catalogue()[key]] if key in catalogue() else variants))


def shown(template: str) -> str:
    """A template with its fields as names.

    >>> shown("{amount:fuel_left} {unit} left on {n:leg|legs} {legs:, }")
    '‹amount› ‹unit› left on legs ‹legs›'
    """
    parts = []
    for text, name, spec, _ in string.Formatter().parse(template):
        parts.append(text)
        if name is not None:
            _, bar, several = (spec or "").partition("|")
            parts.append(several if bar else f"‹{_plain(name)}›")
    return "".join(parts).replace("<", "&lt;")


def _plain(name: str) -> str:
    words = name.split("_")
    while len(words) > 1 and words[-1] in ("ft", "nm", "kt", "deg", "min"):
        words.pop()
    return " ".join(words)


class _Module:
    """One module, in which names are followed to the strings and messages they were given."""

    def __init__(self, path: Path) -> None:
        self.name = ".".join(path.relative_to(PACKAGE).with_suffix("").parts)
        self.tree = ast.parse(path.read_text(encoding="utf-8"))

    def cautions(self) -> Iterator[tuple[set[str], str, str]]:
        for function in ast.walk(self.tree):
            if isinstance(function, ast.FunctionDef):
                for node in ast.walk(function):
                    if isinstance(node, ast.Call) and _called(node) == "Caution":
                        yield from self._one(node, function)

    def _one(
        self, node: ast.Call, function: ast.FunctionDef
    ) -> Iterator[tuple[set[str], str, str]]:
        ranks = set(self._strings(node.args[0], function)) & set(RANKS)
        for said in self._messages(node.args[1], function):
            words = self._words(said.args[1], function) if _called(said) == "literal" else ""
            keys = list(self._strings(said.args[0], function))
            for key in keys:
                yield ranks, key, words
            if not keys:
                for key, rank in FROM_VALUES[f"{self.name}.{function.name}"].items():
                    yield {rank}, key, words

    def _messages(self, node: ast.AST, function: ast.FunctionDef) -> Iterator[ast.Call]:
        for inner in ast.walk(node):
            if isinstance(inner, ast.Call) and _called(inner) in ("message", "literal"):
                yield inner
                return
        if isinstance(node, ast.Name):
            for value in self._given(node.id, function):
                yield from self._messages(value, function)
        elif isinstance(node, ast.Call):
            for other in ast.walk(self.tree):
                if isinstance(other, ast.FunctionDef) and other.name == _called(node):
                    for value in _returned(other):
                        yield from self._messages(value, other)

    def _given(self, name: str, function: ast.FunctionDef) -> Iterator[ast.expr]:
        """What a name was given in a function, else in its module."""
        for scope in (function, self.tree):
            values = [
                inner.value
                for inner in ast.walk(scope)
                if isinstance(inner, ast.Assign)
                and any(isinstance(t, ast.Name) and t.id == name for t in inner.targets)
            ]
            if values:
                yield from values
                return

    def _strings(self, node: ast.AST, function: ast.FunctionDef) -> Iterator[str]:
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value
        elif isinstance(node, ast.IfExp):
            yield from self._strings(node.body, function)
            yield from self._strings(node.orelse, function)
        elif isinstance(node, ast.Name):
            for value in self._given(node.id, function):
                yield from self._strings(value, function)

    def _words(self, node: ast.AST, function: ast.FunctionDef) -> str:
        """A sentence that is put together where it is used, its values as an ellipsis."""
        if isinstance(node, ast.Constant):
            return str(node.value)
        if isinstance(node, ast.JoinedStr):
            return "".join(self._words(part, function) for part in node.values)
        if isinstance(node, ast.BinOp):
            return self._words(node.left, function) + self._words(node.right, function)
        if isinstance(node, ast.Name):
            before = [v for v in self._given(node.id, function) if v.lineno <= node.lineno]
            return self._words(before[-1], function) if before else "…"
        return "…"


def _called(node: ast.Call) -> str:
    return node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")


def _returned(function: ast.FunctionDef) -> Iterable[ast.expr]:
    return [n.value for n in ast.walk(function) if isinstance(n, ast.Return) and n.value]
