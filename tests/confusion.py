"""The proof of ``plotter measure``: known mistakes simulated, judged and counted.

``python tests/confusion.py`` judges ten thousand sets of distances and ten thousand of courses, and
writes the tables into ``plotter/guide/explanation/measuring.md``; it takes some minutes.
"""

from __future__ import annotations

import re
import sys
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
import rival_distances
import simulated_courses
import simulated_distances

from plotter.chart.measurement import Answer, judge

DOCUMENT = Path(__file__).parent.parent / "plotter/guide/explanation/measuring.md"
SEED = 20_261_125
FULL = 10_000
TOLD_APART = 4.0
"""Reading errors to the nearest other explanation from which a case can be told apart."""
TOO_NEAR = 2.0
"""Nearer than this, readings cannot tell: 95 of 100 errors are as large."""
RIGHT = "read_right"


@dataclass
class Tally:
    """What a run of simulated cases came to."""

    codes: tuple[str, ...]
    table: Counter[tuple[str, str]] = field(default_factory=Counter)
    kinds: Counter[tuple[str, str]] = field(default_factory=Counter)
    missed: list[str] = field(default_factory=list)

    def take(self, truth: str, answer: Answer, nearest: dict[str, float]) -> None:
        """Count one case."""
        self.table[truth, answer.best] += 1
        if truth == RIGHT:
            called = answer.best == RIGHT
            self.kinds["right", "first" if called else "absent"] += 1
            self.kinds["right", "fits"] += called and answer.verdict == "fits"
            return
        kind, found = _kind(nearest), _found(truth, answer)
        self.kinds[kind, found] += 1
        if kind == "told apart" and found != "first":
            self.missed.append(f"{truth} taken for {answer.best}")

    def count(self, kind: str) -> int:
        """How many cases of a kind there were."""
        return sum(n for (k, found), n in self.kinds.items() if k == kind and found != "fits")

    def share(self, kind: str, *found: str) -> float:
        """Share of the cases of a kind that came out as one of these."""
        return sum(self.kinds[kind, each] for each in found) / max(self.count(kind), 1)


def _kind(nearest: dict[str, float]) -> str:
    closest = min(nearest.values())
    if closest >= TOLD_APART:
        return "told apart"
    if nearest[RIGHT] < TOO_NEAR:
        return "too small to show"
    return "alike" if closest < TOO_NEAR else "in between"


def _found(truth: str, answer: Answer) -> str:
    """The place the true explanation has in an answer."""
    if answer.best == truth:
        return "first"
    if any({answer.best, truth} == set(pair) for pair in answer.inseparable):
        return "declared"
    named = {each.code for each in answer.explanations if each.code != "none"}
    if truth in named:
        return "named"
    return "called right" if answer.best == RIGHT else "absent"


def distances(count: int, seed: int = SEED) -> Tally:
    """Judge simulated sets of distances, half of them read right."""
    random = np.random.default_rng(seed)
    tally = Tally((RIGHT, *simulated_distances.MISTAKES))
    for truth in _truths(simulated_distances.MISTAKES, count):
        case = simulated_distances.simulate(truth, random)
        answer = judge(case.legs(), case.desk()).distance
        assert answer is not None
        near = {} if truth == RIGHT else rival_distances.distances(case)
        tally.take(truth, answer, near)
    return tally


def courses(count: int, seed: int = SEED) -> Tally:
    """Judge simulated sets of courses, half of them read right."""
    random = np.random.default_rng(seed)
    tally = Tally((RIGHT, *simulated_courses.MISTAKES))
    for truth in _truths(simulated_courses.MISTAKES, count):
        case = simulated_courses.simulate(truth, random)
        answer = judge(case.legs(), case.desk()).course
        assert answer is not None
        near = {} if truth == RIGHT else simulated_courses.distances(case)
        tally.take(truth, answer, near)
    return tally


def _truths(mistakes: tuple[str, ...], count: int) -> Iterable[str]:
    for number in range(count):
        yield RIGHT if number % 2 == 0 else mistakes[number // 2 % len(mistakes)]


def summary(tally: Tally) -> str:
    """The shares that matter, as a table."""
    rows = [
        ("read right: ranked first", "right", ("first",)),
        ("read right: ranked first and said to fit", "right", ("fits",)),
        ("a mistake that can be told apart: ranked first", "told apart", ("first",)),
        ("one like another: ranked first", "alike", ("first",)),
        ("one like another: first, declared or named", "alike", ("first", "declared", "named")),
        (
            "one too small to show: called right, or named",
            "too small to show",
            ("called right", "first", "declared", "named"),
        ),
        ("one in between: first, declared or named", "in between", ("first", "declared", "named")),
    ]
    lines = ["| cases | sets | share |", "|---|---:|---:|"]
    lines += [
        f"| {title} | {tally.count(kind):,} | {100 * tally.share(kind, *found):.1f} % |"
        for title, kind, found in rows
    ]
    return "\n".join(lines)


def matrix(tally: Tally) -> str:
    """The confusion table: a row a mistake made, a column an explanation ranked first."""
    numbers = range(1, len(tally.codes) + 1)
    lines = [
        "| made | " + " | ".join(map(str, numbers)) + " |",
        "|---|" + "---:|" * len(tally.codes),
    ]
    for number, truth in zip(numbers, tally.codes, strict=True):
        cells = [str(tally.table[truth, code] or "") for code in tally.codes]
        lines.append(f"| {number} `{truth}` | " + " | ".join(cells) + " |")
    return "\n".join(lines)


def written(text: str, name: str, tally: Tally) -> str:
    """A document with the tables of a tally put between its marks."""
    made = f"{summary(tally)}\n\n{matrix(tally)}"
    marks = rf"(<!-- {name}: .*?-->\n).*?(\n<!-- end of {name} -->)"
    changed, count = re.subn(marks, lambda at: at[1] + made + at[2], text, flags=re.S)
    assert count == 1, f"no marks for {name} in {DOCUMENT}"
    return changed


if __name__ == "__main__":
    document = DOCUMENT.read_text(encoding="utf-8")
    wanted = int(sys.argv[1]) if len(sys.argv) > 1 else FULL
    for title, run in (("distances", distances), ("courses", courses)):
        counted = run(wanted)
        print(f"{title}: {wanted:,} sets\n{summary(counted)}\n")
        print(Counter(counted.missed).most_common(20))
        document = written(document, title, counted)
    DOCUMENT.write_text(document, encoding="utf-8")
