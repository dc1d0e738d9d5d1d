"""What changed between two sets of tables, in words."""

from __future__ import annotations

from collections.abc import Sequence

from plotter.cli.printing import table
from plotter.places.changes import Change, Changes, What

FARTHEST = 5
"""Places named that moved farthest."""
FAR_NM = 1.0


def summary(changes: Changes) -> str:
    """The dates of what was renewed, how many changes of each kind, and what moved farthest."""
    rows = [[name, before, after] for name, (before, after) in changes.dates.items()]
    parts = [table(["Table", "Before", "Now"], rows, "lll")]
    counts = [[what.value, f"{count:,}"] for what, count in changes.counts().items()]
    parts.append(table(["Changed", "Places"], counts, "lr") if counts else "No place changed.")
    if moved := changes.farthest():
        far = sum(change.moved_nm >= FAR_NM for change in moved)
        parts.append(f"Moved by {FAR_NM:g} NM or more: {far:,}. The farthest:")
        parts[-1] += "".join(f"\n  {c.key}: {c.moved_nm:.1f} NM" for c in moved[:FARTHEST])
    return "\n\n".join(parts)


def told(change: Change) -> str:
    """One change in words.

    >>> told(Change("KAAA", What.MOVED, "44 -92", "44.1 -92", 6.0))
    'moved 6.0 NM: 44 -92 -> 44.1 -92'
    """
    parts: Sequence[str] = [part or "not in the data" for part in (change.before, change.after)]
    figure = f" {change.moved_nm:.1f} NM" if change.what is What.MOVED else ""
    return f"{change.what.value}{figure}: {' -> '.join(parts)}"
