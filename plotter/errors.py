"""Every error this project raises on purpose, in one tree.

::

    PlotterError                 base: code, message, where it is, what to type instead
    ├── InputError               what the pilot typed or gave us is wrong
    │   ├── PositionError        a position or coordinate that cannot be
    │   ├── SeveralFaults        all that is wrong, at once
    │   │   ├── RouteError       one or more faults in a typed route
    │   │   └── PlanError        one or more faults in a plan file
    │   ├── UnknownIdentifier    no place of that identifier in the data
    │   ├── AmbiguousIdentifier  an identifier that means more than one place
    │   ├── ModelDateError       a date outside the magnetic model
    │   ├── CheckpointError      an interval that cannot be used
    │   ├── FileFault            a file of the pilot's that cannot be read
    │   └── NameFault            a name that cannot be used for a file
    └── CannotDo                 asked rightly, but it could not be done here
        ├── WriteFault           folder or disk refuses
        ├── TargetExists         a different file is already there
        ├── DataFault            tables or store missing or damaged
        └── RefreshFault         newer tables could not be had, or are not fit to be used
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from plotter.messages import Message, is_known, literal, message, text


@dataclass(frozen=True, slots=True)
class Where:
    """Where a fault is: a stretch ``[start, end)`` of the text, or a line of a file.

    ``key`` is the path to a key of a plan file, as in ``wind.2.speed_kt`` for the second wind.
    """

    text: str = ""
    start: int = 0
    end: int = 0
    file: str | None = None
    line: int | None = None
    key: str = ""

    def caret(self) -> str:
        """The text with a row of carets under the wrong part; empty where there is no text.

        >>> print(Where("KAAA KBBB", 5, 9).caret())
        KAAA KBBB
             ^^^^
        """
        if not self.text:
            return ""
        return f"{self.text}\n{' ' * self.start}{'^' * max(1, self.end - self.start)}"


class PlotterError(Exception):
    """A fault as a key of the catalogue with its values, where it is, and what to type instead.

    A text that is no key is taken as it stands: words that come from outside the catalogue.
    """

    default_code = "fault"

    def __init__(
        self,
        said: str | Message,
        *,
        code: str | None = None,
        where: Where | None = None,
        candidates: Sequence[str] = (),
        **values: object,
    ) -> None:
        if isinstance(said, str):
            known = bool(values) or is_known(said)
            said = message(said, **values) if known else literal(self.default_code, said)
        super().__init__(said)
        self.said = said
        self.code = code or (self.default_code if said.is_literal and not code else said.code)
        self.where = where
        self.candidates = tuple(candidates)

    @property
    def message(self) -> str:
        """The sentence as Python says it; an edge renders ``said`` its own way."""
        return text(self.said)

    def __str__(self) -> str:
        """Return the sentence."""
        return self.message

    def at(self, where: Where) -> PlotterError:
        """This error again, pointing at a place in the text that was typed."""
        again = self.__class__.__new__(self.__class__)
        Exception.__init__(again, self.said)
        again.__dict__.update(self.__dict__)
        again.where = where
        return again


class InputError(PlotterError):
    """What the pilot typed or gave us is wrong."""

    default_code = "input"


class PositionError(InputError):
    """A position or coordinate that cannot be."""

    default_code = "position"


class UnknownIdentifier(InputError):
    """No place of that identifier is in the data."""

    default_code = "unknown-identifier"


class AmbiguousIdentifier(InputError):
    """An identifier that means more than one place."""

    default_code = "ambiguous-identifier"


class ModelDateError(InputError):
    """A date outside the years the magnetic model is valid for."""

    default_code = "model-date"


class CheckpointError(InputError):
    """A checkpoint interval that cannot be used."""

    default_code = "checkpoints"


class FileFault(InputError):
    """A file of the pilot's that cannot be read."""

    default_code = "file"


def fault_in_file(file: str, what: Message, line: int | None = None) -> FileFault:
    """Return what is wrong with a file, with its line where one is known.

    >>> fault_in_file("trip.csv", message("file.not-utf-8"), 3).message
    'trip.csv, line 3: not UTF-8 text; save the file as UTF-8'
    """
    where = Where(file=file, line=line)
    if line is None:
        return FileFault("file", where=where, file=file, what=what)
    return FileFault("file.line", where=where, file=file, line=line, what=what)


class NameFault(InputError):
    """A name that cannot be used for a file."""

    default_code = "name"


class SeveralFaults(InputError):
    """All that is wrong with one thing, in the order it stands; speaks as its first fault."""

    def __init__(self, faults: Sequence[PlotterError]) -> None:
        first = faults[0]
        super().__init__(
            first.said, code=first.code, where=first.where, candidates=first.candidates
        )
        self.faults = tuple(faults)


class RouteError(SeveralFaults):
    """Every fault of one typed route, in the order they stand."""

    default_code = "route"


class PlanError(SeveralFaults):
    """Every fault of one plan file, line by line."""

    default_code = "plan"


class CannotDo(PlotterError):
    """Asked rightly, but it could not be done here."""

    default_code = "cannot-do"


class WriteFault(CannotDo):
    """The folder or the disk refuses."""

    default_code = "write"


class TargetExists(CannotDo):
    """A different file is already there and was not to be replaced."""

    default_code = "exists"


class DataFault(CannotDo):
    """Tables or store are missing or damaged."""

    default_code = "data"


class RefreshFault(CannotDo):
    """Newer tables could not be had, or are not fit to be used; nothing was changed."""

    default_code = "refresh"
