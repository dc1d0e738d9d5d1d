"""``plotter airport``: what the datasets know of one place."""

from __future__ import annotations

import json
import shlex
from typing import Any

import click

from plotter import wording
from plotter.cli.printing import brief, paragraph, progress, say, shorter, shown, table
from plotter.datastore.opening import open_store
from plotter.errors import InputError, UnknownIdentifier, Where
from plotter.inputs import open_date
from plotter.messages import text
from plotter.places.lookup import Found, resolve
from plotter.places.model import Airport, Frequency, Navaid, Runway
from plotter.places.naming import frequency
from plotter.places.store import Store
from plotter.places.twins import twins_of
from plotter.route.checks import age_cautions, table_dates
from plotter.route.reading.points import may_be_coordinate
from plotter.route.values import Caution


@click.command(
    epilog="\b\nExamples:\n  plotter airport KRST\n  plotter airport navaid:ODI",
    short_help="Show position, runways, frequencies of an airport or navaid.",
)
@click.argument("ident")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document only.")
def airport(ident: str, as_json: bool) -> None:
    """Show the data of the airport or navaid IDENT.

    What is missing is "not in the data", never "none". Check against the Chart Supplement.
    """
    store = open_store(progress("Building the table of places (once)"))
    try:
        found = resolve(store, ident, None)
    except UnknownIdentifier as fault:
        _refuse_position(ident)
        raise fault.at(Where(ident, 0, len(ident))) from None
    if as_json:
        say(json.dumps(_document(found, store), ensure_ascii=True, indent=2))
        return
    place = found.place
    blocks = _airport(place) if isinstance(place, Airport) else _navaid(place)
    say("\n\n".join([*blocks, *_foot(found, store)]))


def _refuse_position(ident: str) -> None:
    """A position has no runways: what lies there is asked of another command."""
    if may_be_coordinate(ident):
        typed = shlex.quote(ident[:60])
        raise InputError("position.no-place", text=ident[:60], command=f"plotter near {typed}")


def _airport(place: Airport) -> list[str]:
    town = ", ".join(part for part in (place.municipality, place.region, place.country) if part)
    heading = f"{' / '.join(place.codes)}  {shown(place.name)}\n{shown(town)}"
    facts = [
        ("Kind", place.kind.replace("_", " ") + (" (CLOSED)" if place.closed else "")),
        ("Position", wording.position(place.position)),
        ("Elevation", _feet(place.elevation_ft)),
        ("Time zone", _time_zone(place)),
        ("Sources apart", _apart(place)),
        ("Position from", place.position_rule),
    ]
    return [heading, _facts(facts), _runways(place.runways), _frequencies(place.frequencies)]


def _time_zone(place: Airport) -> str:
    assumed = " (assumed: that of the airports around it)" if place.time_zone_assumed else ""
    return (place.time_zone or wording.NOT_IN_DATA) + assumed


def _apart(place: Airport) -> str:
    if place.sources_apart_nm is None:
        return "not compared"
    return f"{place.sources_apart_nm:.2f} NM"


def _feet(height_ft: float | None) -> str:
    return wording.NOT_IN_DATA if height_ft is None else wording.altitude(height_ft)


def _facts(facts: list[tuple[str, str]]) -> str:
    return "\n".join(f"{name + ':':<15} {shown(text)}" for name, text in facts)


def _runways(runways: tuple[Runway, ...]) -> str:
    if not runways:
        return f"Runways: {wording.NOT_IN_DATA}"
    headers = ["Runway", "Length", "Width", "Surface", "Headings", "Lights", ""]
    rows = [
        [
            "/".join(end for end in (runway.end_1, runway.end_2) if end),
            _feet(runway.length_ft),
            _feet(runway.width_ft),
            brief(runway.surface) or wording.NOT_IN_DATA,
            _headings(runway),
            "yes" if runway.lighted else "not said",
            "CLOSED" if runway.closed else "",
        ]
        for runway in runways
    ]
    return table(headers, rows, "lrrllll")


def _headings(runway: Runway) -> str:
    ends = (runway.heading_1_true_deg, runway.heading_2_true_deg)
    known = [wording.course(heading, "T") for heading in ends if heading is not None]
    return " ".join(known) or wording.NOT_IN_DATA


def _frequencies(frequencies: tuple[Frequency, ...]) -> str:
    if not frequencies:
        return f"Frequencies: {wording.NOT_IN_DATA}"
    rows = [
        [brief(each.kind), f"{each.frequency_mhz:.3f}", shorter(shown(each.description), 40)]
        for each in frequencies
    ]
    return table(["Radio", "MHz", "Name"], rows, "lrl")


def _navaid(place: Navaid) -> list[str]:
    declination = place.station_declination_deg_east
    facts = [
        ("Kind", place.kind),
        ("Frequency", frequency(place.frequency_khz)),
        ("Position", wording.position(place.position)),
        ("Elevation", _feet(place.elevation_ft)),
        (
            "Set to",
            wording.NOT_IN_DATA if declination is None else wording.variation(declination),
        ),
    ]
    return [f"{place.ident}  {shown(place.name)}\n{place.country}", _facts(facts)]


def _foot(found: Found, store: Store) -> list[str]:
    register = store.register
    dates = (
        f"Airports of {register['airports']['date']}, runways of {register['runways']['date']}, "
        f"frequencies of {register['frequencies']['date']}, navaids of "
        f"{register['navaids']['date']}."
    )
    notes = [found.settled_by] if found.settled_by else []
    notes += [caution.said for caution in _cautions(found, store)]
    marked = [paragraph(shown(text(note, "console")), " " * 7, "NOTE   ") for note in notes]
    return ["\n".join([*marked, *(paragraph(text) for text in (*wording.STANDING_SHORT, dates))])]


def _cautions(found: Found, store: Store) -> list[Caution]:
    """What the place's figures rest on that is old, or may be there twice."""
    place = found.place
    tables = ["airports", "runways"] if isinstance(place, Airport) else ["navaids"]
    if isinstance(place, Airport) and place.frequencies:
        tables.append("frequencies")
    twins = twins_of(store, place) if isinstance(place, Airport) else ()
    return [
        *(Caution("NOTE", pair.said) for pair in twins),
        *age_cautions(table_dates(store), tables, open_date(None), today=True),
    ]


def _document(found: Found, store: Store) -> dict[str, Any]:
    from dataclasses import asdict

    place = found.place
    fields = asdict(place)
    fields |= fields.pop("position")
    return {
        "schema": "place-1",
        "kind_of_place": "airport" if isinstance(place, Airport) else "navaid",
        **fields,
        "time_zone_assumed": isinstance(place, Airport) and place.time_zone_assumed,
        "settled_by": text(found.settled_by) if found.settled_by else "",
        "notes": [caution.text for caution in _cautions(found, store)],
        "cautions": list(wording.STANDING),
        "data": {
            name: {"date": entry["date"]}
            for name, entry in store.register.items()
            if name in ("airports", "runways", "frequencies", "navaids")
        },
    }
