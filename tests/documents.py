"""Documents as they stand in the repository, and the examples in them as a reader would run them.

In a ``console`` block each line that begins with ``$ plotter`` is run, in the order of the document
and in one folder; what follows is what it prints. ``| head -N`` and ``| tail -N`` cut it. A block
after a comment ``<!-- file: NAME -->`` is that file.
"""

from __future__ import annotations

import io
import re
import shlex
from collections.abc import Iterator
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path

from plotter.cli.main import run

ROOT = Path(__file__).parent.parent
GUIDE = ROOT / "plotter" / "guide"
DOCUMENTS = (
    *("README.md", "DEVELOPERS.md", "CHANGELOG.md", "NOTICES.md"),
    *("data/README.md", "exports/README.md"),
    *sorted(path.relative_to(ROOT).as_posix() for path in GUIDE.rglob("*.md")),
)
_BLOCK = re.compile(r"(?:<!-- file: (\S+) -->\n)?^( *)```(\w+)\n(.*?)^ *```$", re.S | re.M)
_PIPE = re.compile(r" \| (head|tail) -(\d+)$")


def read(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")


def blocks(text: str, language: str) -> list[str]:
    return [found[4] for found in _BLOCK.finditer(text) if found[3] == language]


def commands(block: str) -> Iterator[list[str]]:
    """The arguments of each plotter command in a block of shell."""
    for line in block.splitlines():
        for part in line.strip().removeprefix("$ ").split(" && "):
            words = shlex.split(_PIPE.sub("", part))
            if words and words[0].rpartition("/")[2] == "plotter":
                yield words[1:]


def with_what_is_printed(text: str, folder: Path) -> str:
    """A document whose console blocks hold what their commands print now, in an empty folder."""

    def renewed(found: re.Match[str]) -> str:
        name, indent, language, body = found.groups()
        if name:
            (folder / name).write_text(body, encoding="utf-8")
        if language != "console":
            return found[0]
        typed = [line.strip() for line in body.splitlines() if line.strip().startswith("$ ")]
        lines = [line for command in typed for line in (command, *_printed(command, folder))]
        made = "\n".join(f"{indent}{line}".rstrip() for line in lines)
        return f"{indent}```console\n{made}\n{indent}```"

    return _BLOCK.sub(renewed, text)


def _printed(command: str, folder: Path) -> list[str]:
    (arguments,) = commands(command)
    out = io.StringIO()
    with redirect_stdout(out), redirect_stderr(out):
        run(arguments)
    text = out.getvalue().replace(f"{folder}/", "…/").strip("\n")
    lines = text.splitlines()
    cut = _PIPE.search(command)
    if cut is None:
        return lines
    count = int(cut[2])
    return lines[:count] if cut[1] == "head" else lines[-count:]
