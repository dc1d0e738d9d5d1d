"""How often each mistake is made, and how large it is: stated here, and nowhere else.

None of these weights is published: they are common practice put into figures, from what
instructors warn of. They matter little where a reading tells explanations apart, and where it does
not, the answer says so. They need not add up to one: they are weights among those that can apply.
"""

from __future__ import annotations

from collections.abc import Mapping

NONE = "none"
READ_RIGHT = "read_right"

DISTANCE: Mapping[str, float] = {
    "read_right": 0.70,
    "nautical_statute": 0.06,
    "kilometres": 0.01,
    "parallel_minutes": 0.01,
    "other_scale": 0.04,
    "physical_end": 0.06,
    "shrunk": 0.065,
    "stretched": 0.0065,
    "tick": 0.03,
    "lays": 0.035,
    "copy_scaled": 0.02,
    "wrong_end": 0.012,
    "cumulative": 0.015,
    "swapped_digits": 0.015,
    "pair": 0.006,
    "none": 0.02,
}
"""Weights of the explanations of a distance; a stretched plotter is ten times rarer than a shrunk
one, and the offset of a plotter laid several times as usual as that of one laid once."""

COURSE: Mapping[str, float] = {
    "read_right": 0.70,
    "reciprocal": 0.05,
    "wrong_way": 0.03,
    "ten": 0.04,
    "hundred": 0.015,
    "swapped_digits": 0.015,
    "other_scale_90": 0.02,
    "border": 0.02,
    "meridian": 0.01,
    "true_magnetic": 0.05,
    "variation_sign": 0.03,
    "variation_twice": 0.012,
    "heading": 0.012,
    "end_meridian": 0.012,
    "none": 0.02,
}
"""Weights of the explanations of a course."""

HABIT = 0.85
"""Share of a mistake of habit that is made on every leg; the rest strikes some legs only."""
EDGE_NOT_DENIED = 0.5
"""Weight left to the other edge of miles where the pilot names the edge that was laid."""
EDGE_CONTRADICTS = 0.5
"""Weight of the other edge where the pilot names an edge that is not that of the figure's unit."""
KNOWN_PLOTTER = 0.1
"""Weight left to shrinking and stretching where the plotter is known."""

PLOTTER_LENGTHS_MM: Mapping[float, float] = {260.0: 0.2, 300.0: 0.6, 330.0: 0.2}
"""Length of a plotter's scale [mm], some 10 to 13 inches, with weights: a longer line is laid in
several pieces."""
END_MM = (1.5, 16.0)
END_TYPICAL_MM = 6.0
END_SPREAD = 0.5
"""From a ruler's end to its zero [mm]: bounds, median, and spread of the logarithm."""
BESIDE = 0.5
BESIDE_MM = (1.0, 10.0)
BESIDE_TYPICAL_MM = 2.5
"""Of zeros that are off, the share laid beside the departure rather than from the end; how far
beside it [mm]: bounds, and mean. It reads long as often as short."""
SHRINK = (0.005, 0.125)
SHRINK_TYPICAL: Mapping[float, float] = {0.012: 0.5, 0.03: 0.5}
"""Share of its length a plotter loses: bounds (an inch and a half on a foot at the most), means of
exponential distributions with weights. Many have lost a little, one left in the sun a lot."""
COPY_FACTORS: Mapping[float, float] = {0.94: 0.40, 0.97: 0.30, 1.03: 0.05, 1.06: 0.05}
"""What a page comes out at: A4 on US letter paper 0.94 (279.4 mm of 297), letter on A4 0.97 (210 mm
of 215.9), a quarter of an inch of margin on either side 0.94, and their opposites."""
COPY_SPREAD = 0.008
COPY_ANY = (0.60, 0.99)
COPY_ANY_WEIGHT = 0.20
"""A copier set to anything else reduces to somewhere in these bounds."""
SCALE_AT_HAND, SCALE_ELSEWHERE = 0.47, 0.03
"""Weight of a factor between two of the three scales on plotters, and of another factor."""
CONVERTED_ONCE_TOO_OFTEN = 0.08
PARALLEL_OFF_DEG = 0.8
"""Spread of the latitude [°] whose parallel is taken."""
TICKS: Mapping[str, Mapping[float, float]] = {
    "nm": {10.0: 0.35, -10.0: 0.35, 5.0: 0.15, -5.0: 0.15},
    "sm": {10.0: 0.35, -10.0: 0.35, 5.0: 0.15, -5.0: 0.15},
    "km": {10.0: 0.35, -10.0: 0.35, 5.0: 0.15, -5.0: 0.15},
    "mm": {10.0: 0.5, -10.0: 0.5},
    "in": {1.0: 0.5, -1.0: 0.5},
}
"""By how much a count of ticks goes wrong, in the unit of the edge."""
NONE_SPREAD = 0.7
"""Spread of the logarithm of a reading that nothing explains."""

WIND_ANGLE_SPREAD_DEG = 7.0
LARGEST_WIND_ANGLE_DEG = 25.0
BORDER_SPREAD_DEG = 2.0
"""How far the border of a sheet runs from the meridian of a leg of unknown longitude [°]."""
HALF_SHEET_DEG = 4.0
"""From the middle of a sheet to its border [° of longitude]: a sectional is 6° to 8° wide (from
memory), a terminal chart less."""
ROSE_SPREAD_DEG = 1.5
"""How far a navaid's rose, set years ago, is from today's variation [°]."""
VARIATION_OFF_THE_CHART_DEG = 0.4
"""What a variation interpolated between printed lines of equal variation adds to the error [°]."""
END_MERIDIAN_FROM_DEG = 2.0
"""An end meridian is an explanation where it turns the course by this much or more [°]."""
SMALLEST_DIFFERENCE_DEG = 0.5
"""An explanation that changes a course by less is none."""
