"""Cautions: what the pilot must, should or may want to know before trusting a figure."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Rank = Literal["STOP", "CHECK", "NOTE"]
RANKS: tuple[Rank, ...] = ("STOP", "CHECK", "NOTE")


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: a rank, a code that stays the same, words that say what to do, a source."""

    rank: Rank
    code: str
    text: str
    source: str = ""
    where: str = ""


def ranked(cautions: list[Caution]) -> tuple[Caution, ...]:
    """The cautions, worst rank first, each said once, otherwise in the order they arose."""
    return tuple(sorted(dict.fromkeys(cautions), key=lambda caution: RANKS.index(caution.rank)))
