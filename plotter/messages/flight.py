"""What is said of a flight and its log."""

from __future__ import annotations

from collections.abc import Mapping

COMMON: Mapping[str, str] = {}
