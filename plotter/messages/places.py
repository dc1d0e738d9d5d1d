"""What the program says about places, codes and positions."""

from __future__ import annotations

from collections.abc import Mapping

COMMON: Mapping[str, str] = {}
