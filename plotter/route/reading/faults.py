"""Words of a route that name nothing: what was probably meant, and what to type for it."""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Sequence
from typing import NamedTuple

from plotter.errors import InputError, UnknownIdentifier, Where
from plotter.places.lookup import either
from plotter.places.store import Store

EXAMPLES = "an identifier as in KRST, or a position as in 44.0,-92.5 or 4400N09230W"
_SEPARATORS = re.compile(r"[,;>/|+–→-]+")
_DECIMAL_COMMA = re.compile(r"([-+]?\d{1,3}),(\d+)", re.A)
_HALF = re.compile(r"[-+]?\d{1,3}(\.\d*)?", re.A)
_NO_EAST_OR_WEST = re.compile(r"(\d\d[NS]\d{3}|\d{4}[NS]\d{5}|\d{6}[NS]\d{7})", re.A | re.I)
_ONE_ANGLE = re.compile(r"(\d{4}|\d{6})[NS]|(\d{5}|\d{7})[EW]", re.A | re.I)
_SHORT_BEARING = re.compile(
    r"(?P<point>[A-Z]{2,5})(?P<bearing>\d{2,3})(?P<distance>\d{2,3})", re.A | re.I
)
_FIGURES = 6


class Piece(NamedTuple):
    """A word that names a point, with the name given to it, still to be looked up."""

    name: str
    text: str
    where: Where


def unreadable(store: Store, text: str, fault: UnknownIdentifier) -> InputError:
    """The fault of a word that is in no notation and no identifier.

    ``fault`` is that of the look-up, with the identifiers that are like it.
    """
    return (
        cut_short(text)
        or _not_parted(store, text)
        or _bearing_cut_short(store, text)
        or (fault if fault.candidates else None)
        or UnknownIdentifier(f"no place '{text[:60]}' in the data; type {EXAMPLES}")
    )


def cut_short(text: str) -> InputError | None:
    """The fault of a packed position with a letter or a half missing; ``None`` for any other word.

    >>> cut_short("4354N09230").candidates, cut_short("KRST")
    (('4354N09230E', '4354N09230W'), None)
    """
    if _NO_EAST_OR_WEST.fullmatch(text):
        both = (f"{text}E", f"{text}W")
        return InputError(
            f"'{text}' has no E or W behind its longitude; type {either(both)}",
            code="coordinate",
            candidates=both,
        )
    if _ONE_ANGLE.fullmatch(text):
        return InputError(
            f"'{text}' is half a position; type latitude and longitude together, as in 4400N09230W",
            code="coordinate",
        )
    return None


def without_halves(
    pieces: Sequence[Piece], is_known: Callable[[str], bool]
) -> tuple[list[Piece], list[InputError]]:
    """The pieces without pairs that may be one position typed in two words, and a fault for each.

    Such are two bare figures, and two pairs of figures that may each be one with a decimal comma.
    """
    dropped: set[int] = set()
    faults: list[InputError] = []
    for index, (one, other) in enumerate(itertools.pairwise(pieces)):
        fault = None if index in dropped else _in_two_words(one, other, is_known)
        if fault:
            dropped.update((index, index + 1))
            faults.append(fault)
    return [piece for index, piece in enumerate(pieces) if index not in dropped], faults


def _in_two_words(one: Piece, other: Piece, is_known: Callable[[str], bool]) -> InputError | None:
    if all(_is_half(each, is_known) for each in (one, other)):
        return _two_halves(one, other)
    found = [_DECIMAL_COMMA.fullmatch(each.text) for each in (one, other)]
    between = one.where.text[one.where.end : other.where.start].strip(" \t\r\n\"'")
    if other.name or between or is_known(one.text) or is_known(other.text):
        return None
    if not (found[0] and found[1]):
        return None
    return _two_commas(one, other, found[0], found[1])


def _two_commas(
    one: Piece, other: Piece, first: re.Match[str], second: re.Match[str]
) -> InputError:
    """Return the fault of two pairs that may be two positions or one with decimal commas.

    Rejected without exception, ``0,0 0,10`` too, because any two positions in whole degrees
    are also one position with decimal commas: 0.0 N 0.10 E. Only the pilot knows which.
    """
    named = f"{one.name}=" if one.name else ""
    joined = f"{named}{'.'.join(first.groups())},{'.'.join(second.groups())}"
    apart = " ".join(f"{each[1]}.0,{each[2]}" for each in (first, second))
    return InputError(
        f"'{one.text} {other.text}' may be one position with decimal commas or two positions; "
        f"type {joined} for one, {named}{apart} for two",
        code="coordinate",
        where=Where(one.where.text, one.where.start, other.where.end),
        candidates=(joined, f"{named}{apart}"),
    )


def _is_half(piece: Piece, is_known: Callable[[str], bool]) -> bool:
    figure = piece.text.rstrip(",")
    return _HALF.fullmatch(figure) is not None and not is_known(piece.text)


def _two_halves(one: Piece, other: Piece) -> InputError:
    named = f"{one.name}=" if one.name else ""
    joined = f"{named}{one.text.rstrip(',')},{other.text.rstrip(',')}"
    return InputError(
        f"latitude and longitude are one point, with a comma and no space between: {joined}",
        code="coordinate",
        where=Where(one.where.text, one.where.start, other.where.end),
        candidates=(joined,),
    )


def _not_parted(store: Store, text: str) -> InputError | None:
    """Points with something else than a space between; a dash may be part of an identifier."""
    parts = [part for part in _SEPARATORS.split(text) if part]
    known = [bool(store.by_code(part)) for part in parts]
    if len(parts) < 2 or not (all(known) or (any(known) and "-" not in text)):
        return None
    spaced = " ".join(parts)
    return UnknownIdentifier(
        f"points are parted by spaces: {spaced}", code="not-parted", candidates=(spaced,)
    )


def _bearing_cut_short(store: Store, text: str) -> InputError | None:
    """A point, bearing and distance with too few figures."""
    found = _SHORT_BEARING.fullmatch(text)
    if not found or not store.by_code(found["point"]):
        return None
    point, figures = found["point"], len(text) - len(found["point"])
    return InputError(
        f"'{text}' has {figures} figures behind {point}; write {_FIGURES}, three of bearing and "
        f"three of distance, as in {point}090020",
        code="bearing",
        where=Where(text, len(point), len(text)),
    )
