"""What the program says about the planning page and the command line."""

from __future__ import annotations

from collections.abc import Mapping

COMMON: Mapping[str, str] = {}
