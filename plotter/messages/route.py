"""What the program says about a route: its points, its legs, its checkpoints."""

from __future__ import annotations

from collections.abc import Mapping

COMMON: Mapping[str, str] = {
    "leg-split": (
        "Leg {leg} is split into {parts} parts: along it the true course changes from "
        "{course_from:T} to {course_to:T}, variation from {variation_from:variation} to "
        "{variation_to:variation}. Parts begin at {starts:, }."
    ),
}
