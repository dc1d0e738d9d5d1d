"""The ``plot-1`` document: a plot as plain values, key for key as it is published, unrounded."""

from __future__ import annotations

import datetime as dt
import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from plotter import wording
from plotter.earth.angles import course_360, upright_angle
from plotter.earth.geodesic import densify
from plotter.earth.units import sm_from_nm
from plotter.errors import PlotterError, SeveralFaults, Where
from plotter.formats.names import clean_name, clean_text
from plotter.messages import Edge, literal, text
from plotter.places.airports import Beside
from plotter.places.model import Airport, Frequency, Navaid, Runway, Town
from plotter.places.naming import Found, code_of, kind_of
from plotter.places.nearness import Near
from plotter.places.store import Store
from plotter.route.checkpoints import Checkpoint
from plotter.route.checks import age_cautions, table_dates
from plotter.route.parts import LegPart
from plotter.route.plotting import DataDates, Plot
from plotter.route.values import Caution, Leg, Waypoint
from plotter.wording import COMMAND, NOT_CHECKED, PLANNING_AID

SCHEMA = "plot-1"
STANDING_CAUTIONS = (
    Caution("NOTE", literal("planning-aid", PLANNING_AID)),
    Caution("NOTE", literal("pilot-in-command", COMMAND), "14 CFR 91.3, 91.103"),
    Caution("NOTE", literal("not-checked", NOT_CHECKED)),
)
Node = dict[str, Any]


def document(plot: Plot, files: Mapping[str, Path]) -> Node:
    """The document of a plot and of the files written from it.

    Courses are true [°T] or magnetic [°M] in 0 ≤ x < 360, variation is east positive, ``line``
    holds [latitude, longitude] with longitudes that run on past ±180 rather than jump, ``null`` is
    "not in the data". Names are cleaned (:func:`~plotter.formats.names.clean_name`), not escaped.
    """
    distance_nm = plot.route.distance_nm
    return {
        "schema": SCHEMA,
        "name": clean_name(plot.name),
        "date": plot.date.isoformat(),
        "line": plot.route.line,
        "distance_nm": distance_nm,
        "distance_sm": sm_from_nm(distance_nm),
        "points": [_point(point) for point in plot.route.waypoints],
        "legs": [
            _leg(leg, tuple(parts))
            for leg, (_, parts) in zip(plot.route.legs, _by_leg(plot.parts), strict=True)
        ],
        "checkpoints": [_checkpoint(checkpoint) for checkpoint in plot.checkpoints],
        "near": [_near(beside) for beside in plot.near],
        "files": {name: str(path) for name, path in files.items()},
        "cautions": [caution_node(caution) for caution in (*plot.cautions, *STANDING_CAUTIONS)],
        "data": data_node(plot.data),
    }


def to_json(document: Node) -> str:
    """A document as one line of JSON with its line end, in ASCII so that no terminal fails on it.

    Raises :class:`ValueError` rather than write a NaN, which JSON does not have (RFC 8259, 6).

    >>> to_json({"schema": "plot-1"})
    '{"schema": "plot-1"}\\n'
    """
    import json

    return json.dumps(document, allow_nan=False) + "\n"


def _point(point: Waypoint) -> Node:
    return {
        "name": clean_name(point.name),
        "text": clean_text(point.text),
        "kind": point.kind,
        "ident": point.ident,
        "latitude_deg": point.position.latitude_deg,
        "longitude_deg": point.position.longitude_deg,
        "elevation_ft": point.elevation_ft,
        "sources_apart_nm": point.sources_apart_nm,
    }


def _by_leg(parts: Iterable[LegPart]) -> Iterator[tuple[int, Iterator[LegPart]]]:
    return itertools.groupby(parts, key=lambda part: part.leg.number)


def _part(part: LegPart) -> Node:
    return {
        "name": part.name,
        "start": clean_name(part.start_name),
        "end": clean_name(part.end_name),
        "distance_nm": part.distance_nm,
        "true_course_deg": course_360(part.true_course_deg),
        "variation_deg_east": part.variation_deg_east,
        "magnetic_course_deg": part.magnetic_course_deg,
    }


def _leg(leg: Leg, parts: Sequence[LegPart]) -> Node:
    return {
        "number": leg.number,
        "start": clean_name(leg.start.name),
        "end": clean_name(leg.end.name),
        "distance_nm": leg.distance_nm,
        "distance_sm": sm_from_nm(leg.distance_nm),
        "true_course_deg": course_360(leg.true_course_deg),
        "initial_true_course_deg": course_360(leg.line.initial_true_course_deg),
        "final_true_course_deg": course_360(leg.line.final_true_course_deg),
        "variation_deg_east": leg.variation.degrees_east,
        "magnetic_course_deg": leg.magnetic_course_deg,
        "line": [[latitude, longitude] for latitude, longitude in densify(leg.line)],
        "middle": {
            "latitude_deg": leg.middle.latitude_deg,
            "longitude_deg": leg.middle.longitude_deg,
        },
        "label_angle_deg": upright_angle(leg.true_course_deg),
        "parts": [_part(part) for part in parts] if len(parts) > 1 else [],
    }


def _checkpoint(checkpoint: Checkpoint) -> Node:
    return {
        "number": checkpoint.number,
        "name": clean_name(checkpoint.name),
        "leg": checkpoint.leg_number,
        "latitude_deg": checkpoint.position.latitude_deg,
        "longitude_deg": checkpoint.position.longitude_deg,
        "distance_from_start_nm": checkpoint.distance_from_start_nm,
        "distance_to_go_nm": checkpoint.distance_to_go_nm,
    }


def _near(beside: Beside) -> Node:
    airport = beside.airport
    return {
        "ident": airport.ident,
        "name": clean_name(airport.name),
        "kind": airport.kind,
        "latitude_deg": airport.position.latitude_deg,
        "longitude_deg": airport.position.longitude_deg,
        "elevation_ft": airport.elevation_ft,
        "leg": beside.leg_number,
        "along_nm": beside.along_nm,
        "off_nm": beside.off_nm,
        "side": side(beside.off_nm, beside.beyond),
        "longest_runway_ft": airport.longest_runway_ft,
        "runways": [_runway(runway) for runway in airport.runways],
        "frequencies": [_frequency(frequency) for frequency in airport.frequencies],
    }


def side(off_nm: float, beyond: str = "") -> str:
    """Which side of the line an offset [NM, right positive] is on, or beyond which end.

    >>> side(1.2), side(-0.4), side(0.0), side(3.0, "past the destination")
    ('right', 'left', 'on the line', 'past the destination')
    """
    if off_nm == 0.0:
        return "on the line"
    if beyond:
        return beyond
    return "right" if off_nm > 0.0 else "left"


def _runway(runway: Runway) -> Node:
    return {
        "ends": [clean_name(runway.end_1), clean_name(runway.end_2)],
        "length_ft": runway.length_ft,
        "width_ft": runway.width_ft,
        "surface": clean_name(runway.surface),
        "lighted": runway.lighted,
        "closed": runway.closed,
        "headings_true_deg": [runway.heading_1_true_deg, runway.heading_2_true_deg],
    }


def _frequency(frequency: Frequency) -> Node:
    return {
        "kind": clean_name(frequency.kind),
        "description": clean_name(frequency.description),
        "frequency_mhz": frequency.frequency_mhz,
    }


def caution_node(caution: Caution) -> Node:
    """One caution as plain values."""
    return {
        "rank": caution.rank,
        "code": caution.code,
        "text": clean_text(caution.text),
        "source": clean_text(caution.source),
        "where": clean_text(caution.where),
    }


def data_node(data: DataDates) -> Node:
    """The dates of the data as plain values."""
    return {
        "airports": {"date": data.airports},
        "navaids": {"date": data.navaids},
        "magnetic_model": {
            "name": data.magnetic_model,
            "valid_to": data.magnetic_model_valid_to,
        },
    }


# Places as plain values: what ``find``, ``near`` and the planning page answer.


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
    old = age_cautions(table_dates(store), tables, today, today=True)
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


# Errors as plain values for JSON, the same at the command line and from the local page.


def fault_document(fault: PlotterError, edge: Edge = "python") -> Node:
    """Return ``{"error": {code, message, where, candidates}}``, with ``all`` for several.

    The sentences are those of the ``edge``.

    >>> fault_document(PlotterError("no", code="demo"))["error"]["code"]
    'demo'
    """
    first = _one(fault, edge)
    faults = faults_of(fault)
    if len(faults) > 1:
        first["all"] = [_one(each, edge) for each in faults]
    return {"error": first}


def faults_of(fault: PlotterError) -> tuple[PlotterError, ...]:
    """Every fault that an error reports: those of a route come all at once."""
    return fault.faults if isinstance(fault, SeveralFaults) else (fault,)


def _one(fault: PlotterError, edge: Edge) -> Node:
    return {
        "code": fault.code,
        "message": text(fault.said, edge),
        "where": _where(fault.where),
        "candidates": list(fault.candidates),
    }


def _where(where: Where | None) -> Node | None:
    if where is None:
        return None
    if where.file is not None:
        place: Node = {"file": where.file, "line": where.line}
        return place | {"key": where.key} if where.key else place
    if where.key:
        return {"key": where.key}
    return {"text": where.text, "start": where.start, "end": where.end}
