"""Printing that never fails: any encoding, any width, a terminal or a pipe."""

from __future__ import annotations

import codecs
import os
import sys
import unicodedata
from collections.abc import Callable, Sequence
from typing import TextIO

import click

from plotter.errors import CannotDo

_PLAIN = {
    "°": "",
    "′": "'",
    "″": '"',
    "–": "-",
    "−": "-",
    "→": "->",
    "…": "...",
    "’": "'",
    "×": "x",
    "±": "+-",
}
_HANDLER = "plotter-plain"
WIDEST_NAME = 24
"""Columns a name may take in a printed table; files and ``--json`` have the whole of it."""
_WIDTH_WHEN_PIPED = 100


def _in_plain_letters(fault: UnicodeError) -> tuple[str | bytes, int]:
    """Stand-ins for what the terminal's encoding does not have: ``064T`` for ``064°T``."""
    if not isinstance(fault, UnicodeEncodeError):
        raise fault
    text = fault.object[fault.start : fault.end]
    return "".join(_plain(letter) for letter in text), fault.end


def _plain(letter: str) -> str:
    if letter in _PLAIN:
        return _PLAIN[letter]
    stripped = unicodedata.normalize("NFKD", letter).encode("ascii", "ignore").decode("ascii")
    return stripped or "?"


def forgiving_output() -> None:
    """Let standard output and error print any text in whatever encoding they have."""
    codecs.register_error(_HANDLER, _in_plain_letters)
    _fill_missing_streams()
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure:
            reconfigure(errors=_HANDLER)


def _fill_missing_streams() -> None:
    """Open the null device for each standard stream that was closed before the start.

    Its number is taken first, because the next file opened would get it, and with it whatever
    is printed.
    """
    missing = [name for name in ("stdin", "stdout", "stderr") if getattr(sys, name) is None]
    for name in missing:
        silent = os.open(os.devnull, os.O_RDONLY if name == "stdin" else os.O_WRONLY)
        setattr(sys, name, os.fdopen(silent, "r" if name == "stdin" else "w", encoding="utf-8"))


def say(text: str, end: str = "\n") -> None:
    """Print on standard output; a pipe that closes early is not an error and ends in quiet.

    Raises CannotDo where the output cannot be written, as on a full disk.
    """
    try:
        print(text, end=end, flush=True)
    except OSError as fault:
        output_lost(fault)


def output_lost(fault: OSError) -> None:
    """Print nothing more; raise CannotDo unless the reader of a pipe left, which is no error."""
    point_at_nothing(sys.stdout)
    if not isinstance(fault, BrokenPipeError):
        raise CannotDo("output", reason=os.strerror(fault.errno or 0)) from fault


def complain(text: str) -> None:
    """Print on standard error, in quiet too if nobody reads it or it cannot be written."""
    try:
        print(text, file=sys.stderr, flush=True)
    except OSError:
        point_at_nothing(sys.stderr)


def point_at_nothing(stream: TextIO) -> None:
    """Send the rest to the null device, so that no late flush of what was not read can fail."""
    nothing = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nothing, stream.fileno())
    os.close(nothing)


def table(
    headers: Sequence[str], rows: Sequence[Sequence[str]], right: str, tight: bool = False
) -> str:
    """A table as text; ``right`` has an ``r`` for each column set to the right.

    A ``tight`` one keeps a single space between columns.

    >>> print(table(["Leg", "Dist"], [["1", "37.5"], ["2", "9.3"]], "lr"))
    Leg  Dist
    ---  ----
    1    37.5
    2     9.3
    """
    if sys.stdout.isatty():
        return _rich_table(headers, rows, right, tight)
    rule = ["-" * max(_width(row[column]) for row in [headers, *rows]) for column in _each(headers)]
    lines = [headers, rule, *rows]
    gap = " " if tight else "  "
    return "\n".join(
        gap.join(
            _padded(line[column], len(rule[column]), right[column]) for column in _each(headers)
        ).rstrip()
        for line in lines
    )


def _each(headers: Sequence[str]) -> range:
    return range(len(headers))


def _width(text: str) -> int:
    """Columns a text takes on a terminal: wide letters two, combining ones none."""
    return sum(
        0 if unicodedata.combining(letter) else 1 + (unicodedata.east_asian_width(letter) in "WF")
        for letter in text
    )


def _padded(text: str, width: int, side: str) -> str:
    space = " " * (width - _width(text))
    return space + text if side == "r" else text + space


def _rich_table(
    headers: Sequence[str], rows: Sequence[Sequence[str]], right: str, tight: bool
) -> str:
    from rich import box
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    drawn = Table(
        box=None if tight else box.SIMPLE_HEAD,
        pad_edge=False,
        padding=(0, 1, 0, 0) if tight else (0, 1),
    )
    for header, side in zip(headers, right, strict=True):
        drawn.add_column(header, justify="right" if side == "r" else "left")
    for row in rows:
        drawn.add_row(*(Text(cell) for cell in row))
    console = Console()
    with console.capture() as held:
        console.print(drawn)
    return held.get().strip("\n")


def shown(text: str) -> str:
    """Text from a file or the data made safe for a terminal: no control or direction marks."""
    return "".join(
        " " if unicodedata.category(letter) in ("Cc", "Cf", "Zl", "Zp", "Cs") else letter
        for letter in text
    )


def shorter(text: str, width: int) -> str:
    """Text cut to a number of columns, with a mark where it was.

    >>> shorter("Old water tower", 10), shorter("KRST", 10)
    ('Old water…', 'KRST')
    """
    if _width(text) <= width:
        return text
    kept = text
    while _width(kept) > width - 1:
        kept = kept[:-1]
    return kept.rstrip() + "…"


def apart(texts: Sequence[str], width: int) -> list[str]:
    """Texts cut to a number of columns, those that would look alike with their last letters kept.

    >>> apart(["Old water tower", "Old water mill", "KRST"], 10)
    ['Old wate…r', 'Old wate…l', 'KRST']
    """
    cut = {text: shorter(text, width) for text in texts}
    for seen in {short for short in cut.values() if list(cut.values()).count(short) > 1}:
        alike = [text for text, short in cut.items() if short == seen]
        for tail in range(1, width - 1):
            tried = [f"{shorter(text, width - tail)}{text[-tail:]}" for text in alike]
            if len(set(tried)) == len(alike) and max(map(_width, tried)) <= width:
                cut.update(zip(alike, tried, strict=True))
                break
    return [cut[text] for text in texts]


def brief(text: str) -> str:
    """A name made safe for a terminal, no wider than a table has room for.

    >>> brief("Water tower"), brief("A name of far too many letters")
    ('Water tower', 'A name of far too many…')
    """
    return shorter(shown(text), WIDEST_NAME)


def paragraph(text: str, indent: str = "", first: str | None = None) -> str:
    """Text wrapped to the width of the terminal, 100 columns when piped."""
    from textwrap import fill

    width = min(_terminal_width(), 100)
    return fill(
        text,
        width,
        initial_indent=indent if first is None else first,
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    )


def _terminal_width() -> int:
    from shutil import get_terminal_size

    return get_terminal_size().columns if sys.stdout.isatty() else _WIDTH_WHEN_PIPED


def progress(label: str) -> Callable[[float], None]:
    """A bar on standard error that is told the fraction done; silent where nobody watches."""
    if not sys.stderr.isatty():
        return lambda fraction: None
    bar = click.progressbar(length=1000, label=label, file=sys.stderr)

    def show(fraction: float) -> None:
        bar.update(max(0, round(fraction * 1000) - bar.pos))
        if fraction >= 1.0:
            bar.render_finish()

    return show
