"""Lists of places printed for people and for programs: what ``find`` and ``near`` share."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Sequence
from typing import TypeVar

import click

from plotter import wording
from plotter.cli.printing import paragraph, shown
from plotter.errors import InputError
from plotter.formats.document import tables_of
from plotter.messages import Message, text
from plotter.places.model import EVERY_KIND, FIXED_WING
from plotter.places.naming import NAVAID, TOWN, Found
from plotter.places.store import Store
from plotter.route.checks import age_cautions, table_dates

_Function = TypeVar("_Function", bound=Callable[..., object])

KIND_NAMES = {
    "airport": FIXED_WING,
    **{kind.replace("_", "-"): (kind,) for kind in EVERY_KIND},
    NAVAID: (NAVAID,),
    TOWN: (TOWN,),
    "all": (*EVERY_KIND, NAVAID, TOWN),
}
"""What may be typed after ``--kind``, and the kinds meant."""


def kinds_option(default: str) -> Callable[[_Function], _Function]:
    """The option that chooses kinds of places."""
    names = ", ".join(KIND_NAMES)
    return click.option(
        "--kind",
        "kinds",
        default=default,
        show_default=True,
        metavar="KIND",
        help=f"One or more, separated by commas: {names}.",
    )


def read_kinds(text: str) -> tuple[str, ...]:
    """The kinds that were typed; raises InputError with those there are.

    >>> read_kinds("navaid, Seaplane-base")
    ('navaid', 'seaplane_base')
    """
    kinds: list[str] = []
    for word in filter(None, (part.strip() for part in text.split(","))):
        name = word.lower().replace("_", "-").replace(" ", "-")
        if name not in KIND_NAMES:
            raise InputError("kind", kind=word, kinds=tuple(KIND_NAMES))
        kinds += KIND_NAMES[name]
    if not kinds:
        raise InputError("kind.none", kinds=tuple(KIND_NAMES))
    return tuple(dict.fromkeys(kinds))


def foot(
    store: Store, places: Sequence[Found], today: dt.date, notes: Sequence[Message] = ()
) -> str:
    """What must stand below a list: notes, ages, the standing cautions, dates."""
    tables = tables_of(places)
    old = age_cautions(table_dates(store), tables, today, today=True)
    marked = [
        paragraph(shown(text(note, "console")), " " * 7, "NOTE   ")
        for note in (*notes, *(caution.said for caution in old))
    ]
    dated = ", ".join(f"{name} of {table_dates(store)[name]}" for name in tables)
    last = [f"{dated[:1].upper()}{dated[1:]}."] if dated else []
    return "\n".join([*marked, *(paragraph(line) for line in (*wording.STANDING_SHORT, *last))])
