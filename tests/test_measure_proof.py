"""Known mistakes simulated and judged: how often the right explanation is found."""

from __future__ import annotations

import re

import pytest
from confusion import DOCUMENT, FULL, Tally, courses, distances, matrix, summary, written

# What the capability promises: a mistake that can be told apart ranks first, a right reading is
# called right. Of like ones the true one is first, declared with the first, or at least named.
SEPARABLE_FIRST = 0.95
RIGHT_CALLED_RIGHT = 0.95
LIKE_DECLARED = 0.90
SAMPLE = 700
ANOTHER_SEED = 7
SAMPLING = 0.02
"""Three standard deviations of a share near 0.98 of some 350 cases."""


def held(tally: Tally, slack: float) -> None:
    assert tally.share("told apart", "first") >= SEPARABLE_FIRST - slack, tally.missed
    assert tally.share("right", "first") >= RIGHT_CALLED_RIGHT - slack
    assert tally.share("right", "fits") >= RIGHT_CALLED_RIGHT - slack
    assert tally.share("alike", "first", "declared", "named") >= LIKE_DECLARED - 2 * slack
    assert tally.count("told apart") > 0.1 * tally.table.total()


@pytest.mark.parametrize("run", [distances, courses])
def test_a_small_draw(run: object) -> None:
    assert callable(run)
    held(run(SAMPLE, ANOTHER_SEED), SAMPLING)


@pytest.mark.slow
@pytest.mark.parametrize("name", ["distances", "courses"])
def test_the_tables_in_the_document_keep_the_promise(name: str) -> None:
    """The full ten thousand, as ``python tests/confusion.py`` counted them."""
    text = DOCUMENT.read_text(encoding="utf-8")
    found = re.search(rf"<!-- {name}: .*?-->\n(.*?)\n<!-- end of {name} -->", text, re.S)
    assert found
    shares = dict(re.findall(r"\| ([a-z][^|]*) \| [\d,]+ \| ([\d.]+) % \|", found[1]))
    assert float(shares["a mistake that can be told apart: ranked first"]) >= 95.0
    assert float(shares["read right: ranked first"]) >= 95.0
    assert float(shares["read right: ranked first and said to fit"]) >= 95.0
    counted = [
        int(cell)
        for line in found[1].splitlines()
        if re.match(r"\| \d+ `", line)
        for cell in re.findall(r"(?<=\| )(\d+)(?= \|)", line)
    ]
    assert sum(counted) == FULL


def test_the_tables_are_put_between_their_marks() -> None:
    tally = Tally(("read_right", "none"))
    tally.table["read_right", "read_right"] = 3
    tally.kinds["right", "first"] = 3
    text = "a\n<!-- courses: made -->\nFORMERLY\n<!-- end of courses -->\nz\n"
    changed = written(text, "courses", tally)
    assert changed.startswith("a\n<!-- courses: made -->\n")
    assert changed.endswith("\n<!-- end of courses -->\nz\n")
    assert matrix(tally) in changed
    assert summary(tally) in changed
    assert "FORMERLY" not in changed


def test_a_simulated_mistake_is_the_same_every_time() -> None:
    assert distances(40, 3).table == distances(40, 3).table
    assert courses(40, 3).table == courses(40, 3).table
