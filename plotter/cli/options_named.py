"""Which option sets the thing that a message of the library names.

The library speaks of things (a checkpoint interval, the years of a model), for its words are read
on the page and in files too; here the option is put behind them, by the code of the message.
"""

from __future__ import annotations

from collections.abc import Mapping

OPTIONS: Mapping[str, str] = {
    "model-date": "or add --allow-old-model",
    "checkpoint-interval": "--every",
    "checkpoint-clearance": "--clear-of-turns",
    "no-checkpoints": "--every",
    "speed-and-level": "--altitude",
    "no-points": "as in KRST KLSE --reading 54.0, or --readings FILE",
    "no-reading": "as in --reading 26.4 --course 247T",
    "one-leg": "several legs: --readings FILE",
}
"""By the code of an error or a caution."""


def with_option(code: str, words: str) -> str:
    """The words of a message, the option behind them where one is set by it.

    >>> with_option("no-checkpoints", "No checkpoint."), with_option("night", "Night.")
    ('No checkpoint. (--every)', 'Night.')
    """
    return f"{words} ({OPTIONS[code]})" if code in OPTIONS else words
