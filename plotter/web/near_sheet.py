"""What lies near a place on the map, as the page shows it: in words, with what to type for each."""

from __future__ import annotations

import datetime as dt
from typing import Any

from plotter import wording
from plotter.earth.position import Position
from plotter.formats.places_document import standing_node
from plotter.maps.labels import apart, visible
from plotter.places.naming import code_of, kind_words, known_for
from plotter.places.nearness import Near, near, nearest
from plotter.places.store import Store
from plotter.route import near_words
from plotter.route.to_type import to_type
from plotter.web.asked_near import AskedNear, Sort

HEADS = ("Distance", "True", "Magnetic")
KNOWN_HEADS: dict[Sort, str] = {
    "all": "Runway, radio, people",
    "airport": "Longest runway",
    "navaid": "Radio",
    "town": "People",
}
COMPASS_WEAK = (
    "So near a magnetic pole a compass is sluggish or of no use: magnetic bearings are not to be "
    "steered by it."
)
Node = dict[str, Any]


def near_sheet(asked: AskedNear, store: Store, today: dt.date) -> Node:
    """The list of what lies near; raises InputError for a runway asked of what has none.

    Bearings are those at the place itself, the magnetic one for the day of the flight.
    """
    where = asked.where
    variation = asked.magnetism(today).at(where)
    found = near(store, where, asked.within_nm, asked.kinds, asked.runway_ft)
    listed = found.found[: asked.most]
    far = None if listed else nearest(store, where, asked.kinds, asked.runway_ft)
    shown = listed or ((far,) if far else ())
    over = near_words.heading(
        wording.position(where), asked.within_nm, len(found.found), len(listed)
    )
    places = [each.place for each in shown]
    said = near_words.notes(places, found, asked.within_nm, asked.runway_ft)
    if variation.zone:
        said.append(COMPASS_WEAK)
    standing = standing_node(store, places, today)
    return {
        "heading": over if listed else over + visible(near_words.beyond(far)),
        "heads": [*HEADS, KNOWN_HEADS[asked.kind]],
        "rows": [_row(each, where, variation.degrees_east, store) for each in shown],
        "notes": [visible(text) for text in (*said, *standing["notes"])],
        "cautions": standing["cautions"],
        "data": standing["data"],
    }


def _row(each: Near, where: Position, variation_deg_east: float, store: Store) -> Node:
    place, kind = each.place, kind_words(each.place)
    return {
        "code": visible(code_of(place) or place.name),
        "what": apart(f"{place.name}, {kind}" if code_of(place) else kind),
        "cells": [
            wording.distance(each.distance_nm),
            near_words.true_bearing(each),
            near_words.magnetic_bearing(each, variation_deg_east),
            known_for(place),
        ],
        "type": to_type(store, place),
        "called": near_words.called_after(each, where),
        "here": near_words.true_bearing(each) == near_words.HERE,
        "at": [place.position.latitude_deg, place.position.longitude_deg],
    }
