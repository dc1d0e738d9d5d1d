"""Cautions: what the pilot must, should or may want to know before trusting a figure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

Rank = Literal["STOP", "CHECK", "NOTE"]
RANKS: tuple[Rank, ...] = ("STOP", "CHECK", "NOTE")


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: a rank, a code that stays the same, words that say what to do, a source."""

    rank: Rank
    code: str
    text: str
    source: str = ""
    where: str = ""


def ranked(cautions: list[Caution]) -> tuple[Caution, ...]:
    """The cautions, worst rank first, each said once, otherwise in the order they arose."""
    return tuple(sorted(dict.fromkeys(cautions), key=lambda caution: RANKS.index(caution.rank)))


def one_a_class(cautions: Iterable[Caution]) -> tuple[Caution, ...]:
    """Cautions as they are printed: those of one rank and code joined into the first.

    The other places are named, and a STOP or CHECK that says more of its place than the first
    says of its own, as another figure, stands whole.

    >>> first = Caution("CHECK", "night", "KAAA: night.", where="KAAA")
    >>> alike = replace(first, where="KBBB", text="KBBB: night.")
    >>> other = replace(first, where="KCCC", text="KCCC: dusk.")
    >>> one_a_class([first, alike, other])[0].text
    'KAAA: night. Likewise: KBBB. KCCC: dusk.'
    """
    classes: dict[tuple[str, str], list[Caution]] = {}
    for caution in cautions:
        classes.setdefault((caution.rank, caution.code), []).append(caution)
    return tuple(_joined(*alike) for alike in classes.values())


def _joined(first: Caution, *others: Caution) -> Caution:
    if not others:
        return first
    alike = [one for one in others if one.where and _says_the_same(first, one)]
    places = [place for place in dict.fromkeys(one.where for one in alike) if place != first.where]
    parts = [first.text, f"Likewise: {', '.join(places)}." if places else ""]
    parts += [one.text for one in others if one not in alike]
    where = dict.fromkeys(one.where for one in (first, *others) if one.where)
    return replace(first, text=" ".join(filter(None, parts)), where=", ".join(where))


def _says_the_same(first: Caution, other: Caution) -> bool:
    """Whether only the place differs; of notes the place is enough."""
    return first.rank == "NOTE" or _of_any_place(first) == _of_any_place(other)


def _of_any_place(caution: Caution) -> str:
    """The words with the place taken out, at their beginning with a capital too."""
    where = caution.where
    if not where:
        return caution.text
    return caution.text.replace(where, "@").replace(where[0].upper() + where[1:], "@")
