"""Which keys of a plan file must be there, and which go together, table by table.

The rules look at names alone, never at values, so that they hold for a file however wrong the rest
of it is.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import NamedTuple

from plotter.flight.plan.keys import TABLE_KEYS, TOGETHER
from plotter.flight.plan.names import KeyName, keys_in
from plotter.messages import Message, message

_Names = Collection[str]


class Missing(NamedTuple):
    """What is wrong with the names in a table: the key it is about, and the message."""

    key: str
    said: Message


class Needed(NamedTuple):
    """A required key with an example of its value; ``instead`` are keys that replace it.

    ``says`` is the sentence of its own that the catalogue has for it.
    """

    key: str
    example: str
    instead: tuple[str, ...] = ()
    says: str = ""

    def check(self, table: str, names: _Names) -> Iterator[Missing]:
        """Yield the key if neither it nor a replacement is there."""
        if {self.key, *self.instead} & set(names):
            return
        usual = "missing-key.instead" if self.instead else "missing-key"
        yield Missing(
            self.key,
            message(
                self.says or usual,
                name=self.key,
                key=self.key,
                example=self.example,
                instead=tuple(KeyName(table, key) for key in self.instead),
            ),
        )


class NotBoth(NamedTuple):
    """Keys that say the same thing twice; at most one may be there."""

    keys: tuple[str, ...]

    def check(self, table: str, names: _Names) -> Iterator[Missing]:
        """Yield every one after the first."""
        there = [key for key in self.keys if key in names]
        for key in there[1:]:
            yield Missing(key, message("keys-exclude", name=key, other=KeyName(table, there[0])))


class Together(NamedTuple):
    """Parts of one thing, each a key or a choice of keys; with one of them, all must be there."""

    parts: tuple[tuple[str, ...], ...]

    def check(self, table: str, names: _Names) -> Iterator[Missing]:
        """Yield the first key that is there if a part is not."""
        there = [key for part in self.parts for key in part if key in names]
        lacking = [part for part in self.parts if not set(part) & set(names)]
        if there and lacking:
            choices = tuple(
                message("missing-key.choice", keys=tuple(KeyName(table, key) for key in part))
                for part in lacking
            )
            yield Missing(
                there[0],
                message("missing-key.together", name=there[0], lacking=choices, count=len(choices)),
            )


class Asks(NamedTuple):
    """A key that is of no use without another, and the sentence that says so."""

    key: str
    for_key: str
    says: str

    def check(self, table: str, names: _Names) -> Iterator[Missing]:
        """Yield the key if its companion is not there."""
        if self.key in names and self.for_key not in names:
            other = KeyName(table, self.for_key)
            yield Missing(self.key, message(self.says, name=self.key, other=other))


Rule = Needed | NotBoth | Together | Asks


def _rules(table: str) -> Iterator[Rule]:
    """Yield what the table of keys asks of the names in one of its tables."""
    keys = keys_in(table)
    for name, key in keys.items():
        if key.needed is not None:
            yield Needed(name, key.needed, key.instead, key.says)
    for name, key in keys.items():
        yield from (NotBoth((other, name)) for other in key.not_with)
    yield from (Together(parts) for parts in TOGETHER.get(table, ()))
    for name, key in keys.items():
        if key.asks:
            yield Asks(name, key.asks, key.says)


RULES: Mapping[str, tuple[Rule, ...]] = {
    **{table: tuple(_rules(table)) for table in TABLE_KEYS},
    "quiet": (),
}


def broken(table: str, names: _Names) -> Iterator[Missing]:
    """Yield every rule of a table that the names in it break.

    >>> [missing.said.key for missing in broken("leg", ["number", "wind_speed_kt"])]
    ['missing-key.together']
    """
    for rule in RULES.get(table, ()):
        yield from rule.check(table, names)
