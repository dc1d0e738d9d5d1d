"""What the program says about readings off a chart and plotters."""

from __future__ import annotations

from collections.abc import Mapping

COMMON: Mapping[str, str] = {
    # what was given to measure
    "no-points": "no points and no reading given; enter two points and what you read between them",
    "no-reading": (
        "no reading given; enter a distance such as 26.4, a course such as 247T, or both"
    ),
    "one-leg": (
        "{points} points make {legs} legs, and a reading is for one leg; enter two points for "
        "each reading"
    ),
}

# Sentences that name an option of the command line.
CONSOLE: Mapping[str, str] = {
    "no-points": (
        "no points and no reading given; enter two points and what you read between them, as in "
        "KRST KLSE --reading 54.0, or --readings FILE"
    ),
    "no-reading": (
        "no reading given; enter a distance, a course, or both, as in --reading 26.4 --course 247T"
    ),
    "one-leg": (
        "{points} points make {legs} legs, and a reading is for one leg; enter two points, or "
        "several legs with --readings FILE"
    ),
}
