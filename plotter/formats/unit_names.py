"""Names as small units take them: a few capital letters and digits, no two places alike."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Hashable, Sequence

_OTHER = re.compile("[^A-Z0-9]")
# Letters that no decomposition turns into plain ones, written as in the machine-readable zone of
# a passport (ICAO Doc 9303, part 3, section 6; from memory).
_PLAIN = str.maketrans(
    {"Æ": "AE", "Ø": "OE", "Œ": "OE", "Þ": "TH", "Đ": "D", "Ð": "D", "Ł": "L", "Ħ": "H", "Ŧ": "T"}
)
_STAND_IN = "P"


def unit_name(text: str, limit: int, *, capitals: bool = True) -> str:
    """A name in at most ``limit`` capitals and digits; empty if nothing of it can be kept.

    Without ``capitals`` it is merely cut.

    >>> unit_name("Water tower", 6), unit_name("Ærø Łódź", 10), unit_name("機場", 6)
    ('WATERT', 'AEROELODZ', '')
    """
    if not capitals:
        return text[:limit].strip()
    plain = unicodedata.normalize("NFKD", text).upper().translate(_PLAIN)
    return _OTHER.sub("", plain)[:limit]


def unit_names(
    names: Sequence[str], places: Sequence[Hashable], limit: int, *, capitals: bool = True
) -> list[str]:
    """The names of a whole file, two places never alike, one place always the same.

    A name that is short and plain already (an identifier) keeps its form, whatever stands before
    it; others that would be the same end in a number. A place passed twice under one name has one
    name, lest a unit store it twice.

    >>> unit_names(["Old mill N", "Old mill S", "OLDMIL", "Old mill N"], [1, 2, 3, 1], 6)
    ['OLDMI2', 'OLDMI3', 'OLDMIL', 'OLDMI2']
    """
    keys = list(zip(names, places, strict=True))
    given: dict[tuple[str, Hashable], str] = {}
    taken: dict[str, int] = {}
    for keeps_its_form in (True, False):
        for number, key in enumerate(keys, start=1):
            short = unit_name(key[0], limit, capitals=capitals)
            if key not in given and (short == key[0]) is keeps_its_form:
                given[key] = _free(short or f"{_STAND_IN}{number}", taken, limit)
    return [given[key] for key in keys]


def _free(name: str, taken: dict[str, int], limit: int) -> str:
    """The name, or its start and the next number that makes one nobody has; ``taken`` is told.

    ``taken`` holds each name given away and the last number tried behind it.
    """
    proposal, number = name[:limit], taken.get(name[:limit], 0)
    while proposal in taken:
        number += 1
        proposal = f"{name[: limit - len(str(number))]}{number}"
    taken[name[:limit]] = max(number, 1)
    taken.setdefault(proposal, 1)
    return proposal
