"""The addresses that ask for places and judge readings: find, near, measure."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import FastAPI, Query
from fastapi.responses import JSONResponse

from plotter.chart.asking import measure_rows
from plotter.earth.position import Position
from plotter.formats.measure_document import measure_document
from plotter.formats.places_document import near_node, standing_node
from plotter.maps import labels
from plotter.opening import open_date
from plotter.places.airports import FIXED_WING
from plotter.places.nearness import near
from plotter.route.measuring import FlightMagnetism
from plotter.route.own_points import OwnPoints
from plotter.route.route_text import read_point
from plotter.route.suggesting import Suggestion, suggest
from plotter.web import faults
from plotter.web.asked import Latitude, Longitude
from plotter.web.asked_measure import AskedMeasure
from plotter.web.asked_near import FARTHEST_ASKED_NM, AskedNear
from plotter.web.near_sheet import near_sheet
from plotter.web.own_stores import OwnStores

MOST_SUGGESTED = 20
Node = dict[str, Any]


def add_places(app: FastAPI, stores: OwnStores) -> None:
    """Add the addresses."""

    @app.get("/api/find", responses=faults.DESCRIBED)
    def find(
        text: Annotated[str, Query(max_length=80)],
        most: Annotated[int, Query(ge=1, le=MOST_SUGGESTED)] = 8,
        before: Annotated[str, Query(max_length=200)] = "",
        latitude_deg: Latitude | None = None,
        longitude_deg: Longitude | None = None,
    ) -> list[Node]:
        """Places that a text being typed may mean, by code, name or town, with what to type.

        Near a place those far from it come last; ``taken`` says how many words are replaced.
        """
        has_place = latitude_deg is not None and longitude_deg is not None
        near = Position(latitude_deg or 0.0, longitude_deg or 0.0) if has_place else None
        found = suggest(stores.mine(), text, most, near=near, before=before)
        return [_suggested(each) for each in found]

    @app.get("/api/near", responses=faults.DESCRIBED)
    def near_point(
        point: Annotated[str, Query(min_length=1, max_length=80)],
        within_nm: Annotated[float, Query(gt=0, le=FARTHEST_ASKED_NM)] = 25.0,
        runway_ft: Annotated[float | None, Query(ge=0, le=30_000)] = None,
        most: Annotated[int, Query(ge=1, le=200)] = 50,
    ) -> Node:
        """Airports near a point, nearest first; what is missing is null, never none."""
        store, today = stores.mine(), open_date(None)
        magnetism = FlightMagnetism(today, 0.0, False)
        where = read_point(point, store, OwnPoints(), magnetism.degrees_east).waypoint
        found = near(store, where.position, within_nm, FIXED_WING, runway_ft)
        listed = found.found[:most]
        return {
            "schema": "near-1",
            "point": {
                "name": labels.visible(where.name),
                "latitude_deg": where.position.latitude_deg,
                "longitude_deg": where.position.longitude_deg,
            },
            "within_nm": within_nm,
            "runway_ft": runway_ft,
            "count": len(found.found),
            "runway_length_not_in_data": found.length_unknown,
            "places": [near_node(each) for each in listed],
            **standing_node(store, [each.place for each in listed], today),
        }

    @app.get("/api/near/words", responses=faults.DESCRIBED)
    def near_in_words(asked: Annotated[AskedNear, Query()]) -> Node:
        """What lies near a place on the map, in words, with what to type in a route for each."""
        return near_sheet(asked, stores.mine(), open_date(None))

    @app.post("/api/measure", responses=faults.DESCRIBED)
    def measure(asked: AskedMeasure) -> JSONResponse:
        """The document that ``plotter measure --json`` prints."""
        measured = measure_rows(asked.rows(), stores.mine(), asked.wishes(), asked.desk())
        return JSONResponse(measure_document(measured))


def _suggested(found: Suggestion) -> Node:
    return {
        "taken": found.taken,
        "type": found.to_type,
        "said": labels.visible(found.words),
        "kind": found.kind,
        "latitude_deg": found.position.latitude_deg,
        "longitude_deg": found.position.longitude_deg,
    }
