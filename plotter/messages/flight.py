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
    # air
    "no-wind": "No wind given; headings and times are for calm air.",
    "two-winds": (
        "The plan has both [[wind]] and [winds_aloft]; the forecast is used. Remove one of them."
    ),
    "strong-wind": (
        "{legs:Legs}: wind of {wind_kt} kt is more than half the true airspeed of {airspeed_kt} "
        "kt, so a small change in it changes heading, time and fuel a lot. Check the wind, or "
        "choose another altitude or day."
    ),
    "low-groundspeed": (
        "{legs:Legs}: groundspeed is {groundspeed_kt} kt, below {limit_kt:.0f} kt. A little more "
        "wind stops the flight: choose another altitude, route or day."
    ),
    "winds-aloft-period": (
        "The winds aloft are for use until {until}, and you reach {point} at {eta}; from there "
        "on the log uses them beyond their period. Work it again with the next forecast."
    ),
    "winds-aloft-far": (
        "{legs:Legs}: the nearest station whose winds are used is up to {away_nm:.0f} NM away. "
        "Name a nearer one."
    ),
    "wind-beyond": (
        "Cruise at {altitude_ft:altitude} is {side} every altitude a wind is given for; the "
        "nearest wind is used unchanged."
    ),
    "rests-on": "Assumed: {assumptions:; }.",
    # light and clocks
    "no-time-zone": (
        "No time zone is known for {point}; its times are printed in {zone}, as you typed the "
        "departure."
    ),
    "departure-offset": (
        "You typed the departure as {typed}, but the clock at {point} differs then: take-off is "
        "{take_off}. If {time} is the local time, write {instead}."
    ),
    "night": (
        "Part of the flight is at night, from {since}. Check lights, currency, equipment and "
        "what your license allows."
    ),
    "night.take-off": "take-off at {point}, {at}",
    "night.on-the-way": "{point}, {at}",
    "position-lights": (
        "Position lights are required on the way to {end}: part of it is between sunset and "
        "sunrise."
    ),
    "night-currency": (
        "You use {point} between an hour after sunset and an hour before sunrise. To carry "
        "passengers you need three take-offs and landings to a full stop in that period within "
        "the last 90 days."
    ),
    "daylight-margin.down": (
        "Landing at {point} {at} is after sunset or before sunrise; your limit is {limit_min:g} "
        "min of daylight left. Depart at another time."
    ),
    "daylight-margin.short": (
        "Landing at {point} {at} is {left_min} min before sunset, less than your limit of "
        "{limit_min:g} min. Depart earlier."
    ),
    # fields
    "no-elevation": "The elevation of {point} is not in the data; {rests}. Look it up.",
    "no-elevation.phases": "{phases: and } {count:is|are} computed from sea level",
    "no-elevation.cruise": "the cruising altitude is not checked against it",
    "weather-no-elevation": (
        "The elevation of {point} is not in the data, so its weather gives no pressure or "
        "density altitude and no temperature aloft. Look it up."
    ),
    "runway-not-tested": (
        "The runway lengths at {point} are not in the data, so your limit of {limit_ft:altitude} "
        "is not tested. Look them up."
    ),
    "runway": (
        "The longest runway at {point} is {longest_ft:altitude}, shorter than your limit of "
        "{limit_ft:altitude}. Choose another airport."
    ),
    "crosswind": (
        "Crosswind at {point} is {crosswind_kt} kt from the {side} on runway {runway}, above "
        "your limit of {limit_kt:g} kt."
    ),
    "crosswind.others-shorter": (
        "Crosswind at {point} is {crosswind_kt} kt from the {side} on runway {runway}, above "
        "your limit of {limit_kt:g} kt. Its other runways are shorter than your "
        "{runway_limit_ft:altitude}, or their length is not in the data."
    ),
    "crosswind-not-tested": (
        "Your crosswind limit of {limit_kt:g} kt is not tested: {reasons:; }. Look it up."
    ),
    "crosswind-not-tested.wind": "no wind in [[weather]] for {points:, }",
    "crosswind-not-tested.runway": (
        "the heading of a usable runway is not in the data for {points:, }"
    ),
    "density-altitude": (
        "Density altitude at {point} is {density_altitude_ft:altitude} (elevation "
        "{elevation_ft:altitude}): expect a longer take-off and a slower climb."
    ),
    # oxygen
    "oxygen": (
        "{where} reaches a pressure altitude of {highest_ft:altitude} and is above "
        "{above_ft:altitude} for {minutes} min: {requirements:; }. {assumed}"
    ),
    "oxygen-later": (
        "{where} reaches a pressure altitude of {highest_ft:altitude} and is above "
        "{above_ft:altitude} for {minutes} min: after {allowed_min:.0f} min there the crew must "
        "use oxygen. {assumed}"
    ),
    "oxygen.crew": "the crew must use oxygen all the time above {above_ft:altitude}",
    "oxygen.crew-later": (
        "the crew must use oxygen after {allowed_min:.0f} min above {above_ft:altitude}"
    ),
    "oxygen.everyone": "every occupant must have oxygen above {above_ft:altitude}",
    "oxygen.assumed": "Assumed: unpressurized cabin. The oxygen on board is not known here.",
    "oxygen.assumed-standard": (
        "Assumed: unpressurized cabin, standard altimeter setting. The oxygen on board is not "
        "known here."
    ),
    # figures that are probably a slip
    "unlikely-figure": (
        "Unlikely, but used as given: {figures:; }. Look for a slip or another unit."
    ),
    "unlikely-figure.airspeed": (
        "true airspeed of {airspeed_kt:.0f} kt in {phase} (usual: {slow_kt:.0f}–{fast_kt:.0f} kt)"
    ),
    "unlikely-figure.rate": (
        "rate of {phase} of {rate_fpm:,.0f} ft/min (usual: up to {steep_fpm:,.0f})"
    ),
    "unlikely-figure.tanks": (
        "{flow:g} {unit} an hour from tanks of {usable:g} (full tanks last "
        "{endurance_min:time_left})"
    ),
    "unlikely-figure.altimeter": (
        "altimeter setting of {setting_inhg:.2f} inHg ({setting_hpa:.0f} hPa) at {point} (usual: "
        "{low_inhg:.2f}–{high_inhg:.2f} inHg)"
    ),
    # how the flight is flown
    "terrain-not-checked": (
        "{legs:Legs}: terrain not checked. Read the highest ground and the highest obstacle off "
        "the chart and enter them as highest_ground_ft and highest_obstacle_ft."
    ),
    "terrain-in-part": (
        "{legs:Legs}: no highest {missing} given. Read it off the chart too and enter it as "
        "highest_{missing}_ft."
    ),
    "far-apart": "{minutes:.0f} min without a checkpoint, {stretch}. Add one between.",
    "peaks-below-cruise": (
        "{start} to {end} never reaches {planned_ft:altitude}; it peaks at {peak_ft:altitude}. "
        "Plan a lower altitude."
    ),
    "no-descent": (
        "The flight arrives over {end} at {arrival_ft:altitude}, above the pattern at "
        "{pattern_ft:altitude}: the rate of descent does not bring it down in time."
    ),
    "no-descent.below": (
        "The flight arrives over {end} at {arrival_ft:altitude} without a descent to the pattern "
        "at {pattern_ft:altitude}: it is never above the pattern."
    ),
    "above-visual-altitudes": (
        "The flight reaches {highest_ft:altitude}; visual cruising altitudes end below "
        "{ceiling_ft:altitude}. Ask whether visual flight is allowed there."
    ),
    "rolls-on": (
        "The landing at {point} is not to a full stop, but the plan gives time on the ground or "
        "fuel for it. Both are counted, taxi fuel is not. Correct one of them."
    ),
    "all-cruise": "No {phases: and no } given; that part of the flight is computed as cruise.",
    "not-in-the-figures": (
        "Time and fuel run from take-off, on course, to overhead the landing field. Traffic "
        "patterns, landings and holding are not included."
    ),
    "no-compass-card": "No compass card given; compass heading equals magnetic heading.",
    "compass-card": (
        "The compass card corrects by up to {largest_deg:g}°, more than the {certified_deg:.0f}° "
        "a compass was certified with. Have it swung."
    ),
    "compass-card-gap": (
        "The compass card has too few pairs: {gaps:; }. Values between are interpolated and may "
        "be degrees off. Enter every pair: a card has one every 30°."
    ),
    "compass-card-gap.between": "none between {low} and {high}, and you fly {heading}",
    "quiet": "[quiet] {silenced} is a STOP and cannot be silenced; change the plan instead",
    "quiet-unused": "[quiet] {silenced} silences nothing here. Remove it from the plan.",
    # air
    "winds-aloft-period.outside": (
        "the winds aloft are for use from {start} to {end}, not at {instant}; paste the forecast "
        "that covers the flight"
    ),
    "winds-aloft.no-station": (
        "station {station} is not in the winds aloft (in it: {stations:, }); choose one of these"
    ),
    "winds-aloft.valid-time": (
        "the VALID time of the bulletin is outside its FOR USE period; paste the bulletin as sent"
    ),
    "winds-aloft.no-heading": (
        "the winds aloft have no heading with their period of use; paste the line that reads "
        "like VALID 180600Z   FOR USE 0200-0900Z"
    ),
    "winds-aloft.no-altitudes": (
        "the winds aloft have no row of altitudes; paste the line that starts with FT"
    ),
    "wind-levels.no-station": "no station to take the winds aloft from; name one",
    "wind-levels.no-wind": "no wind given; enter one, or calm as 0 kt",
    "wind-levels.two": "two winds at {altitude_ft:,.0f} ft; keep one of them",
    "temperature.aloft": (
        "{temperature_c:g} °C at {altitude_ft:,.0f} ft is out of range; enter the air "
        "temperature in degrees Celsius"
    ),
    "winds-aloft-station": (
        "the position of winds aloft station {station} is not in the data; name another station "
        "of the bulletin"
    ),
    "winds-aloft-station.far": (
        "winds aloft station {station} is {away_nm:,.0f} NM from the route; name one within "
        "{limit_nm:.0f} NM"
    ),
    "no-groundspeed": (
        "{winds: and } {count:leaves|leave} {groundspeed_kt:.1f} kt of groundspeed at a true "
        "airspeed of {airspeed_kt:.0f} kt, and a log needs at least {least_kt:.0f} kt; choose "
        "another altitude, route or day"
    ),
    "no-groundspeed.none": (
        "{winds: and } {count:leaves|leave} no groundspeed at a true airspeed of "
        "{airspeed_kt:.0f} kt, and a log needs at least {least_kt:.0f} kt; choose another "
        "altitude, route or day"
    ),
    "no-groundspeed.zero": (
        "groundspeed {groundspeed_kt:g} kt is out of range; it must be above 0 kt"
    ),
    "crosswind-exceeds-airspeed": (
        "the crosswind of {crosswind_kt:.0f} kt is more than the true airspeed of "
        "{airspeed_kt:.0f} kt, so no heading holds the course; choose another altitude, route or "
        "day"
    ),
    "true_airspeed_kt": "true airspeed {airspeed_kt:g} kt is out of range; enter one above 0 kt",
    "wind.direction": "wind direction {direction_deg:g}° is out of range; enter 0 to 360",
    "wind.speed": "wind speed {speed_kt:g} kt is out of range; enter 0 to {most_kt:g} kt",
    # climb, descent, time
    "altitude.climb": "a climb from {from_ft:,.0f} ft cannot end at {to_ft:,.0f} ft",
    "altitude.descent": "a descent from {from_ft:,.0f} ft cannot end at {to_ft:,.0f} ft",
    "leg-refused": "leg {leg} ({start} to {end}) at {altitude_ft:,.0f} ft: {reason}",
    "time": "time {minutes:g} min is out of range; it must be above 0",
    "fuel.flow": "fuel flow {per_hour:g} an hour is out of range; it must be 0 or more",
    "too-long": "a sector of this flight takes more than a year; correct its speeds and rates",
    "short-leg.none": (
        "leg {leg} ({start} to {end}) has no length: both ends are the same point; remove one"
    ),
    "checkpoints.too-many-min": (
        "checkpoints_every_min {every_min:g} gives more than {most:,} checkpoints; write "
        "{least_min:g} or more"
    ),
    "checkpoints-by-time": (
        "The plan has a checkpoint every {every_min:g} min of flying. The navigation log places "
        "them by groundspeed; this plot has none."
    ),
    # aircraft and figures
    "figure.above-zero": "{name} is {value:g}; enter a number above 0",
    "figure.least": "{name} is {value:g}; enter {least:f} or more",
    "figure.not-negative": "{name} is {value:g}; enter 0 or more",
    "figure.range": "{name} is {value:g}; enter {what} from {low:,.0f} to {high:,.0f}",
    "figure.most": "{name} is {value:g}; enter {most:,.0f} or less",
    "figure.above-other": "{name} is {value:g}, more than {other}, {limit:g}; correct one of them",
    "cruise_table.empty": "the cruise table has no row",
    "cruise_table.order": (
        "the cruise table has {upper_ft:,.0f} ft after {lower_ft:,.0f} ft; write its rows from "
        "low to high, each altitude once"
    ),
    "endurance": (
        "{name} is {per_hour:,.10g}, which empties the usable fuel of {usable:g} in less than "
        "{least_min:.0f} min; correct one of them"
    ),
    "registered_in": (
        "{name} is {value!r}; enter the two letters of the country (ISO 3166), US for a "
        "registration that begins with N"
    ),
    "fuel_unit": "{name} is {value!r}; enter one of {units:, }",
    "aircraft_category": "{name} is {value!r}; enter {categories: or }",
    # stops, fields, log
    "fuel_added": (
        "fuel_added {amount:g} at {point} is more than the tanks take: at most {room} {unit}"
    ),
    "cruise_altitude_ft.field": (
        "cruising altitude {altitude_ft:altitude} is not above {field}, elevation "
        "{elevation_ft:altitude}; choose a higher one"
    ),
    "stop": (
        "{name} is {point!r}, which is not a turning point of the route; choose from {between}"
    ),
    "stop.none-left": (
        "{name} is {point!r}, which is not a turning point of the route; none is left for it"
    ),
    "weather": "{name} is {point!r}, which is not on the route; its points are {names:, }",
    "column": "no column {name!r}; the columns are {columns}",
    "row": "the log has no row {number}; its rows are 1 to {last}",
    "invented.unknown": (
        "{name} has '{entry}', which is not a figure that can be invented; write {instead:, }"
    ),
    "invented": (
        "Still invented: {names:, }. Replace each with your own figure or confirm it, and remove "
        "its name from the list invented."
    ),
    # legs: ground, altitudes, typed figures
    "ground-clearance": (
        "{clears}, less than your limit of {limit_ft:altitude}. Choose a higher altitude."
    ),
    "ground-clearance.clears": "Leg {leg} clears its highest {what} by {clears_ft:altitude}",
    "below-ground": (
        "Leg {leg} is flown at {flown_ft:altitude}, but its highest {what} is "
        "{height_ft:altitude}. Choose a higher altitude or another route."
    ),
    "ground-within-500-ft": (
        "{clears}, too low to be lawful over land where people live. The rule requires "
        "{surface_ft:altitude} above the surface, and {towns_ft:altitude} above the highest "
        "obstacle over towns. Choose a higher altitude or another route."
    ),
    "ground-within-500-ft.helicopter": (
        "{clears}, too low to be lawful over land where people live. The rule requires "
        "{surface_ft:altitude} above the surface, and {towns_ft:altitude} above the highest "
        "obstacle over towns. Choose a higher altitude or another route. A helicopter may be "
        "lower if it endangers nobody (91.119(d))."
    ),
    "ground-within-1000-ft": (
        "{clears}. Over a town or another congested area the rule requires {towns_ft:altitude} "
        "above the highest obstacle. Check on the chart what is below, and choose a higher "
        "altitude if in doubt."
    ),
    "ground-within-1000-ft.helicopter": (
        "{clears}. Over a town or another congested area the rule requires {towns_ft:altitude} "
        "above the highest obstacle. Check on the chart what is below, and choose a higher "
        "altitude if in doubt. A helicopter may be lower if it endangers nobody (91.119(d))."
    ),
    "ground-on-the-way": (
        "Leg {leg} starts or ends at {altitude_ft:altitude} in climb or descent, and its highest "
        "{what} is {height_ft:altitude}. Check on the chart where it is, and climb before the "
        "turning point if necessary."
    ),
    "cruising-altitude": (
        "Leg {leg}: {altitude_ft:altitude} on {course_deg:M}; the {whose} requires {requires}: "
        "{near}."
    ),
    "cruising-altitude.on-the-line": (
        "Leg {leg}: {altitude_ft:altitude} on {course_deg:M}, unrounded {unrounded_deg:.2f}°M: "
        "the course is where the {whose} changes. It requires {near} on one side and "
        "{near_other} on the other. Measure the course again and choose."
    ),
    "cruising-altitude-state": (
        "{legs:Legs}: {why}, so no altitude was checked against a table. The state's own table "
        'decides (its AIP). Many states use the ICAO table, which visual_rules = "ICAO" '
        "checks; some divide the circle at 090° and 270°."
    ),
    "cruising-altitude-state.icao": (
        "Cruising altitudes are checked against the ICAO table. A state's own table (its AIP) "
        "comes first: some divide the circle at 090° and 270°."
    ),
    "cruising-altitude-state.unknown": "the data does not give the state",
    "cruising-altitude-state.outside": "{points:, } {count:is|are} outside the US",
    "cruising-altitude-state.outside-more": "{points:, } and {more} more are outside the US",
    "typed-figures": "Leg {leg} uses your own figures: {figures:, }.",
    "typed-figures.course": "{typed:T} typed for {computed:T} computed",
    "typed-figures.distance": "{typed:distance} typed for {computed:distance} computed",
    "typed-figures.variation": "{typed:variation} typed for {computed:variation} computed",
    "typed-too-short": (
        "Leg {leg}: you typed {typed_nm:distance}, but its ends are {distance_nm:distance} "
        "apart. Time and fuel come out too small; measure again."
    ),
}
PAGE: Mapping[str, str] = {
    "cruising-altitude-state": (
        "{legs:Legs}: {why}, so no altitude was checked against a table. The state's own table "
        "decides (its AIP). Many states use the ICAO table, which ICAO under “Cruising altitudes "
        "by the table of” checks; some divide the circle at 090° and 270°."
    ),
    "two-winds": (
        "The plan has both winds and a winds aloft forecast; the forecast is used. Remove one of "
        "them."
    ),
    "terrain-not-checked": (
        "{legs:Legs}: terrain not checked. Read the highest ground and the highest obstacle off "
        "the chart and enter them as “Highest ground” and “Highest obstacle”."
    ),
    "terrain-in-part": (
        "{legs:Legs}: no highest {missing} given. Read it off the chart too and enter it as "
        "“Highest {missing}”."
    ),
    "crosswind-not-tested.wind": "no wind in the weather for {points:, }",
    "quiet": (
        "Silenced caution {silenced} is a STOP and cannot be silenced; change the plan instead"
    ),
    "quiet-unused": "Silenced caution {silenced} silences nothing here. Remove it from the plan.",
    "checkpoints.too-many-min": (
        "a checkpoint every {every_min:g} min gives more than {most:,} checkpoints; enter "
        "{least_min:g} or more"
    ),
    "fuel_added": (
        "{amount:g} taken on at {point} is more than the tanks take: at most {room} {unit}"
    ),
    "invented": "Still invented: {names:, }. Replace each with your own figure or confirm it.",
}
