"""``plotter near``: what lies near a point, exact on the ellipsoid."""

from __future__ import annotations

import datetime as dt
import json
from pathlib import Path
from typing import Any, NamedTuple

import click

from plotter import wording
from plotter.cli.parameters import Figure
from plotter.cli.places_report import foot, kinds_option, read_kinds
from plotter.cli.plot import RouteCommand
from plotter.cli.printing import progress, say, shown, table
from plotter.datastore.opening import open_store
from plotter.formats.document import near_node, standing_node
from plotter.inputs import open_date, open_points
from plotter.messages import Message, text
from plotter.places.naming import Found, code_of, kind_words, known_for, region_of
from plotter.places.nearness import Near, Nearby, near, nearest
from plotter.places.store import Store
from plotter.route import suggesting
from plotter.route.measuring import FlightMagnetism
from plotter.route.reading.text import read_point
from plotter.route.values import Waypoint

MOST = 30


class _Answer(NamedTuple):
    """The point that was meant, what lies near it, and the nearest beyond where nothing does."""

    point: Waypoint
    kinds: tuple[str, ...]
    nearby: Nearby
    listed: tuple[Near, ...]
    beyond: Near | None


class _Asked(NamedTuple):
    """One question, as click hands it over."""

    points: tuple[str, ...]
    within: float
    kinds: str
    runway: float | None
    most: int
    date: str | None
    own_points: tuple[Path, ...]
    as_json: bool


class NearCommand(RouteCommand):
    """As the command that plots: a point may start with a minus."""

    def format_epilog(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Examples."""
        formatter.write(
            "\nExamples:\n  plotter near KRST --within 30\n"
            "  plotter near 43.95,-92.41 --within 50 --runway 3000\n"
            "  plotter near 43 54.5 N 092 30.0 W --kind navaid,town --json\n"
        )


@click.command(
    cls=NearCommand,
    context_settings={"ignore_unknown_options": True},
    short_help="List airports, navaids and towns near a point.",
)
@click.argument("points", nargs=-1, metavar="POINT")
@click.option(
    "--within",
    type=Figure("NM", "30"),
    default=25.0,
    show_default=True,
    metavar="NM",
    help="Search radius.",
)
@kinds_option("airport")
@click.option(
    "--runway",
    type=Figure("feet", "3000"),
    metavar="FT",
    help="Only airports with an open runway of at least this length in the data.",
)
@click.option(
    "--most",
    type=click.IntRange(1),
    default=MOST,
    show_default=True,
    help="Number of places to list.",
)
@click.option(
    "--date",
    metavar="YYYY-MM-DD",
    help="Date for magnetic bearings, as in ODI090020.  [default: today]",
)
@click.option(
    "--points",
    "own_points",
    multiple=True,
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Your own points, CSV or GeoJSON, to use by name; may be repeated.",
)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document only.")
def near_command(**given: object) -> None:
    """List places near POINT, nearest first, with distance and true course (TC).

    POINT is anything a route takes: an identifier, a position, a bearing and distance, one of
    your own points. Distances are on the ellipsoid. "Not in the data" never means "none": a field
    may have a longer runway than the one listed, or have closed since.

    A planning aid, not an approved source of navigation: check against current charts and NOTAMs.
    """
    asked = _Asked(**given)  # type: ignore[arg-type]
    kinds, today = read_kinds(asked.kinds), open_date(None)
    own, magnetism = (
        open_points(asked.own_points),
        FlightMagnetism(open_date(asked.date), 0.0, False),
    )
    store = open_store(progress("Building the table of places (once)"))
    point = read_point(asked.points, store, own, magnetism.degrees_east).waypoint
    found = near(store, point.position, asked.within, kinds, asked.runway)
    beyond = None if found.found else nearest(store, point.position, kinds, asked.runway)
    answer = _Answer(point, kinds, found, found.found[: asked.most], beyond)
    if asked.as_json:
        say(json.dumps(_document(asked, answer, store, today), ensure_ascii=True, indent=2))
    else:
        say(_report(asked, answer, store, today))


def _report(asked: _Asked, answer: _Answer, store: Store, today: dt.date) -> str:
    point, count = answer.point, len(answer.nearby.found)
    where = f"{shown(point.name)} ({wording.position(point.position)})"
    over = text(
        suggesting.heading(where, asked.within, count, len(answer.listed), answer.beyond), "console"
    )
    blocks = [shown(over), *([_table(answer.listed)] if answer.listed else [])]
    return "\n\n".join([*blocks, foot(store, _places(answer), today, _notes(asked, answer))])


def _places(answer: _Answer) -> list[Found]:
    """The places whose figures are shown."""
    beyond = (answer.beyond,) if answer.beyond else ()
    return [each.place for each in (*answer.listed, *beyond)]


def _table(listed: tuple[Near, ...]) -> str:
    headers = ["NM", "TC", "Code", "Name", "Kind", "Where", "Runway, radio, people"]
    rows = [
        [
            f"{each.distance_nm:.1f}",
            suggesting.true_bearing(each),
            code_of(each.place),
            shown(each.place.name),
            kind_words(each.place),
            region_of(each.place),
            known_for(each.place),
        ]
        for each in listed
    ]
    return table(headers, rows, "rrllllr")


def _notes(asked: _Asked, answer: _Answer) -> list[Message]:
    return suggesting.notes(_places(answer), answer.nearby, asked.within, asked.runway)


def _document(asked: _Asked, answer: _Answer, store: Store, today: dt.date) -> dict[str, Any]:
    point = answer.point
    end = standing_node(store, _places(answer), today)
    end["notes"] = [*map(text, _notes(asked, answer)), *end["notes"]]
    return {
        "schema": "near-1",
        "point": {
            "name": point.name,
            "latitude_deg": point.position.latitude_deg,
            "longitude_deg": point.position.longitude_deg,
        },
        "within_nm": asked.within,
        "kinds": list(answer.kinds),
        "runway_ft": asked.runway,
        "count": len(answer.nearby.found),
        "runway_length_not_in_data": answer.nearby.length_unknown,
        "places": [near_node(each) for each in answer.listed],
        "nearest_beyond": near_node(answer.beyond) if answer.beyond else None,
        **end,
    }
