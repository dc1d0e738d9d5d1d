"""One half of a typed coordinate, a latitude or a longitude: its figures, checked and summed."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Literal, NamedTuple

from plotter.earth.coordinate_words import Word, fault
from plotter.errors import PositionError

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
        raise fault("a latitude and a longitude are needed, this has only one of them", text)
    start, end = parts[0].start, parts[-1].end
    letters = [word.text for word in parts if word.kind == "letter"]
    body = [word for word in parts if word.kind != "letter"]
    signed = bool(body) and body[0].kind == "sign"
    if letters and signed:
        raise fault("a sign and a letter say the same thing twice: leave one out", text, start, end)
    negative = letters[0] in "SW" if letters else signed and body[0].text != "+"
    figures, marked = _figures(body[signed:], text)
    if not 1 <= len(figures) <= 3:
        raise fault(f"{len(figures)} figures where degrees, minutes, seconds go", text, start, end)
    if len(figures) > 1 and not (letters or marked):
        raise fault("degrees and minutes need a hemisphere letter, as 43 54.5N", text, start, end)
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
            f"{axis} {figure.text} has {whole} digits: write {width} for degrees, {width + 2} with "
            f"minutes, {width + 4} with seconds",
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
            raise _range(
                f"{figure.text} {_PLURALS[place]}: they run from 0 to under 60", text, figure
            )
        if place < len(figures) - 1 and "." in figure.text:
            raise fault("only the last figure may have decimals", text, figure.start, figure.end)
        total += value / 60.0**place
    if not total <= LIMITS[axis]:
        whole = figures[0]._replace(end=figures[-1].end)
        said = f"{total:g}{letter}" if letter else f"{-total if negative else total:g}"
        raise _range(f"{axis} {said} is outside -{LIMITS[axis]} to {LIMITS[axis]}", text, whole)
    return -total if negative and total else total


def _range(message: str, text: str, word: Word) -> PositionError:
    return fault(message, text, word.start, word.end, code="coordinate-range")


def _figures(body: Sequence[Word], text: str) -> tuple[tuple[Word, ...], bool]:
    """The figures of a half without letter and sign, and whether ° ′ ″ stand among them."""
    figures: list[Word] = []
    before: str = ""
    marked = False
    for word in body:
        dangling = word is body[-1] and word.kind in ("sign", "colon")
        if dangling or not _fits(word, before, len(figures)):
            raise fault(f"{word.text!r} does not belong here", text, word.start, word.end)
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
