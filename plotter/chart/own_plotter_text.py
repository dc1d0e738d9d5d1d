"""Pairs as a pilot types them: ``ruler 50 = plotter 50.6, ruler 100 = plotter 101.3``."""

from __future__ import annotations

import re

from plotter.chart.own_plotter import Pair
from plotter.errors import InputError, Where

EXAMPLE = "ruler 50 = plotter 50.6, ruler 100 = plotter 101.3"
_NUMBER = r"(?P<{0}>[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+))"
_SIDE = r"\s*(?P<{0}_name>[^\W\d]*)\s*" + _NUMBER + r"\s*(?P<{0}_unit>[^\W\d]*)\s*"
_PAIR = re.compile(f"{_SIDE.format('first')}={_SIDE.format('second')}", re.I)
_NAMES = ("ruler", "plotter")
_LONGEST = 10_000


def read_pairs(text: str, edge: str = "nm") -> tuple[Pair, ...]:
    """The pairs of a text, parted by commas or semicolons.

    The side named first counts as it is named; with no names the ruler stands first. Raises
    InputError, code ``pair``, with a caret under the pair that cannot be read.

    >>> read_pairs("ruler 50 = plotter 50.6, plotter 101 = ruler 100; 20=20.2")[1]
    Pair(ruler=100.0, plotter=101.0, decimals=0)
    """
    if len(text) > _LONGEST:
        raise InputError(f"that is too long; type pairs, as in '{EXAMPLE}'", code="pair")
    pairs = []
    for match in re.finditer(r"[^,;]+", text):
        if match[0].strip():
            pairs.append(_placed(match[0], edge, _where(text, match)))
    if not pairs:
        raise InputError(f"no pair is given; type them as in '{EXAMPLE}'", code="pair")
    return tuple(pairs)


def _where(text: str, match: re.Match[str]) -> Where:
    words = match[0]
    start = match.start() + len(words) - len(words.lstrip())
    return Where(text, start, start + len(words.strip()))


def _placed(words: str, edge: str, where: Where) -> Pair:
    try:
        return _pair(words, edge)
    except InputError as fault:
        raise fault.at(where) from None


def _pair(words: str, edge: str) -> Pair:
    found = _PAIR.fullmatch(words)
    if found is None:
        raise InputError(_why_not(words), code="pair")
    names = [found[f"{side}_name"].lower() for side in ("first", "second")]
    ruler_side, plotter_side = _sides(names)
    for side in ("first", "second"):
        _refuse_other_unit(found[f"{side}_unit"].lower(), edge)
    typed = found[plotter_side]
    decimals = len(typed.partition(".")[2])
    return Pair(float(found[ruler_side]), float(typed), decimals)


def _sides(names: list[str]) -> tuple[str, str]:
    """Which side of the equals sign is the ruler's and which the plotter's."""
    wrong = [name for name in names if name and name not in _NAMES]
    if wrong:
        raise InputError(
            f"'{wrong[0]}' is neither ruler nor plotter; type it as in '{EXAMPLE}'", code="pair"
        )
    if names[0] and names[0] == names[1]:
        raise InputError(
            f"both sides are the {names[0]}'s; type one ruler and one plotter", code="pair"
        )
    swapped = names[0] == "plotter" or names[1] == "ruler"
    return ("second", "first") if swapped else ("first", "second")


def _refuse_other_unit(unit: str, edge: str) -> None:
    if unit and unit != edge:
        hint = f"; add --edge {unit}" if unit in ("nm", "sm") else ", with the unit left out"
        raise InputError(
            f"'{unit}' is not the unit of this edge: pairs are read here in {edge.upper()}{hint}",
            code="unit",
        )


def _why_not(words: str) -> str:
    if "=" not in words and re.fullmatch(r"\s*\d+\s*", words):
        return (
            "a figure stands alone; write decimals with a point, not a comma, and pairs as in "
            f"'{EXAMPLE}'"
        )
    return f"this is no pair; type it as in '{EXAMPLE}'"
