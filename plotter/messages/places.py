"""What the program says about places, codes and positions."""

from __future__ import annotations

from collections.abc import Mapping

COMMON: Mapping[str, str] = {
    # earth
    "airspeed": "airspeed {airspeed_kt:g} kt is out of range",
    "airspeed.supersonic": (
        "{airspeed_kt:g} kt calibrated is faster than sound there; enter a lower calibrated "
        "airspeed"
    ),
    "altitude.atmosphere": (
        "{altitude_ft:,.0f} ft is outside the standard atmosphere known here; enter "
        "{lowest_ft:,.0f} to {highest_ft:,.0f} ft"
    ),
    "altitude.model": (
        "altitude {altitude_ft:g} ft is out of range for {model}; enter -3,280 to 2,788,713 ft"
    ),
    "temperature": (
        "{temperature_c:g} °C is out of range; enter the air temperature in degrees Celsius, "
        "{low_c:g} to {high_c:g}"
    ),
    "position.not-numbers": "course {course_deg} and distance {distance_nm} are not numbers",
    "position.array": "pair {pair} of the arrays is not two positions: is latitude first?",
    "position.array-range": "a latitude is outside -90 to 90 or a longitude outside -180 to 180",
    "position.variation": "variation {degrees_east} is outside -180 to 180",
    "position.not-a-number": "{word} {value} is not a number of degrees",
    "position.range": "{word} {value:g} is out of range; enter -{limit} to {limit}",
    "tolerance": "tolerance {tolerance_nm:g} NM is out of range; enter a number above 0",
    "tolerance.track": (
        "the track turns more than {turns} times at a tolerance of {tolerance_nm:g} NM; use a "
        "larger one, such as {larger_nm:g} NM"
    ),
    "line-kind": "a line is geodesic or rhumb, not {kind!r}",
    "zero-length": "both ends of the leg are the same point; remove one",
    "model-date": "{date} is outside the years of {model}; choose a date from {first} to {last}",
    "beyond-pole": "the rhumb line runs past a pole; make it shorter",
    "beyond-pole.leaves": "a rhumb line leaves a pole only along a meridian",
    "instant": "time {instant} has no offset from UTC; write it as in 2026-06-21T18:00-05:00",
}
