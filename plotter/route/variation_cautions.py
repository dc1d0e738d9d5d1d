"""Cautions where one variation a leg hides how much it changes along it."""

from __future__ import annotations

from plotter.earth.angles import half_turn
from plotter.route.cautions import Caution
from plotter.route.measuring import FlightMagnetism
from plotter.route.route import Leg, Route
from plotter.wording import variation

# As for true courses: a plotter is read to about a degree or two (common practice).
VARIATION_CHANGE_LIMIT_DEG = 2.0
# On a shorter leg variation hardly changes by so much, outside the magnetic model's polar zones.
SHORTEST_LEG_ASKED_NM = 60.0


def variation_cautions(route: Route, magnetism: FlightMagnetism) -> list[Caution]:
    """A note for each long leg whose ends differ by 2° or more in variation."""
    return [
        note
        for leg in route.legs
        if leg.distance_nm >= SHORTEST_LEG_ASKED_NM
        for note in _leg_note(leg, magnetism)
    ]


def _leg_note(leg: Leg, magnetism: FlightMagnetism) -> list[Caution]:
    first = magnetism.degrees_east(leg.start.position)
    last = magnetism.degrees_east(leg.end.position)
    if abs(half_turn(last - first)) < VARIATION_CHANGE_LIMIT_DEG:
        return []
    words = (
        f"Variation changes from {variation(first)} to {variation(last)} along leg {leg.number}; "
        "the magnetic course given is for its middle. Split the leg to follow it more closely."
    )
    return [Caution("NOTE", "variation-changes", words, where=f"leg {leg.number}")]
