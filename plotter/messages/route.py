"""What the program says about a route: its points, its legs, its checkpoints."""

from __future__ import annotations

from collections.abc import Mapping

COMMON: Mapping[str, str] = {}
