"""Names set in plain letters, so that accents, case and small differences do not matter."""

from __future__ import annotations

import re
import unicodedata

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
