"""Kinds of option values that say in plain words what to type."""

from __future__ import annotations

from pathlib import Path

import click

from plotter.formats.records import number_of


class Figure(click.ParamType[float]):
    """A number in a unit; ``example`` is what is shown when it is none."""

    name = "figure"

    def __init__(self, unit: str, example: str) -> None:
        self._unit = unit
        self._example = example

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        """The number typed; refused with what to type where it is none."""
        try:
            return number_of(str(value))
        except ValueError:
            option = param.opts[0] if param else "it"
            self.fail(
                f"'{value}' is not a number of {self._unit}; "
                f"write figures alone, as in {option} {self._example}",
                param,
                ctx,
            )


class Folder(click.ParamType[Path]):
    """A folder to write into, there already or not; an empty word is none."""

    name = "folder"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> Path:
        """The folder typed; refused where nothing was, which would mean the current one."""
        if not str(value).strip():
            option = param.opts[0] if param else "it"
            self.fail(
                f"an empty name is no folder; write {option} exports, "
                f"or {option} . for the folder you are in",
                param,
                ctx,
            )
        return Path(str(value))
