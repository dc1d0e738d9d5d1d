"""The published figures that lie in tests/published, as rows by id."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

PUBLISHED = Path(__file__).parent / "published"


def published(name: str) -> dict[str, Any]:
    """Every row of a file of published figures, by its id."""
    rows = json.loads((PUBLISHED / f"{name}.json").read_text(encoding="utf-8"))
    by_id = {row["id"]: row for row in rows}
    assert len(by_id) == len(rows), f"{name}.json names a row twice"
    for row in rows:
        assert row["source"], row["id"]
        assert row["status"], row["id"]
    return by_id
