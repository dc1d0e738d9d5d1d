"""Letters a font does not have, named where they stand instead of left out or boxed."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable

from plotter.formats.names import clean_text

NOTE = "[U+…] stands for a letter that the font of this page does not have, by its Unicode number."


def spelled(text: str, has: Callable[[str], bool]) -> str:
    """Text with every letter that cannot be printed replaced by its number in brackets.

    A mark that shows nothing (a direction mark, a joiner) is named too: it could hide that the
    order of letters is not what it seems.

    >>> spelled("Zürich 東", lambda letter: letter < "\\u2000")
    'Zürich [U+6771]'
    """
    return "".join(
        letter if has(letter) and unicodedata.category(letter) != "Cf" else f"[U+{ord(letter):04X}]"
        for letter in clean_text(text)
    )


def wrapped(text: str, width: float, measure: Callable[[str], float]) -> list[str]:
    """Text in lines no wider than ``width``; a word too wide for a line is cut.

    >>> wrapped("one two three", 7, len), wrapped("abcdefgh", 3, len)
    (['one two', 'three'], ['abc', 'def', 'gh'])
    """
    lines = [""]
    for word in text.split():
        grown = f"{lines[-1]} {word}".strip()
        if measure(grown) <= width:
            lines[-1] = grown
        else:
            lines += _pieces(word, width, measure)
    return [line for line in lines if line]


def _pieces(word: str, width: float, measure: Callable[[str], float]) -> list[str]:
    """A word in as many pieces as it takes; each holds one letter or more."""
    pieces = [""]
    for letter in word:
        if pieces[-1] and measure(pieces[-1] + letter) > width:
            pieces.append("")
        pieces[-1] += letter
    return pieces


def clipped(text: str, width: float, measure: Callable[[str], float]) -> str:
    """Text that fits, its end replaced by an ellipsis where it does not.

    >>> clipped("Minneapolis", 6, len), clipped("Duluth", 6, len)
    ('Minne…', 'Duluth')
    """
    if measure(text) <= width:
        return text
    kept = len(text)
    while kept and measure(text[:kept].rstrip() + "…") > width:
        kept -= 1
    return text[:kept].rstrip() + "…"
