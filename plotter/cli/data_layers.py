"""``plotter data add`` and ``drop``: the pilot's own layers, and how they are listed."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from plotter.cli.printing import paragraph, say, table
from plotter.datastore.layers import DAMAGED
from plotter.places.own_layers import KINDS

if TYPE_CHECKING:
    from plotter.places.own_layers import OwnLayer


@click.command(
    epilog="\b\nExamples:\n  plotter data add rivers.geojson\n"
    "  plotter data add county.zip --as roads --name county-roads",
    short_help="Bring a layer of your own: rivers, railways, roads, towers ...",
)
@click.argument("path", metavar="FILE", type=click.Path(path_type=Path))
@click.option("--as", "kind", metavar="KIND", default="", help=f"One of {', '.join(KINDS)}.")
@click.option("--name", default="", help="The layer's name; else that of the file.")
@click.option("--layer", default=None, help="Which layer of a GeoPackage that holds several.")
@click.option("--replace", is_flag=True, help="Replace a layer of that name.")
def add(path: Path, kind: str, name: str, layer: str | None, replace: bool) -> None:
    """Bring a layer of your own from FILE: GeoJSON, GeoPackage, a zipped Shapefile, or CSV.

    A CSV needs columns latitude and longitude. Names and attributes are kept, positions to a
    metre. What is repaired or left out is said.
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
    short_help="Remove a layer of your own.",
)
@click.argument("name")
def drop(name: str) -> None:
    """Remove the layer NAME; the file it came from is not touched."""
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
