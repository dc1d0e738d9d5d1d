"""Are these two names the same name? Spelling, accents and generic words set aside."""

from __future__ import annotations

from difflib import SequenceMatcher
from functools import cache

from plotter.places import folding

_GENERIC = """
    aerodrome aerodromo aeroporto aeropuerto air airbase airfield airpark airport airstrip base
    farm field flugplatz heliport helipad intl international landing memorial military municipal
    muni national pista private ranch regional county state seaplane station strip
    aldeia estancia fazenda hacienda hato nossa our saint san santa santo sao senhora sitio lady
    a al am an and d da de del des di do dos du e el i im in ii iii la las le les los new nr no
    of old on the und van von y island
"""
GENERIC = frozenset(_GENERIC.split())
"""Words that say what a place is, not which one; and small words of several languages."""
ALIKE = 0.75  # share of letters in common; "Nyapari" and "Nypari" have 0.92


plain = cache(folding.plain)


def letters(name: str) -> str:
    """A name's letters and digits alone, so that "La Belle" is "LaBelle"."""
    return plain(name).replace(" ", "")


@cache
def words(name: str) -> frozenset[str]:
    """The words of a name that tell it from others.

    >>> sorted(words("São José do Rio Preto Airport"))
    ['jose', 'preto', 'rio']
    """
    return frozenset(plain(name).split()) - GENERIC


def same(one: str, other: str) -> bool:
    """Whether all telling words of one name stand in the other.

    >>> same("Chifeng Yulong Airport", "Chifeng Airport"), same("Fazenda Brasa", "Fazenda Rosa")
    (True, False)
    """
    a, b = words(one), words(other)
    return bool(a and b) and (a <= b or b <= a)


def alike(one: str, other: str) -> bool:
    """Whether two names share a telling word or are nearly the same letters.

    >>> alike("Nyapari Airport", "Nypari Airport"), alike("Meier Airport", "Tru Field")
    (True, False)
    """
    a, b = words(one), words(other)
    if not a or not b:
        return False
    return bool(a & b) or _ratio("".join(sorted(a)), "".join(sorted(b))) >= ALIKE


def _ratio(one: str, other: str) -> float:
    """Share of letters in common, 0 to 1."""
    return SequenceMatcher(None, one, other, autojunk=False).ratio()
