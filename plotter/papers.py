"""What is printed on paper, made and put in its place as a PDF."""

from __future__ import annotations

from pathlib import Path

from plotter.atomic import absolute
from plotter.formats.names import typed_file_name
from plotter.paper.sizes import PAPERS, Paper
from plotter.placing import write_files


def save_rule(
    into: Path, name: str | None = None, paper: Paper = PAPERS["a4"], *, replace: bool = False
) -> Path:
    """Write the scale to test a plotter as ``into/name.pdf``; gives its absolute path.

    Without a name it is called after its paper. Raises NameFault, TargetExists (a different file
    is there; nothing is written then) and WriteFault.
    """
    from plotter.paper.rule import rule_pages

    stem = typed_file_name(name) if name is not None else f"rule-{paper.name}"
    target = absolute(into) / f"{stem}.pdf"
    write_files({target: rule_pages(paper)}, replace=replace)
    return target
