"""Which keys of a plan file must be there, and which go together, table by table.

The rules look at names alone, never at values, so that they hold for a file however wrong the rest
of it is.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import NamedTuple

from plotter.flight.plan.names import KeyName
from plotter.messages import Message, message

_Names = Collection[str]


class Missing(NamedTuple):
    """What is wrong with the names in a table: the key it is about, and the message."""

    key: str
    said: Message


class Needed(NamedTuple):
    """A required key with an example of its value; ``instead`` are keys that replace it.

    ``says`` is the sentence of its own that the catalogue has for it.
    """

    key: str
    example: str
    instead: tuple[str, ...] = ()
    says: str = ""

    def check(self, table: str, names: _Names) -> Iterator[Missing]:
        """Yield the key if neither it nor a replacement is there."""
        if {self.key, *self.instead} & set(names):
            return
        usual = "missing-key.instead" if self.instead else "missing-key"
        yield Missing(
            self.key,
            message(
                self.says or usual,
                name=self.key,
                key=self.key,
                example=self.example,
                instead=tuple(KeyName(table, key) for key in self.instead),
            ),
        )


class NotBoth(NamedTuple):
    """Keys that say the same thing twice; at most one may be there."""

    keys: tuple[str, ...]

    def check(self, table: str, names: _Names) -> Iterator[Missing]:
        """Yield every one after the first."""
        there = [key for key in self.keys if key in names]
        for key in there[1:]:
            yield Missing(key, message("keys-exclude", name=key, other=KeyName(table, there[0])))


class Together(NamedTuple):
    """Parts of one thing, each a key or a choice of keys; with one of them, all must be there."""

    parts: tuple[tuple[str, ...], ...]

    def check(self, table: str, names: _Names) -> Iterator[Missing]:
        """Yield the first key that is there if a part is not."""
        there = [key for part in self.parts for key in part if key in names]
        lacking = [part for part in self.parts if not set(part) & set(names)]
        if there and lacking:
            choices = tuple(
                message("missing-key.choice", keys=tuple(KeyName(table, key) for key in part))
                for part in lacking
            )
            yield Missing(
                there[0],
                message("missing-key.together", name=there[0], lacking=choices, count=len(choices)),
            )


class Asks(NamedTuple):
    """A key that is of no use without another, and the sentence that says so."""

    key: str
    for_key: str
    says: str

    def check(self, table: str, names: _Names) -> Iterator[Missing]:
        """Yield the key if its companion is not there."""
        if self.key in names and self.for_key not in names:
            other = KeyName(table, self.for_key)
            yield Missing(self.key, message(self.says, name=self.key, other=other))


Rule = Needed | NotBoth | Together | Asks


def _flown(phase: str) -> Together:
    """What a climb or descent by rate is made of."""
    speeds = (f"{phase}_true_airspeed_kt", f"{phase}_calibrated_airspeed_kt")
    return Together(((f"{phase}_rate_fpm",), speeds, (f"{phase}_fuel_per_hour",)))


RULES: Mapping[str, tuple[Rule, ...]] = {
    "": (
        Needed("format", "1", says="missing-key.format"),
        Needed("flight", "", says="missing-key.flight"),
        Needed("aircraft", "", says="missing-key.aircraft"),
    ),
    "flight": (
        Needed("route", '"KRST KLSE"', says="missing-key.route"),
        Needed("departure", "2026-07-04T09:00:00-05:00", says="missing-key.departure"),
        Needed("cruise_altitude_ft", "5500", says="missing-key.altitudes"),
        NotBoth(("checkpoints_every_nm", "checkpoints_every_min")),
    ),
    "stop": (Needed("point", '"KLSE"', says="missing-key.point"),),
    "aircraft": (
        Needed("fuel_unit", '"US gal"', says="missing-key.fuel-unit"),
        Needed("usable_fuel", "53"),
        Needed("fuel_on_board", "40"),
        Needed(
            "true_airspeed_kt",
            "110",
            ("calibrated_airspeed_kt", "cruise_table"),
        ),
        Needed("cruise_fuel_per_hour", "8.5", ("cruise_table",)),
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
        Needed("altitude_ft", "4000"),
        Needed("minutes", "7"),
        Needed("fuel", "1.5"),
        Needed("distance_nm", "9"),
    ),
    "aircraft.cruise_table": (
        Needed("altitude_ft", "6000"),
        Needed("true_airspeed_kt", "114"),
        Needed("fuel_per_hour", "7.6"),
    ),
    "aircraft.compass_card": (
        Needed("for_magnetic_deg", "90", says="missing-key.card-for"),
        Needed("steer_deg", "92", says="missing-key.card-steer"),
    ),
    "wind": (
        Needed("altitude_ft", "3000"),
        Needed("speed_kt", "15"),
        Needed("from_true_deg", "240", ("from_deg",), "missing-key.direction"),
        NotBoth(("from_true_deg", "from_deg")),
        Asks("from_deg", "reference", "missing-key.north"),
        Asks("reference", "from_deg", "missing-key.true-already"),
    ),
    "winds_aloft": (
        Needed("text", "", says="missing-key.bulletin"),
        Needed("station", '"MSP"', ("stations",), "missing-key.station"),
        NotBoth(("station", "stations")),
    ),
    "weather": (
        Needed("point", '"KRST"', says="missing-key.point"),
        NotBoth(("altimeter_inhg", "altimeter_hpa")),
        Together((("wind_from_deg",), ("wind_speed_kt",))),
        Asks("wind_from_deg", "wind_reference", "missing-key.north"),
        Asks("wind_reference", "wind_from_deg", "missing-key.both"),
    ),
    "leg": (
        Needed("number", "1", says="missing-key.leg"),
        Together((("wind_from_true_deg",), ("wind_speed_kt",))),
        Asks("measured_course_reference", "measured_course_deg", "missing-key.both"),
    ),
    "limits": (),
    "quiet": (),
}


def broken(table: str, names: _Names) -> Iterator[Missing]:
    """Yield every rule of a table that the names in it break.

    >>> [missing.said.key for missing in broken("leg", ["number", "wind_speed_kt"])]
    ['missing-key.together']
    """
    for rule in RULES.get(table, ()):
        yield from rule.check(table, names)
