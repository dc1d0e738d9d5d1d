"""A complete, commented plan file to start from."""

from __future__ import annotations

from pathlib import Path

from plotter.flight.plan_toml import toml_text

STARTER = Path(__file__).parent / "starter.toml"
_NAME = '"NAME"'


def starter(name: str) -> str:
    """The text of a plan file with every key in it, those that may be left out as comments.

    Aircraft, wind and time are invented and marked so; the airports are of the dataset.

    >>> 'name = "Sunday"' in starter("Sunday")
    True
    """
    return STARTER.read_text(encoding="utf-8").replace(_NAME, toml_text(name), 1)
