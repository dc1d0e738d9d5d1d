"""Codes and names that look like a mistyped one."""

from __future__ import annotations

import re
import string
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Sequence
from collections.abc import Set as AbstractSet
from itertools import product

from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position

# Names set in plain letters, so that accents, case and small differences do not matter.

LETTERS = str.maketrans(
    {"ø": "o", "ł": "l", "ı": "i", "ß": "ss", "æ": "ae", "œ": "oe", "đ": "d", "ð": "d", "þ": "th"}
)
_KIND_WORDS = """
    aerodrome aerodromo aeroporto aeropuerto airbase airfield airpark airport airstrip base field
    flugplatz heliport helipad intl international landing memorial municipal muni regional county
    seaplane station strip private
"""
KIND_WORDS = frozenset(_KIND_WORDS.split())
"""Words that say what a place is, not which one; left out where whole names are compared."""
_SHORT = {"st": "saint", "ste": "sainte", "mt": "mount", "ft": "fort"}
_MARKS = str.maketrans(dict.fromkeys("‐‑‒–—−·/", " ") | dict.fromkeys("’‘ʻʼ`´", "'"))
"""Dashes part words and apostrophes do not, whichever of their forms a name has."""
_WORD = re.compile(r"[a-z0-9]+")


def plain(name: str) -> str:
    """A name in plain lower-case letters and digits, one space between words.

    >>> plain("Słupsk-Krȩpa"), plain("Coeur d'Alene"), plain("東京")
    ('slupsk krepa', 'coeur dalene', '')
    """
    lower = name.lower()
    if not lower.isascii():
        bare = unicodedata.normalize("NFKD", lower.translate(LETTERS))
        lower = bare.encode("ascii", "ignore").decode("ascii")
    return " ".join(_WORD.findall(lower.replace("'", "")))


def words(name: str) -> list[str]:
    """The words of a name in plain letters, usual short forms written out.

    A name in a script that has no plain letters keeps its own, in lower case.

    >>> words("St. Paul / Mt Pleasant"), words("東京 International")
    (['saint', 'paul', 'mount', 'pleasant'], ['international'])
    >>> words("東京")
    ['東京']
    """
    lower = name.lower()
    if not lower.isascii() or "/" in lower or "`" in lower:
        lower = lower.translate(_MARKS)
    found = plain(lower).split() or name.casefold().split()
    return [_SHORT.get(word, word) for word in found]


def short_forms(word: str) -> list[str]:
    """The short forms a word was written out from: who types "st" may be on the way to "Stow".

    >>> short_forms("saint"), short_forms("stow")
    (['st'], [])
    """
    return [short for short, whole in _SHORT.items() if whole == word]


def telling(found: list[str]) -> list[str]:
    """The words of a name that say which place it is; all of them where none is left.

    >>> telling(words("La Crosse Regional Airport")), telling(["airport"])
    (['la', 'crosse'], ['airport'])
    """
    return [word for word in found if word not in KIND_WORDS] or found


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
