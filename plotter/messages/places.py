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
    # searching
    "search": "nothing to search for; enter a name or an identifier",
    "country": "'{country}' is not a country code; enter two letters (ISO 3166), such as US or NZ",
    "input.within": "distance {within_nm:g} NM is out of range; enter 0 or more",
    "input.runway": "runway length {runway_ft:g} ft is out of range; enter 0 or more",
    "input.no-kind": "no kind of place given; use one or more of {kinds:, }",
    "input.without-runway": "a {kind} has no runway; search for it without a runway length",
    "input.kind": "unknown kind of place '{kind}'; use {kinds:, }",
    # identifiers
    "unknown-identifier": "no {what} '{text}' in the data",
    "unknown-identifier.like": "no {what} '{text}' in the data; did you mean {like:either}?",
    "unknown-identifier.none": "no identifier given; enter one, such as airport:KBOS",
    "unknown-identifier.other-kind": (
        "no {what} '{text}' in the data; it is {place}: enter {typed}"
    ),
    "ambiguous-identifier": (
        "'{text}' means {count} places; enter the one you want:\n{places:choices}"
    ),
    "ambiguous-identifier.more": (
        "'{text}' means {count} places; enter the one you want:\n{places:choices}\n  and {more} "
        "more; enter a position for one of those"
    ),
    "place": "{name} ({country})",
    "place.and-more": "{name} ({country}) and {more} more",
    "settled": "{text} is read as {place}. It is also a code of {others}.",
    "settled.indicator": (
        "{text} is read as {place} by location indicator. It is also a code of {others}."
    ),
    "settled.open": "{text} is read as {place}, which is open; {others} is closed.",
    "settled.near": (
        "{text} is read as the {kind} {place}, {distance_nm:distance} from the neighboring "
        "point; the next one with that ident is {next_nm:distance} away."
    ),
    "twin": (
        "{first} ({first_name}) and {second} ({second_name}) are {apart_nm:.1f} NM apart: they "
        "may be the same field, listed twice in the data. Check the chart."
    ),
    "twin.same-code": (
        "{first} ({first_name}) and {second} ({second_name}) are {apart_nm:.1f} NM apart and "
        "share a code: they may be the same field, listed twice in the data. Check the chart."
    ),
    "twin.same-name": (
        "{first} ({first_name}) and {second} ({second_name}) are {apart_nm:.1f} NM apart and "
        "share a name: they may be the same field, listed twice in the data. Check the chart."
    ),
    # lists of places
    "near": "Within {within_nm:distance} of {where}: {count} in the data",
    "near.some": (
        "Within {within_nm:distance} of {where}: {count} in the data, the nearest {listed} are "
        "listed"
    ),
    "near.nothing": "Within {within_nm:distance} of {where}: nothing in the data",
    "near.beyond": (
        "Within {within_nm:distance} of {where}: nothing in the data; the nearest is {name}, "
        "{away_nm:distance} {bearing}"
    ),
    "near.runway-unknown": (
        "{count} more within {within_nm:distance} may have a runway of {runway_ft:altitude}: the "
        "length is not in the data."
    ),
    "near.compass-weak": (
        "This close to a magnetic pole a compass is sluggish or useless: do not steer by "
        "magnetic bearings."
    ),
    "kind": "unknown kind of place '{kind}'; use {kinds:, }",
    "kind.none": "no kind of place given; use {kinds:, }",
    # coordinates
    "altimeter": (
        "altimeter setting {altimeter_hpa:g} hPa is out of range; enter {low_hpa:g} to "
        "{high_hpa:g} hPa"
    ),
    "altimeter.inches": (
        "altimeter setting {altimeter_hpa:g} hPa is out of range; enter {low_hpa:g} to "
        "{high_hpa:g} hPa. If you mean {inches:.2f} inHg, enter it in inches"
    ),
    "coordinate": "this is not latitude and longitude; {examples}",
    "coordinate.examples": (
        "enter a position such as 41.234,-95.5 or 4620N07805W or, in quotes, 43°54.5'N 92°30.0'W"
    ),
    "coordinate.points": "{typed!r} has more than one decimal point; {examples}",
    "coordinate.letter": "{typed!r} does not belong in a coordinate; {examples}",
    "coordinate.misplaced": "{typed!r} does not belong here",
    "coordinate.both-wrong": "{first}, and {second}",
    "coordinate.comma": (
        "use a comma only once, between latitude and longitude, and a point for decimals"
    ),
    "coordinate.same-side": "put both hemisphere letters before the numbers, or both after them",
    "coordinate.letter-each": "latitude and longitude need one hemisphere letter each",
    "coordinate.one-each": "enter one latitude and one longitude",
    "coordinate.one-only": "only one of latitude and longitude given; enter both",
    "coordinate.sign-and-letter": "a sign and a hemisphere letter mean the same; remove one",
    "coordinate.count": "{count} numbers where degrees, minutes and seconds belong",
    "coordinate.hemisphere": "degrees and minutes need a hemisphere letter, as in 43 54.5N",
    "coordinate.decimals": "only the last number may have decimals",
    "coordinate.digits": (
        "{axis} {figure} has {count} digits; write {degrees} for degrees, {minutes} with "
        "minutes, {seconds} with seconds"
    ),
    "coordinate.precision": (
        "latitude and longitude need the same precision: two and three digits for degrees, two "
        "more each with minutes, two more each with seconds, as in +40-075/ or +4012-07500/"
    ),
    "coordinate.widths": (
        "{first} and {second} digits; write 2 and 3 for degrees (46N078W), 4 and 5 with minutes "
        "(4620N07805W), 6 and 7 with seconds (462013N0780512W)"
    ),
    "coordinate.height": "height {height_m} is not a number of meters",
    "coordinate.east-or-west": "'{text}' has no E or W after its longitude; enter {both:either}",
    "coordinate.half": (
        "'{text}' is half a position; enter latitude and longitude together, such as 4400N09230W"
    ),
    "coordinate.two-commas": (
        "'{text}' may be one position with decimal commas or two positions; enter {one} for one, "
        "{two} for two"
    ),
    "coordinate.two-words": (
        "latitude and longitude are one point; enter them with a comma and no space: {joined}"
    ),
    "coordinate-range": "{axis} {angle} is out of range; enter -{limit} to {limit}",
    "coordinate-range.part": "{figure} {unit} is out of range; enter 0 to less than 60",
    "coordinate-swapped": "latitude comes first: did you mean {turned}?",
    "coordinate-swapped.figure": (
        "latitude {latitude} is out of range and latitude comes first: did you mean {turned}?"
    ),
}

# Sentences that name an option of the command line.
CONSOLE: Mapping[str, str] = {
    "model-date": (
        "{date} is outside the years of {model}; choose a date from {first} to {last}, or add "
        "--allow-old-model"
    ),
}
