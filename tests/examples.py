"""How many examples of a law are looked at.

``PLOTTER_EXAMPLES=10`` in the environment asks for ten times as many, drawn at random each time.
"""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

TIMES = int(os.environ.get("PLOTTER_EXAMPLES", "1"))
"""By how much the number of examples is multiplied."""


def load_profile() -> None:
    """Set how examples are drawn: no test is judged by its time, because a machine may be busy.

    Where CI is set the examples are the same each time, because a run there must be repeatable;
    elsewhere, and wherever more are asked for, each run looks at new ones.
    """
    settings.register_profile(
        "untimed",
        deadline=None,
        max_examples=100 * TIMES,
        suppress_health_check=[HealthCheck.too_slow],
        derandomize="CI" in os.environ and TIMES == 1,
    )
    settings.load_profile("untimed")
