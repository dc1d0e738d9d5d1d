"""One group of a winds and temperatures aloft forecast: ``2435+07``, ``274650``, ``9900``.

Sources: Aviation Weather Handbook, FAA-H-8083-28, "Winds and Temperatures Aloft", and CNATRA P-304:
two figures of true direction in tens, two of speed, then the temperature, without its minus above
24,000 ft; over 99 kt, 50 is added to the direction and 100 taken from the speed; 9900 is light
and variable, under 5 kt.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from plotter.errors import InputError
from plotter.flight.wind import CALM, Wind

SIGNLESS_ABOVE_FT = 24_000
"""Above this a temperature is always below zero and its sign is left out."""
FASTEST_KT = 199.0
"""The code can say no more: 199 stands for 199 and anything faster."""

_SHAPE = re.compile(r"([0-9]{2})([0-9]{2})(?:([+-])([0-9]{2})|([0-9]{2}))?")


@dataclass(frozen=True, slots=True)
class Group:
    """A decoded group: wind, temperature [°C] or none; light and variable; 199 kt "or more"."""

    wind: Wind
    temperature_c: float | None
    light_and_variable: bool = False
    or_more: bool = False


def read_group(text: str, altitude_ft: float) -> Group:
    """The wind and temperature of a group at the altitude [ft] of its column.

    Light and variable is read as calm, and said. Raises InputError, code ``winds-aloft``, for a
    group that is cut off or that the code does not know.

    >>> read_group("731960", 39000)
    Group(wind=Wind(from_true_deg=230.0, speed_kt=119.0), temperature_c=-60.0, \
light_and_variable=False, or_more=False)
    >>> read_group("9900+05", 9000).light_and_variable
    True
    >>> read_group("4510+05", 9000)
    Traceback (most recent call last):
    plotter.errors.InputError: 4510+05 has the direction 45; it runs from 01 to 36, or 51 to 86 \
with a speed over 99 kt, or 99 in 9900
    """
    match = _SHAPE.fullmatch(text)
    if match is None:
        raise _fault(
            f"{text} is not a whole group; a group has 4 figures of wind, then a sign and 2 "
            "figures of temperature, or above 24,000 ft the 2 figures alone"
        )
    direction, speed, sign, signed, bare = match.groups()
    temperature = _temperature_c(text, sign, signed, bare, altitude_ft)
    if direction + speed == "9900":
        return Group(CALM, temperature, light_and_variable=True)
    wind = _wind(text, int(direction), float(speed))
    return Group(wind, temperature, or_more=wind.speed_kt == FASTEST_KT)


def _wind(text: str, tens: int, speed_kt: float) -> Wind:
    if 51 <= tens <= 86:
        tens, speed_kt = tens - 50, speed_kt + 100.0
    if not 1 <= tens <= 36:
        raise _fault(
            f"{text} has the direction {tens:02d}; it runs from 01 to 36, or 51 to 86 with a "
            "speed over 99 kt, or 99 in 9900"
        )
    return Wind(tens * 10.0, speed_kt)


def _temperature_c(
    text: str, sign: str | None, signed: str | None, bare: str | None, altitude_ft: float
) -> float | None:
    if bare and altitude_ft <= SIGNLESS_ABOVE_FT:
        raise _fault(
            f"{text} has a temperature without a sign at {altitude_ft:,.0f} ft; signs are left "
            "out only above 24,000 ft, so it stands in another column, or its sign is lost"
        )
    if signed:
        return float(f"{sign}{signed}") + 0.0
    return 0.0 - float(bare) if bare else None


def _fault(message: str) -> InputError:
    return InputError(message, code="winds-aloft")
