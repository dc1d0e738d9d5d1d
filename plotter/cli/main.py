"""The door from the command line: finds the command, runs it, turns errors into exit codes.

Exit 0 done; 1 could not be done; 2 what was typed is wrong; 130 stopped with Ctrl-C.
"""

from __future__ import annotations

import errno
import gc
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import NoReturn

import click

from plotter import __version__
from plotter.cli.faults import EXIT_INPUT, EXIT_INTERRUPTED, report, usage_report
from plotter.cli.printing import complain, forgiving_output, output_lost, point_at_nothing
from plotter.errors import PlotterError
from plotter.messages import message, text
from plotter.wording import COMMAND, NOT_CHECKED, PLANNING_AID

COMMANDS = {
    "new": ("plotter.cli.new", "new"),
    "plot": ("plotter.cli.plot", "plot"),
    "measure": ("plotter.cli.measure", "measure"),
    "rule": ("plotter.cli.rule", "rule"),
    "find": ("plotter.cli.find", "find"),
    "near": ("plotter.cli.near", "near_command"),
    "log": ("plotter.cli.log", "log"),
    "serve": ("plotter.cli.serve", "serve"),
    "airport": ("plotter.cli.airport", "airport"),
    "solve": ("plotter.cli.solve", "solve_command"),
    "data": ("plotter.cli.data", "data"),
}

HELP = f"""Plan a visual cross-country flight: plot the route, measure it, map it, export it.

{PLANNING_AID}

{COMMAND}

{NOT_CHECKED}

\b
Example: plotter plot KRST KLSE KEAU KDLH --every 10
Guide: plotter serve --open, then "Guide" at the top of the page
"""


_NOT_PRINTED = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO, errno.EBADF, errno.EPIPE)
"""What the system answers where standard output cannot be written."""


class LazyCommands(click.Group):
    """A group whose commands are imported when they are called for."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The commands in the order a flight is planned."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name, imported now; ``None`` if there is none."""
        if cmd_name not in COMMANDS:
            return None
        module, attribute = COMMANDS[cmd_name]
        command: click.Command = getattr(import_module(module), attribute)
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """As click does, but a command that is not there gets the names of those that are."""
        if args and not args[0].startswith("-") and args[0] not in COMMANDS:
            from difflib import get_close_matches

            close = get_close_matches(args[0], COMMANDS, 1)
            command = close[0] if close else "plot KRST KDLH"
            key = "usage.command-like" if close else "usage.command"
            said = message(key, typed=args[0], command=command)
            raise click.UsageError(text(said), ctx)
        return super().resolve_command(ctx, args)


@click.group(
    cls=LazyCommands,
    help=HELP,
    no_args_is_help=True,
    context_settings={"max_content_width": 100, "help_option_names": ["--help"]},
)
@click.version_option(__version__, message="plotter %(version)s")
def plotter() -> None:
    """Hold the commands."""


def run(arguments: Sequence[str]) -> int:
    """Run one command line and answer its exit code."""
    as_json = "--json" in arguments
    forgiving_output()
    try:
        _call(arguments)
    except click.exceptions.Exit as stop:
        return stop.exit_code
    except click.exceptions.NoArgsIsHelpError as fault:
        complain(fault.format_message())
        return EXIT_INPUT
    except click.UsageError as fault:
        return usage_report(fault, as_json)
    except (click.Abort, KeyboardInterrupt):
        complain("Stopped; nothing was left half-written.")
        return EXIT_INTERRUPTED
    except PlotterError as fault:
        return report(fault, as_json, towns="airport" not in arguments[:1])
    return 0


def _call(arguments: Sequence[str]) -> None:
    """Let click run the command; what click itself could not print ends as :func:`say` does."""
    try:
        plotter.main(list(arguments), prog_name="plotter", standalone_mode=False)
        sys.stdout.flush()
    except SystemExit:  # click's own end where a pipe was closed while it printed its help
        point_at_nothing(sys.stdout)
    except OSError as fault:
        if fault.errno not in _NOT_PRINTED:
            raise
        output_lost(fault)


def main() -> NoReturn:
    """Entry point of the ``plotter`` command.

    A command lives for a moment: cycles are collected a hundred times more seldom than usual,
    which spares a good part of the start.
    """
    gc.set_threshold(70_000)
    sys.exit(run(sys.argv[1:]))
