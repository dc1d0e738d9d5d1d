"""What the program says about files that are read and written."""

from __future__ import annotations

from collections.abc import Mapping

COMMON: Mapping[str, str] = {}
