"""What the program says about a flight and its log."""

from __future__ import annotations

from collections.abc import Mapping

COMMON: Mapping[str, str] = {
    # fuel
    "no-taxi-fuel": "No taxi fuel given; none is deducted.",
    "reserve": (
        "Reserve not met: {left}; {minutes:.0f} min take {needed:fuel_used} {unit} ({reading}). "
        "Carry more fuel, shorten the route or add a fuel stop."
    ),
    "reserve-state": (
        "The reserve to {end} is ICAO's figure, {minutes:.0f} min; {decides} decides and may ask "
        "for more: look it up in the AIP."
    ),
    "reserve.left": "{amount:fuel_left} {unit} left at {end}",
    "reserve.missing": "{dry}, {amount:fuel_used} {unit} short of {end}",
    "reserve.dry": "the tanks run dry at {time} between {start} and {end} (row {row})",
    "reserve.dry-at-take-off": "the tanks are dry at take-off from {start}",
}
