"""``plotter new``: a complete, commented plan file to start from."""

from __future__ import annotations

from pathlib import Path

import click

from plotter.cli.printing import paragraph, say, shown
from plotter.errors import InputError
from plotter.inputs import PLAN_SUFFIX
from plotter.messages import message
from plotter.wording import STANDING_SHORT


@click.command(
    epilog="\b\nExamples:\n  plotter new sunday\n  plotter new sunday --into plans\n"
    "  plotter new --schema > plan.schema.json",
    short_help="Create a plan file with every key explained.",
)
@click.argument("name", required=False)
@click.option(
    "--into",
    type=click.Path(path_type=Path),
    default=Path(),
    metavar="DIR",
    help="Folder to write into.  [default: the current folder]",
)
@click.option("--replace", is_flag=True, help="Replace an existing plan file that differs.")
@click.option(
    "--schema",
    is_flag=True,
    help="Print the JSON Schema of plan files, for editors; write no file.",
)
def new(name: str | None, into: Path, replace: bool, schema: bool) -> None:
    """Write NAME.toml, a complete plan file to start from.

    It contains every key, optional ones as comments. Its airports are real; aircraft, wind and
    time are invented and marked as such. Replace them with your own.

    A planning aid, not an approved source of navigation: check against current charts, NOTAMs
    and a weather briefing.
    """
    if schema:
        _print_schema(name)
        return
    from plotter.exports import read_name
    from plotter.files import absolute, write_files
    from plotter.flight.plan.starter import starter

    stem = _stem(name)
    path = absolute(into) / f"{read_name(stem)}{PLAN_SUFFIX}"
    data = starter(stem).encode("utf-8")
    write_files({path: data}, replace=replace, instead=message("exists.another-plan"))
    say(f"Wrote {shown(str(path))}")
    say(
        paragraph(
            "Aircraft, wind and time in it are invented: put in your own, and take their names out "
            "of its list invented. Then: "
            f"plotter log {shown(str(into / path.name))}"
        )
    )
    for words in STANDING_SHORT:
        say(paragraph(words))


def _stem(name: str | None) -> str:
    """The name typed, without the suffix if it was typed too."""
    if name is None:
        raise InputError("name.none")
    cut = name[: -len(PLAN_SUFFIX)] if name.lower().endswith(PLAN_SUFFIX) else name
    return cut or name


def _print_schema(name: str | None) -> None:
    import json

    from plotter.flight.plan.schema import plan_schema

    if name is not None:
        raise InputError("usage.schema")
    say(json.dumps(plan_schema(), indent=2))
