"""How figures are printed for people, and the words every output must carry.

Rounding happens here and nowhere else: what is printed is no finer than it is known.
"""

from __future__ import annotations

from plotter.earth.coordinates import split_position
from plotter.earth.position import Position
from plotter.messages.figures import (
    HALF_A_MINUTE,
    altitude,
    correction,
    course,
    days_between,
    distance,
    duration,
    fuel_left,
    fuel_used,
    magnetic_course,
    magnetic_whole,
    minute,
    signed,
    tenths,
    tenths_left,
    time_left,
    variation,
    whole,
    zulu,
    zulu_since,
)

__all__ = [
    "COMMAND",
    "HALF_A_MINUTE",
    "LEGS_ADD_UP",
    "LOG_ADDS_UP",
    "NEXT_DAY",
    "NOT_CHECKED",
    "NOT_IN_DATA",
    "PLANNING_AID",
    "STANDING",
    "STANDING_SHORT",
    "altitude",
    "correction",
    "course",
    "days_between",
    "distance",
    "duration",
    "fuel_left",
    "fuel_used",
    "magnetic_course",
    "magnetic_whole",
    "minute",
    "position",
    "signed",
    "tenths",
    "tenths_left",
    "time_left",
    "variation",
    "whole",
    "zulu",
    "zulu_since",
]

PLANNING_AID = (
    "A planning aid, not an approved source of navigation. Check it against current charts, "
    "the Chart Supplement, NOTAMs and a weather briefing."
)
COMMAND = (
    "The pilot in command is responsible for the flight (14 CFR 91.3, 91.103); "
    "local rules and your instructor come first."
)
NOT_CHECKED = (
    "Not checked: airspace, restrictions, terrain, obstacles, weather, take-off and landing "
    "distance, weight and balance."
)
STANDING = (PLANNING_AID, COMMAND, NOT_CHECKED)
STANDING_SHORT = (
    "Planning aid: check charts, NOTAMs and weather; the pilot in command decides.",
    NOT_CHECKED,
)
"""The cautions as the console prints them, once a run: two in short, and the line that is never
left out or cut. ``--help``, page, map and paper have all of them in full."""
LEGS_ADD_UP = "MC = TC − VAR. Distances add up to their total."
LOG_ADDS_UP = "MC = TC − VAR, TH = TC + WCA, MH = TH − VAR, CH = MH + DEV; NM, ETE and fuel add up."
NEXT_DAY = "the day after take-off"
NOT_IN_DATA = "not in the data"


def position(where: Position) -> str:
    """Degrees and decimal minutes with hemisphere letters, latitude first.

    >>> position(Position(43.9088, -92.5))
    '43°54.53′N 092°30.00′W'
    >>> position(Position(-0.99999, 179.999999))
    '01°00.00′S 180°00.00′E'
    >>> position(Position(-0.00001, -0.00001))
    '00°00.00′N 000°00.00′E'
    """
    return " ".join(
        f"{angle.degrees:0{angle.width}d}°{angle.rest / 100:05.2f}′{angle.letter}"
        for angle in split_position(where, 6000)
    )
