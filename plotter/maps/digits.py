"""Whole numbers as short text, for the coordinates that a map carries.

A number is folded to a positive one (0, −1, 1, −2, … become 0, 1, 2, 3, …) and written in base
45, lowest digit first, from an alphabet of 90 printable characters that JSON and HTML leave
alone: the first 45 end a number, the others say that more follows. Steps along a coast are
small, so most take one or two characters; written out in digits they would take twice as many.
"""

from __future__ import annotations

from collections.abc import Iterable

BASE = 45
ALPHABET = "".join(chr(code) for code in range(0x20, 0x7F) if chr(code) not in '"\\<>&')


class _Words(dict[int, str]):
    """Each number's text, worked out once."""

    def __missing__(self, number: int) -> str:
        rest = 2 * number if number >= 0 else -2 * number - 1
        text = ""
        while rest >= BASE:
            rest, digit = divmod(rest, BASE)
            text += ALPHABET[BASE + digit]
        self[number] = text + ALPHABET[rest]
        return self[number]


_words = _Words()


def encoded(numbers: Iterable[int]) -> str:
    """The numbers as text.

    >>> len(encoded([0, -1, 22])), len(encoded([23])), len(encoded([-1000]))
    (3, 2, 2)
    """
    return "".join(map(_words.__getitem__, numbers))


def decoded(text: str) -> list[int]:
    """The inverse of :func:`encoded`; the map's script does the same.

    >>> decoded(encoded([0, -1, 1, 22, 23, -1000, 180000]))
    [0, -1, 1, 22, 23, -1000, 180000]
    """
    numbers, value, place = [], 0, 1
    for letter in text:
        digit = ALPHABET.index(letter)
        value += (digit % BASE) * place
        place *= BASE
        if digit < BASE:
            numbers.append(-((value + 1) // 2) if value % 2 else value // 2)
            value, place = 0, 1
    return numbers
