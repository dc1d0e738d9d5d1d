"""Every fault of a plan file, gathered as it is read and told together, line by line."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple, TypeVar

from plotter.errors import InputError, PlanError, PlotterError, Where
from plotter.flight.plan_rules import RULES, Path

T = TypeVar("T")
LONGEST_SHOWN = 160
"""A line longer than this is named by its number and not printed."""
_LISTS = ("flight", "winds_aloft")
"""Tables whose arrays hold plain values, not tables."""


class Fault(NamedTuple):
    """One fault: the path to its key, words, code, and where in a text of many lines."""

    path: Path
    words: str
    code: str
    candidates: tuple[str, ...] = ()
    inside: Where | None = None


@dataclass
class Faults:
    """The faults found so far in one plan file."""

    found: list[Fault] = field(default_factory=list)

    def add(self, path: Path, words: str, code: str, candidates: Sequence[str] = ()) -> None:
        """Keep one fault."""
        self.found.append(Fault(path, words, code, tuple(candidates)))

    def attempt(self, path: Path, make: Callable[[], T], keys: Iterable[str] = ()) -> T | None:
        """What ``make`` makes; where it raises InputError, ``None``, and the fault is kept.

        It is put down to the key that the error's code names, if it is one of ``keys``; else to
        ``path``.
        """
        try:
            return make()
        except InputError as fault:
            self.keep(path + ((fault.code,) if fault.code in keys else ()), fault)
            return None

    def keep(self, path: Path, fault: InputError) -> None:
        """Keep what a value said when it refused to be made."""
        self.found.append(Fault(path, fault.message, fault.code, fault.candidates, fault.where))

    def error(self, text: str, file: str) -> PlanError:
        """All of them as one error, each with its line, in the order of the lines."""
        from plotter.flight.plan_lines import line_numbers

        numbers, lines = line_numbers(text), text.rstrip().split("\n")
        told = [_told(fault, numbers, lines, file) for fault in dict.fromkeys(self.found)]
        return PlanError(sorted(told, key=_line))

    def error_by_key(self) -> PlanError:
        """All of them as one error, each with the path of its key, where there is no text."""
        return PlanError([_by_key(fault) for fault in dict.fromkeys(self.found)])


def path_words(path: Path) -> str:
    """A path as it is written in the file.

    >>> path_words(("wind", 1, "speed_kt")), path_words(("aircraft", "taxi_fuel"))
    ('[[wind]] 2, speed_kt', '[aircraft] taxi_fuel')
    >>> path_words(("aircraft", "climb_table", 0)), path_words(("flight",)), path_words(("format",))
    ('[[aircraft.climb_table]] 1', '[flight]', 'format')
    """
    row = next((k for k, step in enumerate(path) if isinstance(step, int)), None)
    if row is not None and path[0] not in _LISTS:
        table = ".".join(map(str, path[:row]))
        return ", ".join([f"[[{table}]] {int(path[row]) + 1}", *map(str, path[row + 1 :])])
    table, *keys = [str(step) for step in path if isinstance(step, str)]
    return " ".join([f"[{table}]", *keys]) if keys or table in RULES else table


def place(file: str, line: int, text: str, stretch: tuple[int, int], key: str = "") -> Where:
    """A stretch of a line of a file; the line's text goes with it where it fits on a screen."""
    shown, (start, end) = text.rstrip("\r"), stretch
    if len(shown) > LONGEST_SHOWN or not shown.isprintable() or end <= start:
        return Where(file=file, line=line, key=key)
    return Where(shown, start, end, file, line, key)


def _told(fault: Fault, numbers: Mapping[Path, int], lines: Sequence[str], file: str) -> InputError:
    """A fault as an error; what is missing altogether is told at the end, where it can be added."""
    from plotter.flight.plan_lines import line_of

    line = line_of(numbers, fault.path) or (1 if fault.path == ("format",) else len(lines))
    if fault.inside and fault.inside.line:
        line += fault.inside.line - (not lines[line - 1].rstrip().endswith(('"""', "'''")))
    stretch = _stretch(fault, lines[line - 1])
    key = _dotted(fault.path)
    return InputError(
        f"{file}, line {line}: {_sentence(fault)}",
        code=fault.code,
        where=place(file, line, lines[line - 1], stretch, key),
        candidates=fault.candidates,
    )


def _by_key(fault: Fault) -> InputError:
    where = Where(key=_dotted(fault.path))
    return InputError(_sentence(fault), code=fault.code, where=where, candidates=fault.candidates)


def _dotted(path: Path) -> str:
    return ".".join(str(step + 1 if isinstance(step, int) else step) for step in path)


def _sentence(fault: Fault) -> str:
    """The path and the words; the key is not said twice."""
    words = fault.words.removeprefix(f"{fault.path[-1]} ") if fault.path else fault.words
    joint = " " if words.startswith("is ") else ": "
    return f"{path_words(fault.path)}{joint}{words}"


def _stretch(fault: Fault, line: str) -> tuple[int, int]:
    """Which part of the line to point at: the part of a pasted text, or the key itself."""
    if fault.inside and fault.inside.text:
        shift = max(0, line.find(fault.inside.text))
        return shift + fault.inside.start, shift + fault.inside.end
    for key in (step for step in reversed(fault.path) if isinstance(step, str)):
        if (start := line.find(key)) >= 0:
            return start, start + len(key)
    return 0, 0


def _line(fault: PlotterError) -> int:
    return (fault.where.line if fault.where else None) or 0
