"""What the program says about readings off a chart and plotters."""

from __future__ import annotations

from collections.abc import Mapping

COMMON: Mapping[str, str] = {}
