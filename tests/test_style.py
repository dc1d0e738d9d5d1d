"""Types and style hold everywhere: mypy strict, ruff's rules, ruff's format."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent


@pytest.mark.slow
@pytest.mark.parametrize(
    "command",
    [["mypy"], ["ruff", "check", "."], ["ruff", "format", "--check", "."]],
    ids=" ".join,
)
def test_style(command: list[str]) -> None:
    done = subprocess.run(
        [sys.executable, "-m", *command],
        cwd=ROOT,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
