"""What the program says about a plan file."""

from __future__ import annotations

from collections.abc import Mapping

COMMON: Mapping[str, str] = {
    # faults of a plan file
    "plan-fault": "{file}, line {line}: {reason}",
    "plan-fault.at": "{place}: {reason}",
    "newer-format": (
        "{name} is {format}, and this program reads formats up to {latest}; use a newer version "
        "of it"
    ),
    "repeated": "{name} is {value}, which {row} has already; keep one of them",
    "unknown-key": "{name} is not a known key; the keys here are {known:, }",
    "unknown-key.close": "{name} is not a known key; did you mean {close}?",
    "unknown-key.elsewhere": "{name} is not a key of this table; move it to [{table}]",
    # a key that is missing, or one too many
    "missing-key": "{name} is missing; write {key} = {example}",
    "missing-key.instead": "{name} is missing; write {key} = {example}, or {instead: or }",
    "missing-key.format": "{name} is missing; write format = 1 at the top",
    "missing-key.flight": (
        "{name} is missing; write the table [flight] with route, departure and cruise_altitude_ft"
    ),
    "missing-key.aircraft": (
        "{name} is missing; write the table [aircraft] with its speeds and its fuel"
    ),
    "missing-key.route": (
        "{name} is missing; write {key} = {example}, the points with spaces between them"
    ),
    "missing-key.departure": (
        "{name} is missing; write {key} = {example}, the take-off time with its offset from UTC"
    ),
    "missing-key.altitudes": (
        "{name} is missing; write {key} = {example}, or one altitude for each leg"
    ),
    "missing-key.point": "{name} is missing; write {key} = {example}, a point of the route",
    "missing-key.fuel-unit": ('{name} is missing; write {key} = "US gal", "L", "lb" or "kg"'),
    "missing-key.card-for": (
        "{name} is missing; write {key} = {example}, the number after FOR on the card"
    ),
    "missing-key.card-steer": (
        "{name} is missing; write {key} = {example}, the number after STEER on the card"
    ),
    "missing-key.direction": (
        "{name} is missing; write {key} = {example}, or {instead: or } with its reference"
    ),
    "missing-key.bulletin": (
        '{name} is missing; write {key} = """, paste the lines of the bulletin below, and '
        'close with """'
    ),
    "missing-key.station": "{name} is missing; write {key} = {example}, or {instead: or }",
    "missing-key.leg": "{name} is missing; write {key} = {example} for the first leg",
    "missing-key.together": (
        "{name} needs {lacking: and } with it; add {count:it|them}, or leave all of them out"
    ),
    "missing-key.choice": "{keys: or }",
    "missing-key.north": (
        '{name} needs {other} with it; write "true" for a wind in writing, "magnetic" for '
        "one spoken by a US tower or broadcast"
    ),
    "missing-key.true-already": "{name} goes with {other} only; from_true_deg is already true",
    "missing-key.both": "{name} needs {other} with it; write both, or leave both out",
    "keys-exclude": "{name} and {other} exclude each other; keep one of them",
    # a value of the wrong kind, or out of range
    "wrong-type": "{name} is {value}, which cannot be used ({reason})",
    "wrong-type.text": "{name} is {value}, not text; write it in quotes",
    "wrong-type.blank": "{name} is blank; write something, or leave the key out",
    "wrong-type.whole": (
        "{name} is {value}, not a whole number; write digits only, without quotes or unit"
    ),
    "wrong-type.number": (
        "{name} is {value}, not a number; write digits only, without quotes or unit"
    ),
    "wrong-type.finite": "{name} is {value}, not a number to compute with; write digits",
    "wrong-type.truth": (
        "{name} is {value}, neither true nor false; write one of them, without quotes"
    ),
    "wrong-type.time": (
        "{name} is {value}, not a date with a time; write it as 2026-07-04T09:00:00-05:00"
    ),
    "wrong-type.empty-list": "{name} is an empty list; write at least one, or leave the key out",
    "wrong-type.rows": "{name} can stand several times; write [[{table}]], with two brackets",
    "wrong-type.list": '{name} is not a list; write it in brackets, as in ["MSP", "GRB"]',
    "wrong-type.table": "{name} is a table that stands once; write [{table}], with one bracket",
    "wrong-type.row": "{name} is not a table; write [[{table}]] and its keys below it",
    "wrong-value": "{name} is {value}; write {limit}",
    "impossible-value.above": "{name} is {value}; write a number above {limit:g}",
    "impossible-value.least": "{name} is {value}; write {limit:g} or more",
    "impossible-value.most": "{name} is {value}; write {limit:g} or less",
    "figure.shortest": "{name} is {value:g}; enter {least:g} or more",
    "reference": "{name} is {value!r}; enter true or magnetic",
    "departure.offset": (
        "{name} is {typed}, without its offset from UTC; write the offset after the time, as in "
        "2026-07-04T09:00:00-05:00, or Z for UTC"
    ),
    "departure.year": "{name} is in the year {year}; enter one from {first} to {last}",
    "cruise_altitude_ft.none": "{name} is empty; enter one altitude, or one for each leg",
    "cruise_altitude_ft.count": (
        "{name} has {altitudes} {altitudes:altitude|altitudes} for {legs} {legs:leg|legs}; enter "
        "one for the flight, or one for each leg"
    ),
    "number": "{name} is {number}; enter a leg of the route, 1 to {last}",
    "number.one": "{name} is {number}; the route has one leg, so enter 1",
    "input.plan-value": "{value} cannot be a value of a plan; use text, a number, true or false",
    # a text that is not TOML, or cannot be changed
    "not-toml": "not TOML: {reason}; {hint}",
    "not-toml.line": "each line is KEY = VALUE, a [table] or a # comment",
    "not-toml.quotes": "write text in quotes",
    "not-toml.seconds": "write the seconds too, as in 2026-07-04T09:00:00-05:00",
    "not-toml.twice": "it is there twice; keep one",
    "not-toml.empty": "{file} is empty; 'plotter new NAME' writes a complete plan to start from",
    "not-toml.deep": "{file} is nested too deeply to be a plan",
    "not-toml.number": "{file} has a number too long to be read",
    "plan-edit": (
        "{file} is written in a way that cannot be changed here without touching the rest; "
        "change it in an editor"
    ),
}
PAGE: Mapping[str, str] = {
    "plan-fault.at": "{reason}",
    "unknown-key.elsewhere": "{name} is not a field of this form",
    "missing-key": "{name} is missing; enter a value, as in {example}",
    "missing-key.instead": (
        "{name} is missing; enter a value, as in {example}, or fill in {instead: or }"
    ),
    "missing-key.format": "{name} is missing; enter 1",
    "missing-key.flight": "{name} is missing; enter the route, the take-off time and the altitude",
    "missing-key.aircraft": "{name} is missing; enter the aircraft's speeds and its fuel",
    "missing-key.route": (
        "{name} is missing; enter points with spaces between them, as in {example}"
    ),
    "missing-key.departure": "{name} is missing; enter a time, and its offset as -05:00 or Z",
    "missing-key.altitudes": (
        "{name} is missing; enter an altitude, as in {example}, or one for each leg"
    ),
    "missing-key.point": "{name} is missing; enter a point of the route, as in {example}",
    "missing-key.fuel-unit": "{name} is missing; choose US gal, L, lb or kg",
    "missing-key.card-for": (
        "{name} is missing; enter the number after FOR on the card, as in {example}"
    ),
    "missing-key.card-steer": (
        "{name} is missing; enter the number after STEER on the card, as in {example}"
    ),
    "missing-key.direction": "{name} is missing; enter degrees, as in {example}",
    "missing-key.bulletin": "{name} is missing; paste the lines of the bulletin",
    "missing-key.station": (
        "{name} is missing; enter a station of the bulletin, as in {example}, or several"
    ),
    "missing-key.leg": "{name} is missing; enter the number of the leg",
    "missing-key.together": (
        "{name} needs {lacking: and } with it; fill {count:it|them} in, or leave all of them empty"
    ),
    "missing-key.north": (
        "{name} needs {other} with it; choose true for a wind in writing, magnetic for one "
        "spoken by a US tower or broadcast"
    ),
    "missing-key.true-already": "{name} is not needed; the direction is already true",
    "missing-key.both": "{name} needs {other} with it; fill in both, or leave both empty",
    "wrong-type.text": "{name} is {value}, not text",
    "wrong-type.blank": "{name} is blank; enter something, or clear it",
    "wrong-type.whole": "{name} is {value}, not a whole number; enter digits only",
    "wrong-type.number": "{name} is {value}, not a number; enter digits only",
    "wrong-type.truth": "{name} is {value}, neither true nor false; enter one of them",
    "wrong-type.time": (
        "{name} is {value}, not a date with a time; enter a time, and its offset as -05:00 or Z"
    ),
    "wrong-type.empty-list": "{name} is an empty list; enter at least one, or clear it",
    "wrong-type.rows": "{name} is not a list of rows; enter it as rows",
    "wrong-type.list": "{name} is not a list; enter several with spaces between them",
    "wrong-type.table": "{name} is a list, and there can be one only; enter its fields once",
    "wrong-type.row": "{name} is not a row; enter its fields",
    "departure.offset": (
        "{name} is {typed}, without its offset from UTC; add it as -05:00, or Z for UTC"
    ),
}
