"""What the program says about tables, stores, layers and newer data."""

from __future__ import annotations

from collections.abc import Mapping

COMMON: Mapping[str, str] = {}
