"""What the program says about readings off a chart and plotters."""

from __future__ import annotations

from collections.abc import Mapping

COMMON: Mapping[str, str] = {
    # what was given to measure
    "no-points": "no points and no reading given; enter two points and what you read between them",
    "no-reading": (
        "no reading given; enter a distance such as 26.4, a course such as 247T, or both"
    ),
    "one-leg": (
        "{points} points make {legs} legs, and a reading is for one leg; enter two points for "
        "each reading"
    ),
    # readings
    "unit.reading": "unknown unit {unit!r}; use {units:, }",
    "reading": "'{typed}' is not a valid reading; enter a positive number, as in 26.4",
    "reading.too-large": (
        "reading {value:,.0f} {unit} is out of range (at most {most:,.0f}); enter the figure as "
        "the plotter shows it, as in 26.4"
    ),
    "reading.none": (
        "the leg has neither a reading nor a course; enter a distance read off the chart, a "
        "course as in 247T, or both"
    ),
    "reading.legs": "{count} legs given; enter 1 to {most} measured with one plotter",
    "reading.plan": (
        "no leg of the plan has a hand measurement; write measured_nm, or measured_course_deg "
        "with measured_course_reference, in its [[leg]]"
    ),
    "course": "'{typed}' is not a course; enter degrees and T or M, as in 247T or 256M",
    "course.reference": "course reference {reference!r} is not T (true) or M (magnetic)",
    "course.range": "course '{typed}' is out of range; enter 000 to 360 degrees, as in 247T",
    "course.no-reference": (
        "'{typed}' has no reference; enter {figure}T for a true course or {figure}M for a "
        "magnetic course"
    ),
    "input.leg": (
        "a leg of {distance_nm} NM on {course_deg}° is not valid; enter a distance above 0 NM and "
        "finite figures"
    ),
    "reading-error": (
        "reading error {distance_mm:g} mm and {course_deg:g}° is out of range; enter 0.1 to 10 "
        "for each"
    ),
    "chart-middle": (
        "chart middle {middle_deg:g} is out of range; enter its longitude from -180 to 180 "
        "degrees, west negative"
    ),
    "chart": "unknown chart {name!r}; use {charts:, }",
    "edge": "unknown edge {edge!r}; use {edges: or }",
    "off-chart": (
        "the middle of the leg is at latitude {latitude_deg:.0f}°, beyond the end of these charts "
        "at {highest_deg:g}°; the reading cannot be predicted there"
    ),
    "off-chart.long": (
        "a leg of {distance_nm:,.0f} NM does not fit on one chart; split it into legs of less "
        "than {longest_nm:g} NM"
    ),
    "short-leg.read": (
        "the leg {leg} is {length_mm:.2g} mm on the {chart}, less than the reading error of "
        "{error_mm:g} mm, so its reading means nothing; measure a longer leg"
    ),
    "short-leg.unnamed": (
        "the leg is {length_mm:.2g} mm on the {chart}, less than the reading error of "
        "{error_mm:g} mm, so its reading means nothing; measure a longer leg"
    ),
    "readings-line": "line {line}: {reason}",
    "off-the-sheets": (
        "{leg} is beyond latitude {edge_deg:g}°, where no sectional is published; its chart is "
        "predicted by the rule of the sectionals. Meridians converge fast there: lay the plotter "
        "on the one nearest the middle."
    ),
    # hand measurements in a plan
    "measured.course": "course {typed}, computed {computed}",
    "measured.distance": "{typed_nm:distance}, computed {computed_nm:distance}",
    "measured.allowed-deg": "{allowed_deg:.1f}°",
    "measured.allowed-mm": "{allowed_mm:.1f} mm on the chart",
    "measured-agrees": "Leg {leg} measured by hand: {compared:; }.",
    "measured-differs": (
        "Leg {leg} measured by hand: {compared:; }. The difference is more than the reading error "
        "allows ({allowed: and }). Measure the leg again; 'plotter measure' with this plan looks "
        "for the cause."
    ),
    "measured-not-judged": "The hand measurements are not compared with the legs: {reason}.",
    "measured-together": (
        "Each distance measured by hand is within reading error, but together they look like a "
        "slip; 'plotter measure' with this plan looks for the cause."
    ),
    "measured-together.courses": (
        "Each course measured by hand is within reading error, but together they look like a "
        "slip; 'plotter measure' with this plan looks for the cause."
    ),
    # a tested plotter
    "own-plotter.one-mark": (
        "your plotter was tested at a single mark, which does not show what it reads elsewhere; "
        "test it again at a near and a far mark"
    ),
    "reading-error.own-plotter": (
        "reading error {error_mm:g} mm is out of range; enter {low_mm:g} to {high_mm:g}"
    ),
    "pair": "this is not a pair; enter it as in '{example}'",
    "pair.alone": (
        "a figure has no partner; write decimals with a point, not a comma, and pairs as in "
        "'{example}'"
    ),
    "pair.none": "no pair given; enter pairs as in '{example}'",
    "pair.text-too-long": (
        "the text is longer than {most:,} characters; enter pairs, as in '{example}'"
    ),
    "pair.count": "{count} pairs given; enter 1 to {most}, as in 'ruler 50 = plotter 50.6'",
    "pair.negative": "{value:g} is not a valid {side} reading; enter 0 or more",
    "pair.side": "'{side}' is neither ruler nor plotter; enter the pair as in '{example}'",
    "pair.same-side": "both sides are named {side}; enter one ruler and one plotter",
    "pair.absurd": "the plotter cannot read {plotter:g} at {ruler:g} on the ruler; {cure}",
    "pair.meant": "did you mean {value:g}?",
    "pair.again": "read the pair again, both on the same edge",
    "pair.too-long": (
        "{reading:g} {unit} on the {chart} edge (1:{denominator:,}) is {length_mm:.0f} mm, longer "
        "than a plotter (at most {longest_mm:.0f} mm); name the ruler you read: sectional, "
        "terminal or world"
    ),
    "unit.other-edge": "'{unit}' is not the unit of this edge; pairs are in {edge_unit}",
    "unit.not-miles": (
        "'{unit}' is not the unit of this edge; pairs are in {edge_unit}, without the unit"
    ),
}
# Sentences that name an option of the command line.
CONSOLE: Mapping[str, str] = {
    "no-points": (
        "no points and no reading given; enter two points and what you read between them, as in "
        "KRST KLSE --reading 54.0, or --readings FILE"
    ),
    "no-reading": (
        "no reading given; enter a distance, a course, or both, as in --reading 26.4 --course 247T"
    ),
    "one-leg": (
        "{points} points make {legs} legs, and a reading is for one leg; enter two points, or "
        "several legs with --readings FILE"
    ),
    "pair.too-long": (
        "{reading:g} {unit} on the {chart} edge (1:{denominator:,}) is {length_mm:.0f} mm, longer "
        "than a plotter (at most {longest_mm:.0f} mm); name the ruler you read with --chart "
        "sectional, terminal or world"
    ),
    "unit.other-edge": (
        "'{unit}' is not the unit of this edge; pairs are in {edge_unit}: add --edge {unit}"
    ),
}
