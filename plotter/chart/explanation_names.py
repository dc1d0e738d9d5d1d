"""What each explanation is called in a few plain words."""

from __future__ import annotations

from collections.abc import Mapping

NAMES: Mapping[str, str] = {
    "read_right": "read right",
    "own_plotter": "read right off a faulty plotter",
    "nautical_statute": "the other edge of miles",
    "kilometres": "kilometres for miles",
    "parallel_minutes": "minutes along the parallel",
    "other_scale": "another chart's scale",
    "physical_end": "a zero off the departure",
    "shrunk": "a shrunk plotter",
    "stretched": "a stretched plotter",
    "tick": "a tick miscounted",
    "lays": "its end for its zero at every lay",
    "copy_scaled": "a copy fitted to the page",
    "wrong_end": "the wrong end or leg",
    "cumulative": "the sum for the leg",
    "swapped_digits": "digits swapped",
    "pair": "two slips at once",
    "none": "none of these",
    "reciprocal": "the reciprocal course",
    "wrong_way": "counted the wrong way",
    "ten": "a slip of ten",
    "hundred": "a hundred lost",
    "other_scale_90": "the other scale of the protractor",
    "border": "the border of the sheet for the meridian",
    "meridian": "a rose for the meridian",
    "true_magnetic": "true and magnetic confused",
    "variation_sign": "variation the wrong way",
    "variation_twice": "variation twice",
    "heading": "a heading for the course",
    "end_meridian": "an end meridian",
}


def name_of(code: str) -> str:
    """The plain words for a code.

    >>> name_of("shrunk")
    'a shrunk plotter'
    """
    return NAMES[code]
