"""``plotter data``: which datasets stand behind the figures, and whether they are whole."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from plotter import wording
from plotter.cli.printing import complain, paragraph, say, table
from plotter.datastore.check import check_store, check_tables, datasets
from plotter.datastore.layers import DAMAGED, check_layers, damaged_layers, layers
from plotter.datastore.sets import register_in_use
from plotter.datastore.tables import PLACES
from plotter.errors import DataFault
from plotter.inputs import open_date
from plotter.messages import message, text
from plotter.messages.figures import age
from plotter.places.model import KINDS, Change, Changes, What
from plotter.route.checks import age_cautions, age_days

if TYPE_CHECKING:
    from plotter.places.model import OwnLayer

# What changed between two sets of tables, in words.

FARTHEST = 5
"""Places named that moved farthest."""
FAR_NM = 1.0


def summary(changes: Changes) -> str:
    """The dates of what was renewed, how many changes of each kind, and what moved farthest."""
    rows = [[name, before, after] for name, (before, after) in changes.dates.items()]
    parts = [table(["Table", "Before", "Now"], rows, "lll")]
    counts = [[what.value, f"{count:,}"] for what, count in changes.counts().items()]
    parts.append(table(["Changed", "Places"], counts, "lr") if counts else "No place changed.")
    if moved := changes.farthest():
        far = sum(change.moved_nm >= FAR_NM for change in moved)
        parts.append(f"Moved by {FAR_NM:g} NM or more: {far:,}. The farthest:")
        parts[-1] += "".join(f"\n  {c.key}: {c.moved_nm:.1f} NM" for c in moved[:FARTHEST])
    return "\n\n".join(parts)


def told(change: Change) -> str:
    """One change in words.

    >>> told(Change("KAAA", What.MOVED, "44 -92", "44.1 -92", 6.0))
    'moved 6.0 NM: 44 -92 -> 44.1 -92'
    """
    parts: Sequence[str] = [part or "not in the data" for part in (change.before, change.after)]
    figure = f" {change.moved_nm:.1f} NM" if change.what is What.MOVED else ""
    return f"{change.what.value}{figure}: {' -> '.join(parts)}"


# ``plotter data add`` and ``drop``: the pilot's own layers, and how they are listed.


@click.command(
    epilog="\b\nExamples:\n  plotter data add rivers.geojson\n"
    "  plotter data add county.zip --as roads --name county-roads",
    short_help="Add your own map layer: rivers, railways, roads, towers ...",
)
@click.argument("path", metavar="FILE", type=click.Path(path_type=Path))
@click.option("--as", "kind", metavar="KIND", default="", help=f"One of {', '.join(KINDS)}.")
@click.option("--name", default="", help="Name of the layer.  [default: name of the file]")
@click.option("--layer", default=None, help="Layer of a GeoPackage that has several.")
@click.option("--replace", is_flag=True, help="Replace an existing layer.")
def add(path: Path, kind: str, name: str, layer: str | None, replace: bool) -> None:
    """Add your own map layer from FILE: GeoJSON, GeoPackage, a zipped Shapefile, or CSV.

    A CSV needs columns latitude and longitude. Names and attributes are kept, positions to one
    meter. The command reports what it repaired or left out.
    """
    from plotter.datastore.layer_files import Wanted
    from plotter.datastore.layers import add as bring

    made = bring(Wanted(path, kind, name, layer, replace), _today())
    count = f"{made.features:,} feature{'' if made.features == 1 else 's'}"
    say(f"{made.name}: {count} as {made.kind}, from a file of {made.file_date}.")
    for note in made.notes:
        say(paragraph(f"- {note}"))
    say("\n" + paragraph(NOT_CHECKED))


@click.command(
    epilog="\b\nExample:\n  plotter data drop county-roads",
    short_help="Remove one of your own layers.",
)
@click.argument("name")
def drop(name: str) -> None:
    """Remove the layer NAME; its source file stays."""
    from plotter.datastore.layers import drop as remove

    remove(name)
    say(f"The layer {name} is gone.")


NOT_CHECKED = (
    "Your own layers are drawn as they are given: nobody has checked where they lie, or what is "
    "missing from them."
)


def listed(found: Sequence[OwnLayer], damaged: Sequence[str] = ()) -> str:
    """Your own layers with their age, and those that are damaged; empty where there are none."""
    lines = [paragraph(f"Own layer {name} {DAMAGED.format(name)}.") for name in damaged]
    return "\n\n".join([*([_table(found)] if found else []), *lines])


def _table(found: Sequence[OwnLayer]) -> str:
    today = _today().isoformat()
    rows = [
        [each.name, each.kind, f"{each.features:,}", each.file_date, _age(each.age_days(today))]
        for each in found
    ]
    headers = ["Own layer", "Kind", "Features", "File of", "Age"]
    return table(headers, rows, "llrlr") + "\n\n" + paragraph(NOT_CHECKED)


def _age(days: int) -> str:
    """An age as it is said.

    >>> _age(1), _age(40), _age(800)
    ('1 day', '40 days', '26 months')
    """
    if days <= 60:
        return "1 day" if days == 1 else f"{days} days"
    return f"{int(days / 30.44)} months"


def _today() -> dt.date:
    return dt.datetime.now(dt.UTC).date()


# ``plotter data refresh``, ``restore``, ``changes``: newer tables, the way back, what changed.


@click.command(
    epilog="\b\nExamples:\n  plotter data refresh\n"
    "  plotter data refresh --only runways --only frequencies\n"
    "  plotter data refresh --only runways --address runways=https://example.org/runways.csv",
    short_help="Download newer tables of places.",
)
@click.option(
    "--only", multiple=True, metavar="TABLE", help="Download only this table; may be repeated."
)
@click.option(
    "--address",
    "given",
    multiple=True,
    metavar="TABLE=ADDRESS",
    help="Download a table from this https address instead; may be repeated.",
)
def refresh(only: tuple[str, ...], given: tuple[str, ...]) -> None:
    """Download newer airports, runways, frequencies and beacons from their publishers.

    Every row is checked, positions are compared with a second source, and all of it is compared
    with the tables in use. If anything is wrong, nothing changes. The previous tables are kept:
    see 'plotter data restore'.
    """
    from plotter.datastore.refresh import Asked
    from plotter.datastore.refresh import refresh as fetch

    asked = Asked(only, dict(_pair(each) for each in given))
    done = fetch(asked, dt.datetime.now(dt.UTC).date(), lambda words: complain(f"{words} ..."))
    if done.left_out:
        say(paragraph(f"Left out, because a rule is broken: {len(done.left_out)} rows."))
        say("\n".join(f"  {each}" for each in done.left_out[:10]))
    if not done.name:
        say("The tables are already up to date.")
        return
    say(summary(done.changes))
    say("\n" + paragraph("The previous tables are kept; 'plotter data restore' restores them."))
    say("\n" + paragraph(wording.PLANNING_AID))


def _pair(typed: str) -> tuple[str, str]:
    name, mark, address = typed.partition("=")
    if not mark:
        raise click.UsageError(text(message("usage.address", text=typed)))
    return name.strip(), address.strip()


@click.command(
    epilog="\b\nExamples:\n  plotter data restore\n  plotter data restore --shipped",
    short_help="Restore the tables from before the last refresh.",
)
@click.option("--shipped", is_flag=True, help="Restore the tables shipped with the program.")
def restore(shipped: bool) -> None:
    """Restore the tables from before the last refresh.

    Once more, and the newer ones are back.
    """
    from plotter.datastore.sets import register_in_use
    from plotter.datastore.sets import restore as put_back

    put_back(shipped)
    now = register_in_use()
    dates = ", ".join(
        f"{name} of {now.register[name]['date']}"
        for name in ("airports", "runways", "frequencies", "navaids")
    )
    say(paragraph(f"In use now: {dates} ({'fetched' if now.name else 'from the package'})."))
    if now.why_not:
        say(paragraph(f"The fetched tables are not used: {now.why_not}."))


@click.command(
    epilog="\b\nExamples:\n  plotter data changes\n  plotter data changes KRST KDLH",
    short_help="Show what the last refresh changed.",
)
@click.argument("idents", nargs=-1)
def changes(idents: tuple[str, ...]) -> None:
    """Show what the last refresh changed, or only at the places IDENTS."""
    from plotter.datastore.opening import open_store
    from plotter.datastore.sets import changes_since_previous

    with open_store() as store:
        if not idents:
            found = changes_since_previous(store)
            say(summary(found) if found.dates else "No tables were fetched yet.")
            return
        found = changes_since_previous(store)
        for ident in idents:
            places = [match.place for match in store.by_code(ident)]
            keys = {getattr(place, "key", "") or getattr(place, "ident", "") for place in places}
            at: list[Change] = [c for key in sorted(keys | {ident.upper()}) for c in found.of(key)]
            lines = [f"  {told(change)}" for change in at] or ["  no change is known"]
            say("\n".join([ident.upper(), *dict.fromkeys(lines)]))


OF_PLACES = (*PLACES, "towns")
"""The tables whose age is told; a coast drawn some years ago is where it was."""


@click.group(
    invoke_without_command=True,
    epilog="\b\nExamples:\n  plotter data\n  plotter data check\n  plotter data refresh\n"
    "  plotter data add rivers.geojson",
    short_help="Show the datasets; check, refresh, add.",
)
@click.pass_context
def data(ctx: click.Context) -> None:
    """List the datasets with their dates, ages, counts and licences."""
    if ctx.invoked_subcommand is not None:
        return
    sets, today = datasets(), open_date(None)
    rows = [
        [
            each.name,
            each.date,
            age(age_days(each.date, today)),
            f"{each.rows:,}",
            each.licence,
            each.source,
        ]
        for each in sets
    ]
    headers = ["Dataset", "Date", "Age", "Rows", "Licence", "Source"]
    say(table(headers, rows, "llrrll"))
    old = age_cautions({each.name: each.date for each in sets}, OF_PLACES, today, today=True)
    notes = "\n".join(paragraph(text(note.said, "console"), " " * 7, "NOTE   ") for note in old)
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
        raise DataFault("data.damaged", findings=tuple(findings))
    say("Tables, store and own layers are whole.")


for _command in (refresh, restore, changes, add, drop):
    data.add_command(_command)
