"""The table of formats in the guide is made from the registry.

``PLOTTER_UPDATE_DOCS=1`` writes it again.
"""

from __future__ import annotations

import os
import re
from pathlib import Path

from plotter.exports import FORMATS, Format

PAGE = Path(__file__).parent.parent / "plotter/guide/reference/formats.md"
BLOCK = re.compile(r"(<!-- formats: [^\n]*-->\n)(.*?)(<!-- end of formats -->\n)", re.S)


def table() -> str:
    rows = ["| `--as` | file | is a | leaves out | read as |", "|---|---|---|---|---|"]
    return "\n".join([*rows, *map(row, FORMATS.values())]) + "\n"


def row(made: Format) -> str:
    cells = (f"`{made.name}`", f"`{made.suffix}`", made.title, made.loses, made.reads or "–")
    return f"| {' | '.join(cells)} |"


def test_the_guide_has_the_table_of_the_registry() -> None:
    text = PAGE.read_bytes().decode("utf-8")
    if os.environ.get("PLOTTER_UPDATE_DOCS") == "1":
        text = BLOCK.sub(lambda found: found[1] + table() + found[3], text)
        PAGE.write_bytes(text.encode("utf-8"))
    (block,) = BLOCK.findall(text)
    assert block[1] == table()


def test_every_format_is_said_in_full() -> None:
    for made in FORMATS.values():
        assert made.loses[0].islower() or made.loses.startswith("`")
        assert not made.loses.endswith(".")
        assert "|" not in row(made).strip("| ").replace(" | ", "")
