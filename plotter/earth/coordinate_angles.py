"""One half of a typed coordinate, a latitude or a longitude: its figures, checked and summed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Literal, NamedTuple

from plotter.errors import PositionError, Where
from plotter.messages import Message, message

# The words a typed coordinate is made of, each with its place in the text for the caret.

WordKind = Literal["number", "letter", "sign", "degree", "minute", "second", "comma", "colon"]

EXAMPLES = message("coordinate.examples")
MARKS = frozenset("°º˚″”“ʺ\"′’‘ʹʼ´`'")
"""Degree, minute and second marks, some of which count as letters to Python."""

_PATTERN = re.compile(
    r"""(?P<space>\s+)
    | (?P<number>[0-9]+(?:\.[0-9]*)?|\.[0-9]+)
    | (?P<letter>[NSEWnsew])
    | (?P<sign>[-+\u2010-\u2013\u2212])
    | (?P<degree>[°º˚])
    | (?P<second>["″”“ʺ]|['′’ʹ]{2})
    | (?P<minute>['′’‘ʹʼ´`])
    | (?P<comma>,)
    | (?P<colon>:)""",
    re.VERBOSE,
)


class Word(NamedTuple):
    """One word: its kind, its text in capitals, where it stands, whether a space is before it."""

    kind: WordKind
    text: str
    start: int
    end: int
    after_space: bool


def fault(
    said: Message,
    text: str,
    start: int = 0,
    end: int | None = None,
    *,
    code: str | None = None,
    candidates: Iterable[str] = (),
) -> PositionError:
    """Return a coordinate error that points at a stretch of the text."""
    where = Where(text, start, len(text) if end is None else end)
    return PositionError(said, code=code, where=where, candidates=tuple(candidates))


def swapped(turned: str, text: str, latitude: str = "") -> PositionError:
    """Return the error for a pair with longitude first, with the right order as candidate.

    ``latitude`` is the figure that is too large to be one, where that is how it shows.
    """
    key = "coordinate-swapped.figure" if latitude else "coordinate-swapped"
    return fault(message(key, turned=turned, latitude=latitude), text, candidates=[turned])


def words(text: str) -> list[Word]:
    """The words of a coordinate.

    Raises PositionError at the first character that no coordinate has, and at two numbers with
    nothing between them: ``47.5.8`` may be 47.5 and 0.8 or 47 and 5.8.

    >>> [word.kind for word in words("43°54.5'N")]
    ['number', 'degree', 'number', 'minute', 'letter']
    """
    found: list[Word] = []
    place, after_space = 0, False
    while place < len(text):
        match = _PATTERN.match(text, place)
        if match is None:
            raise _strange(text, place)
        kind: WordKind | Literal["space"] = match.lastgroup  # type: ignore[assignment]
        if kind == "number" and found and found[-1].kind == kind and not after_space:
            raise _run_together(text, found[-1].start)
        if kind != "space":
            found.append(Word(kind, match.group().upper(), place, match.end(), after_space))
        after_space = kind == "space"
        place = match.end()
    return found


def _run_together(text: str, start: int) -> PositionError:
    """The error for figures with more than one decimal point."""
    end = start
    while end < len(text) and text[end] in ".0123456789":
        end += 1
    return fault(
        message("coordinate.points", typed=text[start:end], examples=EXAMPLES), text, start, end
    )


def _strange(text: str, place: int) -> PositionError:
    """The error for a character that no coordinate has, with the letters it stands among."""
    start, end = place, place + 1
    while text[place].isalpha() and start > 0 and text[start - 1].isalpha():
        start -= 1
    while text[place].isalpha() and end < len(text) and text[end].isalpha():
        end += 1
    return fault(
        message("coordinate.letter", typed=text[start:end], examples=EXAMPLES), text, start, end
    )


Axis = Literal["latitude", "longitude"]
LIMITS: dict[Axis, int] = {"latitude": 90, "longitude": 180}
_MARKS = ("degree", "minute", "second")
_PLURALS = ("degrees", "minutes", "seconds")


class Half(NamedTuple):
    """A half as typed: hemisphere letter or "", sign, one to three figures, where it stands."""

    letter: str
    negative: bool
    figures: tuple[Word, ...]
    marked: bool
    start: int
    end: int

    @property
    def axis(self) -> Axis | None:
        """Which axis the letter names, if there is one."""
        if not self.letter:
            return None
        return "latitude" if self.letter in "NS" else "longitude"


def half(parts: Sequence[Word], text: str) -> Half:
    """The half that a run of words spells; raises PositionError where they do not fit."""
    if not parts:
        raise fault(message("coordinate.one-only"), text)
    start, end = parts[0].start, parts[-1].end
    letters = [word.text for word in parts if word.kind == "letter"]
    body = [word for word in parts if word.kind != "letter"]
    signed = bool(body) and body[0].kind == "sign"
    if letters and signed:
        raise fault(message("coordinate.sign-and-letter"), text, start, end)
    negative = letters[0] in "SW" if letters else signed and body[0].text != "+"
    figures, marked = _figures(body[signed:], text)
    if not 1 <= len(figures) <= 3:
        raise fault(message("coordinate.count", count=len(figures)), text, start, end)
    if len(figures) > 1 and not (letters or marked):
        raise fault(message("coordinate.hemisphere"), text, start, end)
    return Half(letters[0] if letters else "", negative, figures, marked, start, end)


def degrees(given: Half, axis: Axis, text: str) -> float:
    """The signed degrees of a half; raises PositionError out of range, pointing at the figure.

    A lone figure after or before a letter may be packed: DDMM or DDMMSS of latitude, DDDMM or
    DDDMMSS of longitude, told apart by the number of digits as in ISO 6709 and ICAO Doc 4444.
    """
    parts = given.figures
    if len(parts) == 1 and given.letter and not given.marked:
        parts = unpacked(parts[0], axis, text)
    return summed(parts, axis, text, negative=given.negative, letter=given.letter)


def unpacked(figure: Word, axis: Axis, text: str) -> tuple[Word, ...]:
    """A packed figure cut into degrees, minutes, seconds by its number of digits."""
    width = 2 if axis == "latitude" else 3
    whole = len(figure.text.partition(".")[0])
    if whole <= width:
        return (figure,)
    if whole - width not in (2, 4):
        raise fault(
            message(
                "coordinate.digits",
                axis=axis,
                figure=figure.text,
                count=whole,
                degrees=width,
                minutes=width + 2,
                seconds=width + 4,
            ),
            text,
            figure.start,
            figure.end,
        )
    cuts = [0, width, width + 2] if whole == width + 2 else [0, width, width + 2, width + 4]
    cuts[-1] = len(figure.text)
    return tuple(
        Word("number", figure.text[a:b], figure.start + a, figure.start + b, False)
        for a, b in pairwise(cuts)
    )


def summed(
    figures: Sequence[Word], axis: Axis, text: str, *, negative: bool, letter: str = ""
) -> float:
    """Degrees from one to three figures, minutes and seconds under 60, within the axis's limit."""
    total = 0.0
    for place, figure in enumerate(figures):
        value = float(figure.text)
        if place and value >= 60.0:
            raise _at(
                message("coordinate-range.part", figure=figure.text, unit=_PLURALS[place]),
                text,
                figure,
            )
        if place < len(figures) - 1 and "." in figure.text:
            raise _at(message("coordinate.decimals"), text, figure)
        total += value / 60.0**place
    if not total <= LIMITS[axis]:
        whole = figures[0]._replace(end=figures[-1].end)
        angle = f"{total:g}{letter}" if letter else f"{-total if negative else total:g}"
        said = message("coordinate-range", axis=axis, angle=angle, limit=LIMITS[axis])
        raise _at(said, text, whole)
    return -total if negative and total else total


def _at(said: Message, text: str, word: Word) -> PositionError:
    return fault(said, text, word.start, word.end)


def _figures(body: Sequence[Word], text: str) -> tuple[tuple[Word, ...], bool]:
    """The figures of a half without letter and sign, and whether ° ′ ″ stand among them."""
    figures: list[Word] = []
    before: str = ""
    marked = False
    for word in body:
        dangling = word is body[-1] and word.kind in ("sign", "colon")
        if dangling or not _fits(word, before, len(figures)):
            raise _at(message("coordinate.misplaced", typed=word.text), text, word)
        if word.kind == "number":
            figures.append(word)
        marked = marked or word.kind in _MARKS
        before = word.kind
    return tuple(figures), marked


def _fits(word: Word, before: str, count: int) -> bool:
    """Whether a word may follow: a figure after a gap, a mark after its figure, - or : between."""
    if word.kind == "number":
        return before != "number" or word.after_space
    if word.kind in _MARKS:
        return before == "number" and 1 <= count <= 3 and word.kind == _MARKS[count - 1]
    joint = word.kind == "colon" or (word.kind == "sign" and word.text != "+")
    return joint and before == "number" and not word.after_space


# Where a typed coordinate parts into latitude and longitude, and whether it is one at all.

_LETTERS = frozenset("NSEW")
_SYSTEM = re.compile(r"CRS[^/\s]*/?\s*$")
_UNMISTAKABLE = re.compile(
    r"""[-+\u2010-\u2013\u2212].*                                   # a sign first
    | [0-9]*\.[0-9].* | [0-9]+\..*                                  # a decimal number first
    | [0-9.]+[NSEW][0-9.]{2,}[NSEW] | [NSEW][0-9.]{2,}[NSEW][0-9.]{2,}
    | [0-9]+[-:\u2010-\u2013\u2212][0-9].*[NSEW].*                  # 43-54-30N or 43:54:30N
    | [NSEW][0-9]+[-:\u2010-\u2013\u2212][0-9.]+.*[NSEW][0-9].*""",
    re.VERBOSE,
)


def has_shape(text: str) -> bool:
    """Whether text has a coordinate's marks, so that a fault in it is a coordinate's fault.

    Figures with a sign, a comma, a degree mark, a decimal point or two hemisphere letters, and
    no letter that coordinates do not have.

    >>> has_shape("4660N07805W"), has_shape("46N")
    (True, False)
    """
    bare = _SYSTEM.sub("", text.upper()).strip()
    if _is_number_pair(bare):
        return True
    letters = {each for each in bare if each.isalpha() and each not in MARKS}
    if not letters <= _LETTERS or not any(each in "0123456789" for each in bare):
        return False
    parts = any(each in MARKS or each == "," or each.isspace() for each in bare)
    return parts or _UNMISTAKABLE.fullmatch(bare) is not None


def parted(found: Sequence[Word], text: str) -> tuple[Sequence[Word], Sequence[Word]]:
    """The words of the latitude and those of the longitude.

    Raises PositionError where there is no telling, or a comma stands for a decimal point.
    """
    letters = [place for place, word in enumerate(found) if word.kind == "letter"]
    commas = [word for word in found if word.kind == "comma"]
    if len(commas) > 1:
        raise fault(message("coordinate.comma"), text, commas[0].start, commas[-1].end)
    if not letters:
        return _parted_by_sign(found, text)
    if len(letters) != 2:
        wrong = found[letters[0 if len(letters) == 1 else 2]]
        raise _at(message("coordinate.letter-each"), text, wrong)
    if letters[0] > 0 and letters[1] < len(found) - 1:
        wrong = found[letters[1]]
        raise _at(message("coordinate.same-side"), text, wrong)
    first, second = _parted_by_letters(found, letters)
    for word in (*first, *second):
        if word.kind == "comma":
            raise _at(message("coordinate.comma"), text, word)
    return first, second


def _is_number_pair(text: str) -> bool:
    """Whether two numbers as computers write them, ``nan`` and ``1e5`` among them, and a comma."""
    parts = text.split(",")
    try:
        return len(parts) == 2 and bool([float(part) for part in parts])
    except ValueError:
        return False


def _parted_by_letters(
    found: Sequence[Word], letters: Sequence[int]
) -> tuple[Sequence[Word], Sequence[Word]]:
    cut = letters[1] if letters[0] == 0 else letters[0] + 1
    first, second = found[:cut], found[cut:]
    if first and first[-1].kind == "comma":
        first = first[:-1]
    elif second and second[0].kind == "comma":
        second = second[1:]
    return first, second


def _parted_by_sign(found: Sequence[Word], text: str) -> tuple[Sequence[Word], Sequence[Word]]:
    """Parted at the comma, or at a sign after a space, or between two plain figures."""
    starts = [place for place, word in enumerate(found) if word.kind == "sign" and word.after_space]
    for place, word in enumerate(found):
        if word.kind == "comma":
            if any(start > place + 1 for start in starts):
                raise _at(message("coordinate.comma"), text, word)
            return found[:place], found[place + 1 :]
    if not starts and [word.kind for word in found[-2:]] == ["number", "number"]:
        starts = [len(found) - 1]
    cuts = [place for place in starts if place > 0]
    if len(cuts) != 1:
        raise fault(message("coordinate", examples=EXAMPLES), text)
    return found[: cuts[0]], found[cuts[0] :]
