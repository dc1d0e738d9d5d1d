"""Codes and names that look like a mistyped one."""

from __future__ import annotations

import string
from collections.abc import Callable, Iterable, Iterator, Sequence
from collections.abc import Set as AbstractSet
from itertools import product

from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position

NEAR_NM = 300.0
"""A code within this distance [NM] of the neighbouring point is preferred: a long day's leg."""
MOST_COMPARED = 100
"""How many codes' places are asked for; of those equally alike the first in the alphabet."""
LONGEST = 12
"""Longer words are no identifiers; nothing is like them."""
_LETTERS = string.ascii_uppercase + string.digits
_TWINS = {"0": "0O", "O": "O0", "1": "1I", "I": "I1"}

Places = Callable[[str], Iterable[Position]]


def alike(
    text: str, codes: AbstractSet[str], places: Places, near: Position | None = None
) -> tuple[str, ...]:
    """Codes like ``text``, the likeliest first: fewest slips, then near, then the same letters.

    A slip is a letter too many, too few or wrong, or two that changed places; a figure taken for
    the letter it looks like (0 for O, 1 for I) is none. Two slips are looked for in words of
    five letters or more, if one finds nothing. ``places`` says about where a code lies.

    >>> alike("KBSO", {"KBOS", "KMSP", "KBSM"}, lambda code: [])
    ('KBOS', 'KBSM')
    >>> alike("KB0S", {"KBOX", "KBOS"}, lambda code: [])
    ('KBOS', 'KBOX')
    """
    wanted = text.strip().upper()
    slips = _slips(wanted, codes) if len(wanted) <= LONGEST else {}
    ranked = sorted(slips, key=lambda code: (slips[code], _unlike(wanted, code), code))
    if near is None:
        return tuple(ranked)
    first = ranked[:MOST_COMPARED]
    close = {code for code in first if _is_close(places(code), near)}
    return tuple(sorted(first, key=lambda code: (slips[code], code not in close)))


def names_alike(text: str, names: Sequence[str]) -> tuple[str, ...]:
    """Names like ``text`` whatever the case, those of the fewest slips first.

    One slip is allowed in up to four letters, two from five on, three from ten on.

    >>> names_alike("red bran", ["Red barns", "Blue barn", "Red barn"])
    ('Red barn', 'Red barns')
    >>> names_alike("KRST", ["Red barn"])
    ()
    """
    if not names:
        return ()
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    wanted = text.strip().casefold()
    folded = [name.casefold() for name in names]
    found = process.extract(
        wanted, folded, scorer=OSA.distance, score_cutoff=slips_allowed(wanted), limit=None
    )
    ranked = sorted(found, key=lambda each: (each[1], each[2]))
    return tuple(names[place] for _, _, place in ranked)


def slips_allowed(word: str) -> int:
    """How many slips a word of this length may hold and still be known.

    >>> [slips_allowed("m" * letters) for letters in (1, 4, 5, 9, 10)]
    [0, 1, 2, 2, 3]
    """
    return (len(word) > 1) + (len(word) > 4) + (len(word) > 9)


def _slips(wanted: str, codes: AbstractSet[str]) -> dict[str, int]:
    """How many slips lie between what was typed and each code near enough to be meant."""
    twins = _twins(wanted)
    found = dict.fromkeys(twins, 0)
    for twin in twins:
        for word in _one_slip(twin):
            found.setdefault(word, 1 if twin == wanted else 2)
    found = {code: count for code, count in found.items() if code in codes}
    if not found and len(wanted) > 4:
        found = _two_slips(wanted, codes)
    return {code: count for code, count in found.items() if len(code) > 1}


def _twins(word: str) -> list[str]:
    """The word with each figure and letter that look alike changed or not, itself included."""
    return ["".join(letters) for letters in product(*(_TWINS.get(ch, ch) for ch in word))][:64]


def _one_slip(word: str) -> Iterator[str]:
    """Every word one slip away."""
    for at in range(len(word) + 1):
        before, after = word[:at], word[at:]
        yield before + after[1:]
        yield before + after[1:2] + after[:1] + after[2:]
        for letter in _LETTERS:
            yield before + letter + after
            yield before + letter + after[1:]


def _two_slips(wanted: str, codes: AbstractSet[str]) -> dict[str, int]:
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    found = process.extract(wanted, sorted(codes), scorer=OSA.distance, score_cutoff=2, limit=None)
    return {code: int(score) for code, score, _ in found}


def _unlike(wanted: str, code: str) -> tuple[bool, bool]:
    """Ranks equal numbers of slips: letters changed places first, then the same length."""
    return sorted(wanted) != sorted(code), len(wanted) != len(code)


def _is_close(positions: Iterable[Position], near: Position) -> bool:
    return any(distance_nm(position, near) <= NEAR_NM for position in positions)
