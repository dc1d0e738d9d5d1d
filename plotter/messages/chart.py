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
    # explanations of readings
    "explained": "{leg}: {question}",
    "explained.also": "{leg}: {question} The same explains {also:listed}.",
    "edge-called.nm": "nautical",
    "edge-called.sm": "statute",
    "edge-called.km": "kilometre",
    "edge-called.mm": "millimetre",
    "edge-called.in": "inch",
    "multiple.twice": "twice",
    "multiple.half": "half",
    "multiple.four": "four times",
    "multiple.quarter": "a quarter of",
    "multiple.other": "another multiple of",
    "leg-length": "{leg_nm:distance}",
    "leg-length.drawn": "{leg_nm:distance} ({drawn_nm:distance} as drawn on this chart)",
    "leg-numbered": "leg {number}",
    "read_right.distance": "{typed} agrees with the leg within reading error.",
    "read_right.distances": "The readings agree with their legs within reading error.",
    "read_right.unproved": (
        "{agrees} A plotter that reads {percent:.0f} % long may not show in {count:it|them}: "
        "along a steel rule it is {by_mm:.1f} mm long over {scale_mm:.0f} mm."
    ),
    "nautical_statute": (
        "Did you read the {other} edge? It shows {shows} for {leg}. Measure again with the "
        "{asked} edge."
    ),
    "kilometres": (
        "Did you read the {other} edge? It shows {shows} for {leg}. Measure again with the "
        "{asked} edge."
    ),
    "nautical_statute.converted": (
        "Did you convert the figure once too often, or the wrong way? That makes {shows} of "
        "{leg}. Write down what the edge shows and convert nothing."
    ),
    "parallel_minutes": (
        "Did you count minutes along the parallel? A minute is a nautical mile only along a "
        "meridian; the parallel beside this leg has about {shows} minutes for it. Take the "
        "span to the nearest meridian and count again there."
    ),
    "other_scale": (
        "Did you read the edge of another chart's scale? {shows} is {times} what the edge for "
        "1:{denominator:,} shows. Compare the scale printed on the chart with the one along "
        "the edge, and measure again."
    ),
    "other_scale.ruler": (
        "Is the chart of another scale? {shows} is {times} what this leg measures at "
        "1:{denominator:,}. Read the scale printed on the chart and name that chart."
    ),
    "physical_end": (
        "Was the end of the plotter on the departure instead of its zero mark? That reads "
        "short by the same amount on every leg, here by about {by_mm:.0f} mm. Measure again "
        "with the zero mark on the departure."
    ),
    "physical_end.long": (
        "Was the zero mark short of the departure? That reads long by the same amount on every"
        " leg, here by about {by_mm:.0f} mm. Lay the zero mark on the departure; if it still "
        "reads long, test the plotter against a printed ruler."
    ),
    "shrunk": (
        "Has the plotter shrunk? It seems to have lost {lost_percent:.1f} % of its length, so "
        "it reads {long_percent:.1f} % long on every leg. Check it against a steel rule or a "
        "proved printed scale; if it is short, replace it."
    ),
    "stretched": (
        "Has the plotter stretched (that is rare)? It seems to have gained "
        "{gained_percent:.1f} % in length, so it reads {short_percent:.1f} % short on every "
        "leg. Check it against a steel rule or a proved printed scale; if it is long, replace "
        "it."
    ),
    "tick.more": (
        "Did you miscount a tick? {shows} is {count:.0f} {unit} more than the leg. Count the "
        "ticks again from zero."
    ),
    "tick.less": (
        "Did you miscount a tick? {shows} is {count:.0f} {unit} less than the leg. Count the "
        "ticks again from zero."
    ),
    "lays": (
        "Did you start from the end of the plotter instead of its zero mark every time you "
        "laid it, {times} times on the longest leg? That loses about {lost_mm:.0f} mm each "
        "time. Mark the line where the scale ends, and lay the zero mark there."
    ),
    "copy_scaled": (
        "Is the chart a copy or a print fitted to the page? It seems to be {percent:.0f} % of "
        "its size. Measure its scale bar with a steel rule, and use the chart itself or a "
        "print at 100 %."
    ),
    "wrong_end": (
        "Did you read the scale from its other end? Put the zero mark on the departure and "
        "read at the destination."
    ),
    "wrong_end.leg": (
        "Is this the reading of another leg? {shows} is what {other} shows. Check which line "
        "you measured, and read this one again."
    ),
    "cumulative": (
        "Did you write down the distance from the start of the route? The sum so far is "
        "{shows}. Read this leg by itself."
    ),
    "swapped_digits.distance": (
        "Did you swap two digits when you wrote down {typed}? With them exchanged it is "
        "{meant}, which this leg may show. Read the plotter again before writing."
    ),
    "swapped_digits.course": (
        "Did you swap two digits when you wrote down {typed}? Read the plotter again before "
        "writing."
    ),
    "pair.slips": (
        "Two slips at once: {one} and {other}? Both together make {shows} of {leg}; neither "
        "alone explains it. First {cure}; then measure again and look for the other."
    ),
    "slip.end": "the end of the plotter used as zero",
    "slip.shrunk": "a shrunk plotter",
    "slip.scale": "the edge of another scale",
    "slip.edge": "the other edge of miles",
    "cure.end": "lay the zero mark on the departure",
    "cure.scale": "make sure that chart and edge are both 1:{denominator:,}",
    "cure.edge": "measure with the {edge} edge",
    "none.distance": (
        "No known slip explains the reading. Measure again from the beginning: this leg, the "
        "right edge, zero mark on the departure."
    ),
    "none.hint": "{nothing} {hint}",
    "none.ten-times": "It is ten times what the leg shows: is the point in the right place?",
    "none.tenth": "It is a tenth of what the leg shows: is the point in the right place?",
    "none.unit": (
        "A plain ruler shows {figure} {unit} here: if you read that, enter {unit} as its unit."
    ),
    "none.course": (
        "No known slip explains {read}. Measure again from the beginning: this line, the "
        "meridian at its middle, and the north the course is measured from."
    ),
    "read_right.course": "{read} agrees with the leg within reading error.",
    "read_right.courses": "The courses agree with their legs within reading error.",
    "reciprocal": (
        "Is this the reciprocal course? {shows} leads from the destination to the departure. "
        "Point along the line in the direction of flight, and read the scale that makes sense:"
        " north or south, east or west?"
    ),
    "wrong_way": (
        "Did you count the wrong way from the ten mark? Check which way the figures increase "
        "on that scale, and count again from the lower ten."
    ),
    "ten": (
        "Is it ten degrees off? Read the figure at the mark on each side of the line, and "
        "count the degrees between them."
    ),
    "hundred": (
        "Is the hundred missing or misread in {read}? Check where the line leads, north or "
        "south, east or west, and write the course in three digits."
    ),
    "other_scale_90": (
        "Did you read the protractor's other scale, the one for lines near north and south? It"
        " is 90° away. Check which scale the meridian crosses, and read that one."
    ),
    "border": (
        "Did you use the border of the chart as the meridian? It runs with the meridian only "
        "in the middle of the chart. Turn the plotter to the meridian nearest the middle of "
        "the leg, and read it again."
    ),
    "border.middle": (
        "Did you use the border of the chart as the meridian? On a chart whose middle is "
        "{middle} that makes {shows} of this leg. Turn the plotter to the meridian nearest the"
        " middle of the leg, and read it again."
    ),
    "border.where": (
        "Did you use the border of the chart as the meridian? It runs with the meridian only "
        "in the middle of the chart: depending on where it is on the chart, this leg then "
        "reads up to {most_deg:.1f}° off. {shows} fits a chart whose middle is near {middle}: "
        "is yours? Turn the plotter to the meridian nearest the middle of the leg, and read it"
        " again."
    ),
    "meridian": (
        "Did you use the rose of a navaid, which shows magnetic north, as the meridian? With a"
        " variation of {variation_deg_east:variation} that makes about {shows} of this leg. "
        "Turn the plotter to the meridian nearest the middle of the leg, and read it again."
    ),
    "true_magnetic.true": (
        "Is this a true course entered as magnetic? With a variation of "
        "{variation_deg_east:variation} that makes {shows} of this leg. Enter the north it is "
        "measured from."
    ),
    "true_magnetic.magnetic": (
        "Is this a magnetic course entered as true? With a variation of "
        "{variation_deg_east:variation} that makes {shows} of this leg. Enter the north it is "
        "measured from."
    ),
    "variation_sign": (
        "Did you apply the variation of {variation_deg_east:variation} the wrong way? From "
        "true to magnetic, subtract east and add west. Do the sum again."
    ),
    "variation_twice": (
        "Did you apply the variation of {variation_deg_east:variation} twice? Start again from"
        " the true course and apply it once."
    ),
    "heading": (
        "Is this a heading, with a wind correction, rather than the course? The course is the "
        "line on the chart alone. Read it without the wind."
    ),
    "end_meridian": (
        "Did you lay the plotter on the meridian at {place}? Meridians converge, and on a leg "
        "of this length that shows. Turn the plotter to the meridian nearest the middle of the"
        " leg, and read it again."
    ),
    "end_meridian.start": "the start of the leg",
    "end_meridian.end": "the end of the leg",
    "next.redraw": (
        "Draw the line again from point to point. Turn the plotter to the meridian nearest the"
        " middle of the leg, and read it again."
    ),
    "next.true-course": (
        "Read the true course again, from a meridian and before any variation, and enter it "
        "with T; then look up the variation printed beside the middle of the leg."
    ),
    "next.printed-meridian": (
        "Lay the same leg on the printed meridian nearest its middle, not on a border, a rose "
        "or another meridian. If the course changes, you did not read it there."
    ),
    "next.without-wind": (
        "Read the course without the wind: the line on the chart has no wind in it."
    ),
    "next.other-end": (
        "Read the same leg again from its other end: the two courses must be 180° apart. A "
        "slip seldom happens twice the same way."
    ),
    "next.again": (
        "Measure the same leg once more, from the beginning: a slip seldom happens twice, a "
        "fault does."
    ),
    "next.steel-rule": (
        "Lay the plotter along a steel rule, or a printed scale proved with one: that "
        "separates a plotter that has changed from a chart that has."
    ),
    "next.one-lay": (
        "Measure a leg of less than {longest_nm:.0f} NM, which needs laying only once, with "
        "the same plotter, and enter both readings together."
    ),
    "next.latitude": (
        "Measure a leg at another latitude in the same way: minutes along the parallel change "
        "with latitude, an edge or a scale does not."
    ),
    "next.longer": (
        "Measure a longer leg too, of about {length_nm:.0f} NM, with the same plotter, and "
        "enter both readings together: that separates a fault that is the same on every leg "
        "from one that grows with the leg."
    ),
    "next.shorter": (
        "Measure a shorter leg too, of about {length_nm:.0f} NM, with the same plotter, and "
        "enter both readings together: that separates a fault that is the same on every leg "
        "from one that grows with the leg."
    ),
    "own_plotter": (
        "{typed} {compared}: as tested it {shows: and }. Do not fly {typed}, corrected or not:"
        " measure the leg again with a plotter that passes its test, which should show about "
        "{leg_nm:distance}, and fly that."
    ),
    "own_plotter.of-leg": "{leg}: {fault}",
    "own_plotter.agrees": (
        "agrees with the leg of {leg_nm:distance}, which your plotter should not"
    ),
    "own_plotter.long": (
        "is {by:.1f} {unit} long for the leg of {leg_nm:distance}, and your plotter is why"
    ),
    "own_plotter.short": (
        "is {by:.1f} {unit} short for the leg of {leg_nm:distance}, and your plotter is why"
    ),
    "own_plotter.shows": "shows about {figure:.1f} {unit}",
    "fault-of-plotter.long": "reads {percent:.1f} % long",
    "fault-of-plotter.short": "reads {percent:.1f} % short",
    "fault-of-plotter.zero-long": "reads {by_mm:.1f} mm long from its zero on",
    "fault-of-plotter.zero-short": "reads {by_mm:.1f} mm short from its zero on",
    "own-plotter.replace": (
        "Your plotter, as tested, {faults: and }. Do not fly a distance read off it, corrected"
        " or not. Replace it."
    ),
    "own-plotter.zero": (
        "Your plotter, as tested, {faults: and }. Do not fly a distance read off it, corrected"
        " or not. Lay its zero mark, not its end, and test it again."
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
