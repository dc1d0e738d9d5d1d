"""Every sentence a person reads, in one catalogue: a message is a key with its values.

Below the edges nothing is worded. An error or a caution carries a :class:`Message`; whoever shows
it renders it with :func:`text`. The sentences are in the modules of this folder, one a subject, as
``KEY: template``, and a module is loaded when the first of its sentences is needed.

A template is a :class:`string.Formatter` text over the message's values. Besides Python's own
format specifications it knows these:

=========================== ==================================================
``{count:leg|legs}``       the word for one, or for several
``{names:, }``             a sequence joined by that text, which ends in a space
``{course:T}`` ``M`` ``C`` a course in three digits with its reference
``{numbers:legs}`` ``Legs`` legs by number, neighbours as a range: ``legs 1–3, 5``
``{speed:.0f}`` …          what Python knows
=========================== ==================================================

and every function of :mod:`plotter.messages.figures` by its name, as in ``{left:fuel_left}``. A
value that is a message itself is rendered in place, and a :class:`Named` one is called as the edge
calls it.

An edge can say a thing its own way: ``console`` names options, ``page`` names fields. A key that
the edge's own table has wins over the common one.
"""

from __future__ import annotations

import string
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from types import ModuleType
from typing import Literal, cast

from plotter.messages import figures

Edge = Literal["python", "console", "page", "file"]
# In this order a key is looked for: those that a good run needs come first.
SUBJECTS = ("route", "flight", "places", "plan", "chart", "formats", "datastore", "page")
LITERAL = "*"
"""The name of words from outside the catalogue; no value of a sentence can have it."""


@dataclass(frozen=True, slots=True)
class Message:
    """A key of the catalogue and the values of its sentence.

    The key is the public code, or the code and a variant of its sentence after a dot.

    >>> message("no-points.readings", count=2).code
    'no-points'
    """

    key: str
    values: tuple[tuple[str, object], ...] = ()

    @property
    def code(self) -> str:
        """The public code, which stays the same however the sentence is worded."""
        return self.key.partition(".")[0]

    @property
    def is_literal(self) -> bool:
        """Whether the words come from outside the catalogue."""
        return any(name == LITERAL for name, _ in self.values)

    def __getitem__(self, name: str) -> object:
        """Return one value of the message."""
        return dict(self.values)[name]


class Named:
    """A value that each edge calls its own way, as the page calls a key by its field's label."""

    __slots__ = ()

    def called(self, edge: Edge) -> str:
        """Return the name for an edge."""
        raise NotImplementedError


def message(key: str, /, **values: object) -> Message:
    """Return a message with its values in the order of their names."""
    return Message(key, tuple(sorted(values.items())))


def literal(code: str, words: str) -> Message:
    """Return a message whose words come from outside the catalogue, as those of a library do."""
    return Message(code, ((LITERAL, words),))


def text(said: Message, edge: Edge = "python") -> str:
    """Return the sentence of a message as an edge says it.

    >>> text(literal("usage", "No such option."))
    'No such option.'
    """
    values = dict(said.values)
    if said.is_literal:
        return str(values[LITERAL])
    template = _template(said.key, edge)
    if template is None:
        raise KeyError(f"no sentence for {said.key}")
    return _Words(edge).vformat(template, (), values)


def is_known(key: str) -> bool:
    """Return whether the catalogue has a sentence for a key."""
    return _template(key, "python") is not None


@cache
def _template(key: str, edge: Edge) -> str | None:
    for subject in SUBJECTS:
        table = _table(subject)
        for name in (edge.upper(), "COMMON"):
            sentences: Mapping[str, str] = getattr(table, name, {})
            if key in sentences:
                return sentences[key]
    return None


@cache
def _table(subject: str) -> ModuleType:
    return import_module(f"plotter.messages.{subject}")


class _Words(string.Formatter):
    """Fills the values of a message into its template."""

    def __init__(self, edge: Edge) -> None:
        self.edge = edge

    def format_field(self, value: object, format_spec: str) -> str:
        """Return one value as its specification asks."""
        if isinstance(value, Message):
            return text(value, self.edge)
        if isinstance(value, Named):
            return value.called(self.edge)
        if "|" in format_spec:
            one, _, several = format_spec.partition("|")
            return one if value == 1 else several
        if format_spec in ("T", "M", "C"):
            return figures.course(cast(float, value), format_spec)
        if format_spec in figures.NAMED:
            return figures.NAMED[format_spec](value)
        if isinstance(value, Sequence) and not isinstance(value, str):
            return (format_spec or ", ").join(self.format_field(each, "") for each in value)
        return str(super().format_field(value, format_spec))
