"""Is a newer table the successor of the one in use, or something else that keeps the rules?

A table cut short at the end of a line, one of another kind, one with latitude and longitude
exchanged: every row of it may be in order.
"""

from __future__ import annotations

from collections.abc import Sequence

from plotter.datastore.comparing import apart_nm, beacon_pairs, turned_deg
from plotter.errors import RefreshFault
from plotter.places.rows import Row

FEWEST, MOST = 0.9, 1.5
"""A table with fewer or more rows than these shares of the one in use is not its successor: the
airports grew by a tenth in three years."""
LEAST_KEPT = 0.95
"""The share of airport idents in use that must be in the newer table: in the three years to 2025
fewer than one in a hundred went."""
FAR_NM, MOST_FAR = 1.0, 0.05
"""No more than this share of airports may have moved by more than FAR_NM [NM]: from 2022 to 2025 it
was one in a hundred."""
LEAST_BEACONS = FEWEST
"""The share of beacons in use that must be in the newer table: some hundred NDBs are switched off
every year (common practice), out of 11,000 beacons."""
TURNED_DEG, MOST_TURNED = 2.0, 0.05
"""No more than this share of the declinations of stations may change by more than TURNED_DEG [°] or
go: a station is realigned when it is several degrees off (common practice), few of them in a year.
Both figures are our choice, no rule's."""


def check_size(name: str, new: int, old: int) -> None:
    """Refuse a table of far fewer or more rows than the one in use."""
    if not FEWEST * old <= new <= MOST * old:
        raise RefreshFault(
            f"{name} would have {new:,} rows instead of {old:,}: no successor of the table in use; "
            "nothing was changed"
        )


def check_airports(old: Sequence[Row], new: Sequence[Row]) -> None:
    """Refuse airports that are not those in use, or are somewhere else."""
    if old is new:
        return
    now = {row[0]: row for row in new}
    kept = [(row, now[row[0]]) for row in old if row[0] in now]
    if len(kept) < LEAST_KEPT * len(old):
        raise RefreshFault(
            f"only {len(kept):,} of the {len(old):,} airports in use are in the newer table; "
            "nothing was changed"
        )
    far = sum(apart_nm(*pair) > FAR_NM for pair in kept)
    if far > MOST_FAR * len(kept):
        raise RefreshFault(
            f"{far:,} airports would move by more than {FAR_NM:g} NM; nothing was changed"
        )


def check_navaids(old: Sequence[Row], new: Sequence[Row]) -> None:
    """Refuse beacons that are not those in use, are somewhere else or are set to another north."""
    if old is new:
        return
    kept = [(a, b, moved_nm) for a, b, moved_nm in beacon_pairs(old, new) if a and b]
    if len(kept) < LEAST_BEACONS * len(old):
        raise RefreshFault(
            f"only {len(kept):,} of the {len(old):,} beacons in use are in the newer table; "
            "nothing was changed"
        )
    far = sum(moved_nm > FAR_NM for _, _, moved_nm in kept)
    if far > MOST_FAR * len(kept):
        raise RefreshFault(
            f"{far:,} beacons would move by more than {FAR_NM:g} NM; nothing was changed"
        )
    with_radials = [(a, b) for a, b, _ in kept if a[9]]
    turned = sum(turned_deg(*pair) > TURNED_DEG for pair in with_radials)
    if turned > MOST_TURNED * len(with_radials):
        raise RefreshFault(
            f"the declination of {turned:,} beacons would change by more than {TURNED_DEG:g}° or "
            "be gone; nothing was changed"
        )
