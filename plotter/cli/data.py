"""``plotter data``: which datasets stand behind the figures, and whether they are whole."""

from __future__ import annotations

import click

from plotter import wording
from plotter.cli.data_layers import add, drop, listed
from plotter.cli.data_refresh import changes, refresh, restore
from plotter.cli.printing import paragraph, say, table
from plotter.datastore.check import check_store, check_tables, datasets
from plotter.datastore.layers import check_layers, damaged_layers, layers
from plotter.datastore.sets import register_in_use
from plotter.datastore.tables import PLACES
from plotter.errors import DataFault
from plotter.opening import open_date
from plotter.route.data_ages import age, age_cautions

OF_PLACES = (*PLACES, "towns")
"""The tables whose age is told; a coast drawn some years ago is where it was."""


@click.group(
    invoke_without_command=True,
    epilog="\b\nExamples:\n  plotter data\n  plotter data check\n  plotter data refresh\n"
    "  plotter data add rivers.geojson",
    short_help="The datasets with their dates and counts; check, refresh, add.",
)
@click.pass_context
def data(ctx: click.Context) -> None:
    """List the datasets with their dates, ages, counts and licences."""
    if ctx.invoked_subcommand is not None:
        return
    sets, today = datasets(), open_date(None)
    rows = [
        [each.name, each.date, age(each.date, today), f"{each.rows:,}", each.licence, each.source]
        for each in sets
    ]
    headers = ["Dataset", "Date", "Age", "Rows", "Licence", "Source"]
    say(table(headers, rows, "llrrll"))
    old = age_cautions({each.name: each.date for each in sets}, OF_PLACES, today, "today")
    notes = "\n".join(paragraph(note.text, " " * 7, "NOTE   ") for note in old)
    for more in (notes, _fetched(), listed(layers(), damaged_layers())):
        if more:
            say("\n" + more)
    say("\n" + paragraph(wording.PLANNING_AID))


def _fetched() -> str:
    """Whether the tables of places were fetched, and if they are not used, why."""
    now = register_in_use()
    if now.why_not:
        return paragraph(f"Tables that were fetched are not used: {now.why_not}.")
    since = "The tables of places were fetched; 'plotter data changes' says what changed."
    return paragraph(since) if now.name else ""


@data.command(epilog="\b\nExample:\n  plotter data check")
def check() -> None:
    """Compare tables, store and your own layers with what is noted of them; exit 1 if one fails."""
    findings = [*check_tables(), *check_store(), *check_layers()]
    if findings:
        raise DataFault("the data is not whole:\n  " + "\n  ".join(findings))
    say("Tables, store and own layers are whole.")


for _command in (refresh, restore, changes, add, drop):
    data.add_command(_command)
