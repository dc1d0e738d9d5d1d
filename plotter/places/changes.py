"""What changed about a place from one set of tables to the next, as values."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum


class What(StrEnum):
    """The kinds of change; the value is what is written in a file."""

    MOVED = "moved"
    CLOSED = "closed"
    OPENED = "opened again"
    GONE = "gone"
    NEW = "new"
    RENAMED = "another identifier"
    CODES = "other codes"
    RENUMBERED = "runway renumbered"
    RUNWAY_NEW = "runway new"
    RUNWAY_CLOSED = "runway closed or gone"
    RUNWAY_LENGTH = "runway of another length"
    FREQUENCIES = "frequencies changed"
    FREQUENCY = "frequency of a beacon changed"
    DECLINATION = "declination of a beacon changed"


@dataclass(frozen=True, slots=True)
class Change:
    """One change of one place: ``key`` is its airport ident or navaid key in the newer set.

    ``before`` and ``after`` are what the two sets say, in the tables' own words; ``moved_nm`` [NM]
    is how far its position moved, 0 where it did not.
    """

    key: str
    what: What
    before: str = ""
    after: str = ""
    moved_nm: float = 0.0


@dataclass(frozen=True, slots=True)
class Changes:
    """All changes between the two newest sets of tables, found by the key of a place.

    ``dates`` are those of each table that was renewed, the older first. Where no set was ever
    fetched there are neither dates nor changes.

    >>> dates = {"airports": ("2025-12-02", "2026-08-22")}
    >>> changes = Changes(dates, (Change("KAAA", What.CLOSED),))
    >>> changes.of("KAAA")[0].what.value, changes.of("KBBB")
    ('closed', ())
    """

    dates: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    every: Sequence[Change] = ()

    def of(self, key: str) -> tuple[Change, ...]:
        """The changes of one place: by navaid key, or airport ident (the one before does too)."""
        was = (c.key for c in self.every if c.what is What.RENAMED and c.before == key)
        keys = {key, *was}
        return tuple(change for change in self.every if change.key in keys)

    def counts(self) -> Mapping[What, int]:
        """How many there are of each kind, in the order of the kinds, without the zeros."""
        found = Counter(change.what for change in self.every)
        return {what: found[what] for what in What if found[what]}

    def farthest(self, least_nm: float = 0.0) -> Sequence[Change]:
        """Those that moved by ``least_nm`` [NM] or more, the farthest first."""
        moved = [c for c in self.every if c.what is What.MOVED and c.moved_nm >= least_nm]
        return sorted(moved, key=lambda change: (-change.moved_nm, change.key))
