"""The plan file to start from, made of the table of keys: every key, commented, figures invented."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping

from plotter.errors import InputError
from plotter.flight.invented import PARTS, still_invented
from plotter.flight.plan.edit import toml_text
from plotter.flight.plan.keys import TABLE_KEYS
from plotter.flight.plan.kinds import FORMAT, Key
from plotter.flight.plan.names import keys_in
from plotter.flight.rules import LOWEST_ODD_FT, cruising_rule
from plotter.places.store import Store
from plotter.route.plotting import Wishes, plot_route

HEAD = """\
# A flight for plotter. Everything in it is invented except the airports, which are real and
# come from an open dataset: invented aircraft, invented wind, invented time. Before you fly
# by it, put in your own.
#
# A planning aid, not an approved source of navigation. Check it against current charts, the
# Chart Supplement, NOTAMs and a weather briefing.
# The pilot in command is responsible for the flight (14 CFR 91.3, 91.103); local rules and
# your instructor come first.
# Not checked: airspace, restrictions, terrain, obstacles, weather, take-off and landing
# distance, weight and balance.
#
# A line is KEY = VALUE; a # starts a comment. A line that reads "# key = value" is a key you
# may use: take the # away. Units are in the names: _ft is feet, _kt knots, _nm nautical miles,
# _min minutes, _deg degrees, _c degrees Celsius.

format = {format}  # the form of this file; leave it

# Figures in this file that are invented. Put in your own, or confirm what stands there, and take
# its name out of this list; while there is one, every page and file says "not for flight".
invented = [
{invented}
]

"""
INTRO: Mapping[str, str] = {
    "flight": "",
    "stop": (
        "A landing on the way. It begins a new sector with its own taxi, climb, reserve and totals."
    ),
    "aircraft": "",
    "wind": (
        "Winds by altitude. By which north is said, never guessed: a wind in writing (a forecast, "
        "a\nMETAR, a TAF) is true; one spoken by a US tower or broadcast is magnetic."
    ),
    "winds_aloft": (
        "Or paste the lines of a winds aloft forecast (FB) as they were sent, heading included."
    ),
    "weather": (
        "The weather at a point of the route: for its altitudes, its runways, and the air up there."
    ),
    "leg": "What you want or read from the chart for one leg.",
    "limits": "Your own limits. They are asked on top of the rules, never below them.",
    "quiet": (
        "Cautions to leave out: the code that is printed with one, and your reason, which is "
        "printed\nin its place. What stands under STOP cannot be left out."
    ),
}
"""What is said above each table, in the order of the file."""
OFFERED = ("stop", "winds_aloft", "weather", "leg", "quiet")
"""Tables that are there as comments."""
IN_ROWS = ("stop", "wind", "weather", "leg")
_QUIET = 'night = "flown with an instructor"\n'
_INVENTED_NOTES = {"aircraft.climb": "all the keys that begin so", "wind": "every [[wind]]"}
_NOTE_COLUMN = 40
ABOVE_FIELDS_FT = 2000.0
"""How far above the highest point of the route an invented cruise is; the ground is not known."""
ANYWHERE_FT = 4500.0
_NAME = '"NAME"'


def starter(name: str) -> str:
    """Return the text of a plan file with every key in it, the optional ones as comments.

    Aircraft, wind and time are invented and marked so; the airports are of the dataset.

    >>> 'name = "Sunday"' in starter("Sunday")
    True
    """
    tables = "\n".join(_table(table) for table in INTRO)
    entries = still_invented(PARTS, tomllib.loads(tables))
    invented = "\n".join(_entry(part) for part in entries)
    text = HEAD.format(format=FORMAT, invented=invented) + tables
    return text.replace(_NAME, toml_text(name), 1)


def _table(table: str) -> str:
    """Return one table with what is said above it, all of it a comment where it is offered."""
    heading = f"[[{table}]]" if table in IN_ROWS else f"[{table}]"
    blocks = (f"{heading}\n{''.join(_lines(table, row))}" for row in range(_rows(table)))
    body = "\n".join(blocks)
    return _commented(INTRO[table]) + (_commented(body) if table in OFFERED else body)


def _rows(table: str) -> int:
    starts = (key.start for key in keys_in(table).values())
    return max((len(start) for start in starts if isinstance(start, tuple)), default=1)


def _lines(table: str, row: int) -> Iterator[str]:
    if table not in TABLE_KEYS:
        yield _QUIET
    for name, key in keys_in(table).items():
        value = key.start[row] if isinstance(key.start, tuple) else key.start or key.offer
        if not value:
            continue
        if key.above:
            yield "\n" + _commented(key.above)
        line = f"{name} = {value}"
        yield _noted(f"# {line}" if key.offer and "\n" not in line else line, key, table)


def _noted(line: str, key: Key, table: str) -> str:
    """Return a line with its note in the column of notes."""
    if "\n" in line:
        return _commented(line) if key.offer else f"{line}\n"
    column = _NOTE_COLUMN - 2 * (table in OFFERED)
    return f"{f'{line} '.ljust(column)}# {key.note}\n" if key.note else f"{line}\n"


def _commented(text: str) -> str:
    return "".join(f"# {line}\n" for line in text.rstrip("\n").split("\n")) if text else ""


def _entry(part: str) -> str:
    line, note = f'  "{part}",', _INVENTED_NOTES.get(part, "")
    return f"{line.ljust(_NOTE_COLUMN)}# {note}" if note else line


def altitudes_for(route: str, wishes: Wishes, store: Store) -> list[float]:
    """An altitude [ft MSL] to start from for each leg, or one where all are alike.

    Each is the lowest that 14 CFR 91.159 and ICAO name for the leg's magnetic course and that is
    well above the fields of the route. A route that cannot be plotted has one of any course.
    """
    try:
        plotted = plot_route(route, store, wishes).route
    except InputError:
        return [ANYWHERE_FT]
    fields_ft = [point.elevation_ft or 0.0 for point in plotted.waypoints]
    least_ft = max(LOWEST_ODD_FT, max(fields_ft) + ABOVE_FIELDS_FT)
    found = [
        cruising_rule("US", leg.magnetic_course_deg).nearest_ft(least_ft)[-1]
        for leg in plotted.legs
    ]
    return found if len(set(found)) > 1 else found[:1]
