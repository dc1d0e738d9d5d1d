"""``plotter data``: which datasets stand behind the figures, and whether they are whole."""

from __future__ import annotations

import click

from plotter import wording
from plotter.cli.data_refresh import changes, refresh, restore
from plotter.cli.printing import paragraph, say, table
from plotter.datastore.check import check_store, check_tables, datasets
from plotter.errors import DataFault


@click.group(
    invoke_without_command=True,
    epilog="\b\nExamples:\n  plotter data\n  plotter data check\n  plotter data refresh",
    short_help="The datasets with their dates and counts; check and refresh them.",
)
@click.pass_context
def data(ctx: click.Context) -> None:
    """List the datasets with their dates, counts and licences."""
    if ctx.invoked_subcommand is not None:
        return
    rows = [
        [each.name, each.date, f"{each.rows:,}", each.licence, each.source] for each in datasets()
    ]
    headers = ["Dataset", "Date", "Rows", "Licence", "Source"]
    say(table(headers, rows, "llrll"))
    say("\n" + paragraph(wording.PLANNING_AID))


@data.command(epilog="\b\nExample:\n  plotter data check")
def check() -> None:
    """Compare tables and store with the register; exit 1 if anything is wrong."""
    findings = [*check_tables(), *check_store()]
    if findings:
        raise DataFault("the data is not whole:\n  " + "\n  ".join(findings))
    say("Tables and store are whole.")


for _command in (refresh, restore, changes):
    data.add_command(_command)
