"""The reference of the guide is made from the code. ``PLOTTER_UPDATE_DOCS=1`` writes it again."""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from pathlib import Path

import pytest
import reference
import reference_cautions
from reference import GUIDE, MADE

PAGES: dict[str, Callable[[Path], str]] = {
    "commands": lambda _: reference.commands(),
    "route-notation": reference.notation,
    "plan-keys": lambda _: reference.plan_keys(),
    "cautions": lambda _: reference_cautions.page(),
    "json": reference.json_documents,
    "python": lambda _: reference.python(),
}


def test_every_document_for_programs_has_its_keys_listed() -> None:
    named = re.compile(r'(?:"schema": |SCHEMA = )"([a-z-]+-\d)"')
    texts = (path.read_text(encoding="utf-8") for path in (GUIDE.parent).rglob("*.py"))
    found = {name for text in texts for name in named.findall(text)}
    assert len(found) >= 8
    assert found - reference.DOCUMENTS.keys() == set()


@pytest.mark.parametrize("name", PAGES)
def test_the_page_is_what_the_code_says(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    path = GUIDE / "reference" / f"{name}.md"
    made = MADE + PAGES[name](tmp_path)
    if os.environ.get("PLOTTER_UPDATE_DOCS") == "1":
        path.write_bytes(made.encode("utf-8"))
    assert path.read_bytes().decode("utf-8") == made
