"""Where a typed coordinate parts into latitude and longitude, and whether it is one at all."""

from __future__ import annotations

import re
from collections.abc import Sequence

from plotter.earth.coordinate_words import EXAMPLES, MARKS, Word, fault

_LETTERS = frozenset("NSEW")
_POINT = "a comma stands once, between latitude and longitude: write decimals with a point"
_SAME_SIDE = "both hemisphere letters go before the figures, or both after them"
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
        raise fault(_POINT, text, commas[0].start, commas[-1].end)
    if not letters:
        return _parted_by_sign(found, text)
    if len(letters) != 2:
        wrong = found[letters[0 if len(letters) == 1 else 2]]
        raise fault(
            "latitude and longitude need one hemisphere letter each", text, wrong.start, wrong.end
        )
    if letters[0] > 0 and letters[1] < len(found) - 1:
        wrong = found[letters[1]]
        raise fault(_SAME_SIDE, text, wrong.start, wrong.end)
    first, second = _parted_by_letters(found, letters)
    for word in (*first, *second):
        if word.kind == "comma":
            raise fault(_POINT, text, word.start, word.end)
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
                raise fault(_POINT, text, word.start, word.end)
            return found[:place], found[place + 1 :]
    if not starts and [word.kind for word in found[-2:]] == ["number", "number"]:
        starts = [len(found) - 1]
    cuts = [place for place in starts if place > 0]
    if len(cuts) != 1:
        raise fault(f"this is not latitude and longitude; type it like {EXAMPLES}", text)
    return found[: cuts[0]], found[cuts[0] :]
