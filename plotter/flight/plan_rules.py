"""Which keys of a plan file must be there, and which go together, table by table.

They look at names alone, never at values, so that they hold for a file however wrong the rest is.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import NamedTuple

Path = tuple[str | int, ...]
"""The way to a value in a plan file: keys, and numbers from 0 in arrays."""
_Names = Collection[str]


class Missing(NamedTuple):
    """What is wrong with the names in a table: the key it is about, words, code."""

    key: str
    words: str
    code: str


class Needed(NamedTuple):
    """A key that must be there; ``instead`` are keys that make up for it."""

    key: str
    example: str
    instead: tuple[str, ...] = ()

    def check(self, names: _Names) -> Iterator[Missing]:
        """The key that is not there."""
        if not {self.key, *self.instead} & set(names):
            choice = "".join(f", or {key}" for key in self.instead)
            yield Missing(self.key, f"is missing; write {self.example}{choice}", "missing-key")


class NotBoth(NamedTuple):
    """Keys that say the same thing twice; at most one may be there."""

    keys: tuple[str, ...]

    def check(self, names: _Names) -> Iterator[Missing]:
        """Every one after the first."""
        there = [key for key in self.keys if key in names]
        for key in there[1:]:
            yield Missing(key, f"{there[0]} is there too; keep one of them", "keys-exclude")


class Together(NamedTuple):
    """Parts of one thing, each a key or a choice of keys; with one of them, all must be there."""

    parts: tuple[tuple[str, ...], ...]

    def check(self, names: _Names) -> Iterator[Missing]:
        """The parts that are not there."""
        given = [key for part in self.parts for key in part if key in names]
        lacking = [" or ".join(part) for part in self.parts if not set(part) & set(names)]
        if given and lacking:
            words = (
                f"{' and '.join(lacking)} must go with it; write {_it(lacking)}, or leave all out"
            )
            yield Missing(given[0], words, "missing-key")


class Asks(NamedTuple):
    """A key that is of no use without another."""

    key: str
    for_key: str
    words: str

    def check(self, names: _Names) -> Iterator[Missing]:
        """The key whose companion is not there."""
        if self.key in names and self.for_key not in names:
            yield Missing(self.key, f"{self.for_key} must go with it; {self.words}", "missing-key")


Rule = Needed | NotBoth | Together | Asks


def _flown(phase: str) -> Together:
    """What a climb or descent by rate is made of."""
    speeds = (f"{phase}_true_airspeed_kt", f"{phase}_calibrated_airspeed_kt")
    return Together(((f"{phase}_rate_fpm",), speeds, (f"{phase}_fuel_per_hour",)))


_REFERENCE = '"true" for a wind in writing, "magnetic" for one spoken by a US tower or broadcast'

RULES: Mapping[str, tuple[Rule, ...]] = {
    "": (
        Needed("format", "format = 1 at the top"),
        Needed("flight", "the table [flight] with route, departure and cruise_altitude_ft"),
        Needed("aircraft", "the table [aircraft] with its speeds and its fuel"),
    ),
    "flight": (
        Needed("route", 'route = "KRST KLSE", the points as typed for plotter plot'),
        Needed("departure", "departure = 2026-07-04T09:00:00-05:00, the take-off time"),
        Needed("cruise_altitude_ft", "cruise_altitude_ft = 5500, or one a leg"),
        NotBoth(("checkpoints_every_nm", "checkpoints_every_min")),
    ),
    "stop": (Needed("point", 'point = "KLSE", a point of the route'),),
    "aircraft": (
        Needed("fuel_unit", 'fuel_unit = "US gal", "L", "lb" or "kg"'),
        Needed("usable_fuel", "usable_fuel = 53"),
        Needed("fuel_on_board", "fuel_on_board = 40"),
        Needed(
            "true_airspeed_kt",
            "true_airspeed_kt = 110",
            ("calibrated_airspeed_kt", "cruise_table"),
        ),
        Needed("cruise_fuel_per_hour", "cruise_fuel_per_hour = 8.5", ("cruise_table",)),
        NotBoth(("true_airspeed_kt", "calibrated_airspeed_kt")),
        NotBoth(("cruise_table", "true_airspeed_kt")),
        NotBoth(("cruise_table", "calibrated_airspeed_kt")),
        NotBoth(("cruise_table", "cruise_fuel_per_hour")),
        _flown("climb"),
        NotBoth(("climb_true_airspeed_kt", "climb_calibrated_airspeed_kt")),
        NotBoth(("climb_table", "climb_rate_fpm")),
        _flown("descent"),
        NotBoth(("descent_true_airspeed_kt", "descent_calibrated_airspeed_kt")),
    ),
    "aircraft.climb_table": (
        Needed("altitude_ft", "altitude_ft = 4000"),
        Needed("minutes", "minutes = 7"),
        Needed("fuel", "fuel = 1.5"),
        Needed("distance_nm", "distance_nm = 9"),
    ),
    "aircraft.cruise_table": (
        Needed("altitude_ft", "altitude_ft = 6000"),
        Needed("true_airspeed_kt", "true_airspeed_kt = 114"),
        Needed("fuel_per_hour", "fuel_per_hour = 7.6"),
    ),
    "aircraft.compass_card": (
        Needed("for_magnetic_deg", "for_magnetic_deg = 90, as the card has it after FOR"),
        Needed("steer_deg", "steer_deg = 92, as the card has it after STEER"),
    ),
    "wind": (
        Needed("altitude_ft", "altitude_ft = 3000"),
        Needed("speed_kt", "speed_kt = 15"),
        Needed("from_true_deg", "from_true_deg = 240", ("from_deg",)),
        NotBoth(("from_true_deg", "from_deg")),
        Asks("from_deg", "reference", f"write {_REFERENCE}"),
        Asks("reference", "from_deg", "from_true_deg is true already"),
    ),
    "winds_aloft": (
        Needed("text", 'text = """ and paste the lines of the bulletin, then """'),
        Needed("station", 'station = "MSP"', ("stations",)),
        NotBoth(("station", "stations")),
    ),
    "weather": (
        Needed("point", 'point = "KRST", a point of the route'),
        NotBoth(("altimeter_inhg", "altimeter_hpa")),
        Together((("wind_from_deg",), ("wind_speed_kt",))),
        Asks("wind_from_deg", "wind_reference", f"write {_REFERENCE}"),
        Asks("wind_reference", "wind_from_deg", "write both, or leave both out"),
    ),
    "leg": (
        Needed("number", "number = 1 for the first leg"),
        Together((("wind_from_true_deg",), ("wind_speed_kt",))),
        Asks("measured_course_reference", "measured_course_deg", "write both, or leave both out"),
    ),
    "limits": (),
    "quiet": (),
}


def table_name(path: Path) -> str:
    """The name of the table a path leads to, as it stands in the table's heading.

    >>> table_name(("aircraft", "compass_card", 3))
    'aircraft.compass_card'
    """
    return ".".join(step for step in path if isinstance(step, str))


def broken(table: str, names: _Names) -> Iterator[Missing]:
    """Every rule of a table that the names in it break.

    >>> [fault.words for fault in broken("leg", ["number", "wind_speed_kt"])]
    ['wind_from_true_deg must go with it; write it too, or leave all out']
    """
    for rule in RULES.get(table, ()):
        yield from rule.check(names)


def _it(lacking: list[str]) -> str:
    return "it too" if len(lacking) == 1 else "them too"
