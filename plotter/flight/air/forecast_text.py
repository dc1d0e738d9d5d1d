"""Which altitude each group of a station's line belongs to.

A line has no group for an altitude near the ground, so the third group may be the fourth column.
As it is sent, every column has its place in the line, and the place tells. Where a web page or a
mail has squeezed the spaces out, the form of the groups tells, if only one way fits; else the
line is refused rather than read one column off.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import NamedTuple

from plotter.errors import InputError, Where
from plotter.flight.wind import CALM, Wind

# One group of a winds and temperatures aloft forecast: ``2435+07``, ``274650``, ``9900``.
#
# Sources: Aviation Weather Handbook, FAA-H-8083-28, "Winds and Temperatures Aloft", and CNATRA
# P-304: two figures of true direction in tens, two of speed, then the temperature, without its
# minus above 24,000 ft; over 99 kt, 50 is added to the direction and 100 taken from the speed; 9900
# is light and variable, under 5 kt.

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


_ALTITUDES = re.compile(r"\s*FT((?:\s+[0-9]{3,5})+)\s*", re.IGNORECASE)
_WORD = re.compile(r"\S+")
_NARROWEST_COLUMN = len("274650")


@dataclass(frozen=True, slots=True)
class Columns:
    """The altitudes [ft MSL] of a bulletin and where in the line each column ends."""

    altitudes_ft: tuple[int, ...]
    ends: tuple[int, ...]

    @property
    def starts(self) -> tuple[int, ...]:
        """Where in the line the group of each column begins, if it is spaced as it was sent."""
        return (self.ends[0] - len("2435"), *(end + 1 for end in self.ends[:-1]))


class Word(NamedTuple):
    """A group of a station's line and where it begins."""

    text: str
    start: int

    @property
    def end(self) -> int:
        """Where it ends."""
        return self.start + len(self.text)


def read_columns(line: str, number: int = 1) -> Columns | None:
    """The columns of the altitude row, ``FT  3000    6000 …``; ``None`` for any other line.

    >>> read_columns("FT  3000    6000    9000").altitudes_ft
    (3000, 6000, 9000)
    """
    match = _ALTITUDES.fullmatch(line)
    if match is None:
        return None
    words = list(_WORD.finditer(line))[1:]
    altitudes = tuple(int(word[0]) for word in words)
    if list(altitudes) != sorted(set(altitudes)):
        raise fault("the altitudes of this row do not rise; paste it as it was sent", line, number)
    return Columns(altitudes, tuple(word.end() for word in words))


def words_of(line: str) -> list[Word]:
    """The words of a line with their places.

    >>> words_of("OMA 2219")
    [Word(text='OMA', start=0), Word(text='2219', start=4)]
    """
    return [Word(match[0], match.start()) for match in _WORD.finditer(line)]


def placed(columns: Columns, groups: list[Word], line: str, number: int) -> list[tuple[int, Word]]:
    """Each group with the altitude [ft] of its column; groups may only be missing at the low end.

    Raises InputError, code ``winds-aloft``, where the line is cut off, has too many groups, or
    has lost the spaces that would tell which columns are empty.

    >>> columns = read_columns("FT  3000    6000    9000")
    >>> line = "GLD      1923    2022+03"
    >>> [(altitude, word.text) for altitude, word in placed(columns, words_of(line)[1:], line, 2)]
    [(6000, '1923'), (9000, '2022+03')]
    """
    altitudes = columns.altitudes_ft
    missing = len(altitudes) - len(groups)
    if missing < 0:
        extra = groups[len(altitudes)]
        raise fault(
            f"{len(groups)} groups stand under {len(altitudes)} altitudes; paste the line as sent",
            line,
            number,
            extra,
        )
    first = _first_column(columns, groups, line, number) if missing else 0
    if first != missing:
        raise fault(
            f"this line is cut off: nothing at {altitudes[first + len(groups)]:,} ft; groups are "
            "left out only near the ground; paste the whole line",
            line,
            number,
            groups[-1],
        )
    return list(zip(altitudes[missing:], groups, strict=True))


def _first_column(columns: Columns, groups: list[Word], line: str, number: int) -> int:
    """The column of the first group: by its place in the line, else by the form of all groups."""
    by_place = _by_place(columns, groups)
    if by_place:
        _check_no_gap(columns, by_place, groups, line, number)
        return by_place[0]
    spare = len(columns.altitudes_ft) - len(groups)
    fitting = [k for k in range(spare + 1) if _fits(columns.altitudes_ft[k:], groups)]
    if len(fitting) != 1:
        raise fault(
            f"{len(groups)} groups under {len(columns.altitudes_ft)} altitudes, and the spaces "
            "that tell which are left out are lost; paste the altitude row and this line with "
            "their spaces as they were sent",
            line,
            number,
        )
    return fitting[0]


def _by_place(columns: Columns, groups: list[Word]) -> list[int]:
    """The column of every group, if each begins just where one does; else nothing."""
    widths = [end - start for start, end in zip(columns.starts, columns.ends, strict=True)]
    if any(width < _NARROWEST_COLUMN for width in widths[1:]):
        return []
    starts = {start: column for column, start in enumerate(columns.starts)}
    found = [starts[word.start] for word in groups if word.start in starts]
    return found if len(found) == len(groups) else []


def _check_no_gap(
    columns: Columns, found: list[int], groups: list[Word], line: str, number: int
) -> None:
    for (one, word), next_one in zip(zip(found, groups, strict=True), found[1:], strict=False):
        if next_one != one + 1:
            raise fault(
                f"nothing stands at {columns.altitudes_ft[one + 1]:,} ft after {word.text}; groups "
                "are left out only near the ground; paste the line as it was sent",
                line,
                number,
                word,
            )


def _fits(altitudes_ft: tuple[int, ...], groups: list[Word]) -> bool:
    """Whether groups of these forms can stand at these altitudes."""
    warm = False
    for altitude, word in zip(altitudes_ft, groups, strict=False):
        length = len(word.text)
        if length == len("2435"):
            if warm:
                return False
        elif (length == len("274650")) != (altitude > SIGNLESS_ABOVE_FT):
            return False
        warm = warm or length > len("2435")
    return True


def fault(message: str, line: str, number: int, word: Word | None = None) -> InputError:
    """A fault of the bulletin with its line and a caret under the word, or under the whole line."""
    start, end = (word.start, word.end) if word else (0, len(line))
    where = Where(line, start, end, line=number)
    return InputError(message, code="winds-aloft", where=where)
