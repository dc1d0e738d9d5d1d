"""Places as plain values: what ``find``, ``near`` and the planning page answer."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from typing import Any

from plotter import wording
from plotter.places.model import Airport, Navaid, Town
from plotter.places.naming import Found, code_of, kind_of
from plotter.places.nearness import Near
from plotter.places.store import Store
from plotter.route.data_ages import age_cautions, table_dates


def tables_of(places: Iterable[Found]) -> tuple[str, ...]:
    """The tables whose figures a list of places shows."""
    kinds = {type(place) for place in places}
    shows = {
        "airports": Airport in kinds,
        "runways": Airport in kinds,
        "navaids": Navaid in kinds,
        "towns": Town in kinds,
    }
    return tuple(name for name, is_shown in shows.items() if is_shown)


def node(place: Found) -> dict[str, Any]:
    """A place as plain values; what is not in the data is null."""
    return {
        "kind": kind_of(place),
        "code": code_of(place) or None,
        "name": place.name,
        "country": place.country,
        "region": (place.region or None) if isinstance(place, Airport) else None,
        "latitude_deg": place.position.latitude_deg,
        "longitude_deg": place.position.longitude_deg,
        **_figures(place),
    }


def _figures(place: Found) -> dict[str, Any]:
    if isinstance(place, Town):
        return {"population": place.population}
    if isinstance(place, Navaid):
        return {"key": place.key, "beacon": place.kind, "frequency_khz": place.frequency_khz}
    return {
        "key": place.ident,
        "municipality": place.municipality,
        "elevation_ft": place.elevation_ft,
        "longest_runway_ft": place.longest_runway_ft,
    }


def standing_node(store: Store, places: Sequence[Found], today: dt.date) -> dict[str, Any]:
    """The end of every document: standing cautions, old tables, dates."""
    tables = tables_of(places)
    old = age_cautions(table_dates(store), tables, today, "today")
    return {
        "notes": [caution.text for caution in old],
        "cautions": list(wording.STANDING),
        "data": {name: {"date": table_dates(store)[name]} for name in tables},
    }


def near_node(each: Near) -> dict[str, Any]:
    """A place with its distance [NM] and the true course [°T] to it."""
    return {
        "distance_nm": each.distance_nm,
        "true_course_deg": each.true_course_deg,
        **node(each.place),
    }
