"""``plotter find``: places by name, town or identifier, misspelt or not."""

from __future__ import annotations

import json
from typing import Any, NamedTuple

import click

from plotter.cli.places_report import foot, kinds_option, read_kinds
from plotter.cli.printing import progress, say, shown, table
from plotter.datastore.opening import open_store
from plotter.formats.document import node, standing_node
from plotter.inputs import open_date
from plotter.messages import Message, text
from plotter.places.model import Airport
from plotter.places.naming import kind_words, known_for, region_of
from plotter.places.search import MOST, Hit, search
from plotter.places.store import Store
from plotter.places.twins import twins_among
from plotter.route.suggesting import to_type


class _Asked(NamedTuple):
    """One question, as click hands it over."""

    text: tuple[str, ...]
    countries: tuple[str, ...]
    kinds: str
    most: int
    as_json: bool

    @property
    def words(self) -> str:
        return " ".join(self.text)


@click.command(
    epilog="\b\nExamples:\n  plotter find la crosse\n  plotter find rochestr --country US\n"
    "  plotter find ODI --kind navaid --json",
    short_help="Find places by name, town or identifier, even misspelled.",
)
@click.argument("text", nargs=-1, required=True, metavar="TEXT")
@click.option(
    "--country",
    "countries",
    multiple=True,
    metavar="CC",
    help="Only this country (two letters, ISO 3166); may be repeated.",
)
@kinds_option("all")
@click.option(
    "--most",
    type=click.IntRange(1),
    default=MOST,
    show_default=True,
    help="Number of places to list.",
)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document only.")
def find(**given: object) -> None:
    """List the places TEXT may mean, likeliest first, with what to type for each.

    First come places whose identifier is TEXT; then those whose name or town is TEXT (of a large
    airport, a word of its name); then those whose identifier, name or town begins so or has that
    word; then those with words that begin like each word of TEXT; and where all this finds fewer
    than three, those one or two slips away. Among equals large airports, medium ones, cities,
    larger towns, small airports, navaids, and then the rest. Villages named TEXT follow large and
    medium airports whose name or town begins with TEXT.
    """
    asked = _Asked(**given)  # type: ignore[arg-type]
    store = open_store(
        progress("Building the table of places (once)"),
        search_progress=progress("Building the index of names (once)"),
    )
    kinds = read_kinds(asked.kinds)
    hits = search(store, asked.words, asked.most, asked.countries, kinds)
    if asked.as_json:
        say(json.dumps(_document(asked, hits, store), ensure_ascii=True, indent=2))
    else:
        say(_report(asked, hits, store))


def _report(asked: _Asked, hits: tuple[Hit, ...], store: Store) -> str:
    places = [hit.place for hit in hits]
    end = foot(store, places, open_date(None), _notes(hits))
    if not hits:
        return f"'{shown(asked.words)}' is not in the data, nor is anything like it.\n\n{end}"
    return f"{_table(hits, store)}\n\n{end}"


def _table(hits: tuple[Hit, ...], store: Store) -> str:
    headers = ["Type", "Name", "Kind", "Where", "Runway, radio, people", "Found by"]
    rows = [
        [
            shown(to_type(store, hit.place)),
            shown(hit.place.name),
            kind_words(hit.place),
            _where(hit),
            known_for(hit.place),
            hit.matched,
        ]
        for hit in hits
    ]
    return table(headers, rows, "llllrl")


def _where(hit: Hit) -> str:
    place = hit.place
    town = place.municipality if isinstance(place, Airport) else ""
    return shown(", ".join(part for part in (town, region_of(place)) if part))


def _notes(hits: tuple[Hit, ...]) -> list[Message]:
    airports = [hit.place for hit in hits if isinstance(hit.place, Airport)]
    return [pair.said for pair in twins_among(airports)]


def _document(asked: _Asked, hits: tuple[Hit, ...], store: Store) -> dict[str, Any]:
    end = standing_node(store, [hit.place for hit in hits], open_date(None))
    end["notes"] = [*map(text, _notes(hits)), *end["notes"]]
    places = [
        {"to_type": to_type(store, hit.place), "found_by": hit.matched, **node(hit.place)}
        for hit in hits
    ]
    return {"schema": "find-1", "text": asked.words, "places": places, **end}
