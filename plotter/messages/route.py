"""What the program says about a route: its points, its legs, its checkpoints."""

from __future__ import annotations

from collections.abc import Mapping

COMMON: Mapping[str, str] = {
    # checkpoints
    "checkpoint-interval": (
        "a checkpoint interval of {every_nm:g} NM is out of range; enter a distance above 0 NM, "
        "such as 10"
    ),
    "checkpoint-interval.many": (
        "a checkpoint interval of {every_nm:g} NM gives more than {most:,} checkpoints over "
        "{length_nm:,.0f} NM; enter {least_nm:g} NM or more"
    ),
    "checkpoint-clearance": (
        "a clearance of {clear_nm:g} NM from turning points is out of range; enter 0 or more, "
        "such as 1"
    ),
    "no-checkpoints": (
        "No checkpoints: the interval of {every_nm:g} NM is too long for this route. Choose a "
        "shorter one if you want some."
    ),
    # points of a route
    "same-name": "Two different points of this route are named {name}. Rename one of them.",
    "sources-apart": (
        "Two datasets put {point} {apart_nm:.1f} NM apart. Check its position on the chart."
    ),
    "sources-apart.rule": (
        "Two datasets put {point} {apart_nm:.1f} NM apart ({rule}). Check its position on the "
        "chart."
    ),
    "closed": (
        "{point} ({place}) is marked closed in the data. Use it as a landmark, not for landing."
    ),
    "heliport": "{point} ({place}) is a heliport. Check that you can use it.",
    "seaplane-base": "{point} ({place}) is a seaplane base. Check that you can use it.",
    "balloonport": "{point} ({place}) is a balloonport. Check that you can use it.",
    "changed-place": (
        "{point} changed in the data: {changes:; }. Check against current publications."
    ),
    "changed-place.between": (
        "{point} changed in the data between {before} and {after}: {changes:; }. Check against "
        "current publications."
    ),
    "changed-place.moved": "moved {moved_nm:distance}",
    "changed-place.kind": "{what}",
    "changed-place.change": "{what} ({values:, now })",
    "changed-place.more": "{count} more",
    "data-age": (
        "More than a year old on the day of the flight: {listed}. Check against current "
        "publications."
    ),
    "data-age.today": "More than a year old today: {listed}. Check against current publications.",
    "data-age.table": "{tables: and } of {date} ({days:age})",
    "own-point-first": (
        "{text} is read as your own point. It is also an identifier in the data: enter "
        "airport:{text} or navaid:{text} for that one."
    ),
    "own-point-first.coordinate": (
        "{text} is read as your own point, though it could also be a coordinate."
    ),
    "bearing-reference": "{text}: magnetic bearing {bearing_deg:03d} is plotted with {reference}.",
    "bearing-reference.station": (
        "the station's declination in the data, {declination_deg:variation_in_tenths}"
    ),
    "bearing-reference.model": (
        "the magnetic model's variation at {point}, {variation_deg:variation_in_tenths}"
    ),
    "station-declination": (
        "The declination of {point} in the data, {station_deg:variation_in_tenths}, is far from "
        "the magnetic model's {model_deg:variation_in_tenths}. The data may be out of date and "
        "the point wrong: check it on the chart."
    ),
    "reference-system": (
        "{text} names the reference system {system}. Its figures are used as WGS 84, which can "
        "be some hundred meters off."
    ),
    "exchanged": (
        "{point} would be where the data has it if its latitude and longitude were exchanged. "
        "Correct the file."
    ),
    "exchanged.detour": (
        "{point} is {detour_nm:,.0f} NM from its neighbors; with latitude and longitude "
        "exchanged it would be {exchanged_nm:,.0f} NM. Correct the file."
    ),
    "file-apart": (
        "{point} is {apart_nm:.1f} NM from {place} in the data. The position in the file is "
        "used; check it on the chart."
    ),
    "speed-and-level": (
        "{groups: } is kept with the route, but no figure here uses it. Set the altitude for "
        "variation separately."
    ),
    # legs
    "leg-split": (
        "Leg {leg} is split into {parts} parts: along it the true course changes from "
        "{course_from:T} to {course_to:T}, variation from {variation_from:variation} to "
        "{variation_to:variation}. Parts begin at {starts:, }."
    ),
    "short-leg": (
        "The ends of leg {leg} are only {length_ft:.0f} ft apart, so its course means nothing. "
        "If they are the same point, remove one."
    ),
    "near-antipodal": (
        "The ends of leg {leg} are almost opposite each other on the earth, so there is more "
        "than one shortest line. Add a turning point between them."
    ),
    "magnetic-caution-zone": (
        "Leg {leg} ({start} to {end}) is in the caution zone of the magnetic model. A magnetic "
        "compass is unreliable there."
    ),
    "magnetic-blackout-zone": (
        "Leg {leg} ({start} to {end}) is in the blackout zone of the magnetic model. A magnetic "
        "compass is unreliable there."
    ),
    "course-changes": (
        "The true course changes by {turn_deg:.0f}° along leg {leg}; the course shown is for "
        "mid-leg. Split the leg to follow it more closely."
    ),
    "variation-changes": (
        "Variation changes from {first_deg:variation} to {last_deg:variation} along leg {leg}; "
        "the magnetic course shown is for mid-leg. Split the leg to follow it more closely."
    ),
    "old-magnetic-model": (
        "Date {date} is outside the years of {model}, so every magnetic figure is doubtful. Use "
        "the variation on a current chart."
    ),
    # what was typed
    "altitude.plot": (
        "altitude {altitude_ft:,.0f} ft is out of range; enter {lowest_ft:,.0f} to "
        "{highest_ft:,.0f} ft"
    ),
    "point-name": "'{name}' is not a valid point name; use one word of letters, digits, - and _",
    "order": "the new order must list every point of the route once",
    "no-point": "the route has no point {number}; its points are numbered 1 to {count}",
    "quotes": "a position that contains spaces needs quotes: {typed}",
    "one-point": "{count} points given; enter one, such as KRST",
    "one-point.none": "no point given; enter one, such as KRST",
    "too-many-points": (
        "the route has {count:,} words, more than {most:,}; split it or plot it from a file"
    ),
    "too-many-points.letters": (
        "the route has a word of {count:,} characters, and a point has {most} at most; put "
        "spaces between points"
    ),
    "half-named": (
        "'{text}' has nothing on one side of '='; write NAME=POINT, such as BARN=44.1,-92.5"
    ),
    "too-few-points": "the route has only one point; enter two or more, such as KRST KDLH",
    "too-few-points.none": "the route has no points; enter two or more, such as KRST KDLH",
    "zero-length.point": (
        "'{text}' is the same place as the point before it ({before}); remove one of them"
    ),
    "unknown-identifier.examples": (
        "no place '{text}' in the data; enter an identifier such as KRST, or a position such as "
        "44.0,-92.5 or 4400N09230W"
    ),
    "unknown-identifier.own": (
        "no place '{text}' in the data or among your own points; did you mean {like:either}?"
    ),
    "not-parted": "points need spaces between them: {spaced}",
    "airway": (
        "'{text}' looks like an airway, and airways are not supported: enter the points along "
        "it. Otherwise: {reason}"
    ),
    "airway.beacon": (
        "'{text}' looks like an airway, and airways are not supported: enter the points along "
        "it, or navaid:{text} for the beacon of that name"
    ),
    "bearing": (
        "bearing {bearing} in '{text}' is over 360; write the point, three digits of bearing and "
        "three of distance, such as DUB180040"
    ),
    "bearing.figures": (
        "'{text}' has {count} digits after {point}; write six, three of bearing and three of "
        "distance, such as {point}090020"
    ),
    "bearing.twice": (
        "'{text}' has two bearings and distances; write one point, three digits of bearing and "
        "three of distance, such as DUB180040"
    ),
    "bearing.no-distance": "distance 000 in '{text}' is the point itself; enter {point}",
    "no-variation": (
        "the variation at {point} is not known here, so a magnetic bearing from it cannot be "
        "plotted; enter the position itself"
    ),
    "digits": "'{text}' has digits other than 0 to 9; enter {plain}",
    # cautions that are joined
    "same-for": "Same for {places:, }.",
    "same-for.legs": "Same for {legs:legs}.",
}

# Sentences that name an option of the command line.
CONSOLE: Mapping[str, str] = {
    "checkpoint-interval": (
        "a checkpoint interval of {every_nm:g} NM is out of range; enter a distance above 0 NM, "
        "such as --every 10"
    ),
    "checkpoint-interval.many": (
        "a checkpoint interval of {every_nm:g} NM gives more than {most:,} checkpoints over "
        "{length_nm:,.0f} NM; use --every {least_nm:g} or more"
    ),
    "checkpoint-clearance": (
        "a clearance of {clear_nm:g} NM from turning points is out of range; enter 0 or more, "
        "such as --clear-of-turns 1"
    ),
    "no-checkpoints": (
        "No checkpoints: the interval of {every_nm:g} NM is too long for this route. Use a "
        "shorter --every if you want some."
    ),
    "speed-and-level": (
        "{groups: } is kept with the route, but no figure here uses it. Set the altitude for "
        "variation with --altitude."
    ),
    "changed-place": (
        "{point} changed in the data: {changes:; }. Check against current publications; 'plotter "
        "data changes' lists every change."
    ),
    "changed-place.between": (
        "{point} changed in the data between {before} and {after}: {changes:; }. Check against "
        "current publications; 'plotter data changes' lists every change."
    ),
}
