"""What the program says about a plan file."""

from __future__ import annotations

from collections.abc import Mapping

COMMON: Mapping[str, str] = {}
