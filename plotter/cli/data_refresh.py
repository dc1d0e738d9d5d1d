"""``plotter data refresh``, ``restore``, ``changes``: newer tables, the way back, what changed."""

from __future__ import annotations

import datetime as dt

import click

from plotter import wording
from plotter.cli.data_changes import summary, told
from plotter.cli.printing import complain, paragraph, say


@click.command(
    epilog="\b\nExamples:\n  plotter data refresh\n"
    "  plotter data refresh --only runways --only frequencies\n"
    "  plotter data refresh --only runways --address runways=https://example.org/runways.csv",
    short_help="Fetch newer tables of places; all of them or none.",
)
@click.option("--only", multiple=True, metavar="TABLE", help="Fetch this table; may be repeated.")
@click.option(
    "--address",
    "given",
    multiple=True,
    metavar="TABLE=ADDRESS",
    help="Fetch a table from here instead; may be repeated. https only.",
)
def refresh(only: tuple[str, ...], given: tuple[str, ...]) -> None:
    """Fetch newer airports, runways, frequencies and beacons from their makers.

    Every row is checked, positions are held against a second source, and the whole is compared
    with the tables in use. If anything is wrong nothing changes. The tables before stay: see
    'plotter data restore'.
    """
    from plotter.datastore.refresh import Asked
    from plotter.datastore.refresh import refresh as fetch

    asked = Asked(only, dict(_pair(each) for each in given))
    done = fetch(asked, dt.datetime.now(dt.UTC).date(), lambda words: complain(f"{words} ..."))
    if done.left_out:
        say(paragraph(f"Left out, because a rule is broken: {len(done.left_out)} rows."))
        say("\n".join(f"  {each}" for each in done.left_out[:10]))
    if not done.name:
        say("The tables at their addresses say what those in use say; nothing was changed.")
        return
    say(summary(done.changes))
    say("\n" + paragraph("The tables before stay; 'plotter data restore' puts them back."))
    say("\n" + paragraph(wording.PLANNING_AID))


def _pair(text: str) -> tuple[str, str]:
    name, mark, address = text.partition("=")
    if not mark:
        raise click.UsageError(f"'{text}' names no table; write --address runways=https://...")
    return name.strip(), address.strip()


@click.command(
    epilog="\b\nExamples:\n  plotter data restore\n  plotter data restore --shipped",
    short_help="Put the tables from before the last refresh back.",
)
@click.option("--shipped", is_flag=True, help="Use the tables that came with the program.")
def restore(shipped: bool) -> None:
    """Put the tables from before the last refresh in use again.

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
    short_help="What the last refresh changed, in all or at single places.",
)
@click.argument("idents", nargs=-1)
def changes(idents: tuple[str, ...]) -> None:
    """Say what the last refresh changed; with IDENTS, at those places."""
    from plotter.datastore.changes_file import changes_since_previous
    from plotter.datastore.opening import open_store
    from plotter.places.changes import Change

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
