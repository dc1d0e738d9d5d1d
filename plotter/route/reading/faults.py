"""Words of a route that name nothing: what was probably meant, and what to type for it."""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Sequence
from typing import NamedTuple

from plotter.errors import InputError, UnknownIdentifier, Where
from plotter.places.store import Store

_SEPARATORS = re.compile(r"[,;>/|+–→-]+")
_DECIMAL_COMMA = re.compile(r"([-+]?\d{1,3}),(\d+)", re.A)
_HALF = re.compile(r"[-+]?\d{1,3}(\.\d*)?", re.A)
_NO_EAST_OR_WEST = re.compile(r"(\d\d[NS]\d{3}|\d{4}[NS]\d{5}|\d{6}[NS]\d{7})", re.A | re.I)
_ONE_ANGLE = re.compile(r"(\d{4}|\d{6})[NS]|(\d{5}|\d{7})[EW]", re.A | re.I)
_SHORT_BEARING = re.compile(
    r"(?P<point>[A-Z]{2,5})(?P<bearing>\d{2,3})(?P<distance>\d{2,3})", re.A | re.I
)


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
        or UnknownIdentifier("unknown-identifier.examples", text=text[:60])
    )


def cut_short(text: str) -> InputError | None:
    """The fault of a packed position with a letter or a half missing; ``None`` for any other word.

    >>> cut_short("4354N09230").candidates, cut_short("KRST")
    (('4354N09230E', '4354N09230W'), None)
    """
    if _NO_EAST_OR_WEST.fullmatch(text):
        both = (f"{text}E", f"{text}W")
        return InputError("coordinate.east-or-west", candidates=both, text=text, both=both)
    if _ONE_ANGLE.fullmatch(text):
        return InputError("coordinate.half", text=text)
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
        "coordinate.two-commas",
        where=Where(one.where.text, one.where.start, other.where.end),
        candidates=(joined, f"{named}{apart}"),
        text=f"{one.text} {other.text}",
        one=joined,
        two=f"{named}{apart}",
    )


def _is_half(piece: Piece, is_known: Callable[[str], bool]) -> bool:
    figure = piece.text.rstrip(",")
    return _HALF.fullmatch(figure) is not None and not is_known(piece.text)


def _two_halves(one: Piece, other: Piece) -> InputError:
    named = f"{one.name}=" if one.name else ""
    joined = f"{named}{one.text.rstrip(',')},{other.text.rstrip(',')}"
    return InputError(
        "coordinate.two-words",
        where=Where(one.where.text, one.where.start, other.where.end),
        candidates=(joined,),
        joined=joined,
    )


def _not_parted(store: Store, text: str) -> InputError | None:
    """Points with something else than a space between; a dash may be part of an identifier."""
    parts = [part for part in _SEPARATORS.split(text) if part]
    known = [bool(store.by_code(part)) for part in parts]
    if len(parts) < 2 or not (all(known) or (any(known) and "-" not in text)):
        return None
    spaced = " ".join(parts)
    return UnknownIdentifier("not-parted", candidates=(spaced,), spaced=spaced)


def _bearing_cut_short(store: Store, text: str) -> InputError | None:
    """A point, bearing and distance with too few figures."""
    found = _SHORT_BEARING.fullmatch(text)
    if not found or not store.by_code(found["point"]):
        return None
    point = found["point"]
    return InputError(
        "bearing.figures",
        where=Where(text, len(point), len(text)),
        text=text,
        point=point,
        count=len(text) - len(point),
    )
