"""The ``measure-1`` document: which mistake explains a set of readings, as plain values."""

from __future__ import annotations

from typing import Any

from plotter.chart.agreement import Compared
from plotter.chart.asking import Measured
from plotter.chart.measurement import Answer, Judgement
from plotter.chart.readings import MeasuredLeg
from plotter.formats.document import STANDING_CAUTIONS
from plotter.formats.names import clean_name, clean_text
from plotter.route.plotting import DataDates
from plotter.route.values import Caution

SCHEMA = "measure-1"
Node = dict[str, Any]


def judgement_document(judgement: Judgement) -> Node:
    """A judgement by itself, key for key as published, unrounded, best explanation first.

    ``distance`` or ``course`` is ``null`` where no such reading was given. In ``fitted`` what the
    readings do not determine is ``null``.
    """
    return {
        "schema": SCHEMA,
        "legs": [
            _leg(leg, residual_mm) | _agreement(distance, course)
            for leg, residual_mm, distance, course in zip(
                judgement.legs,
                judgement.residual_mm,
                judgement.distances,
                judgement.courses,
                strict=True,
            )
        ],
        "distance": _answer(judgement.distance),
        "course": _answer(judgement.course),
        "fitted": {
            "offset_nm": judgement.fitted.offset_nm,
            "factor": judgement.fitted.factor,
        },
    }


def measure_document(measured: Measured) -> Node:
    """The document of ``plotter measure --json``: the judgement, cautions, dates of the data."""
    cautions = (*measured.cautions, *STANDING_CAUTIONS)
    return judgement_document(measured.judgement) | {
        "chart": measured.desk.chart.name,
        "cautions": [_caution(each) for each in cautions],
        "data": _data(measured.data),
    }


def _leg(leg: MeasuredLeg, residual_mm: float | None) -> Node:
    return {
        "start": clean_name(leg.start),
        "end": clean_name(leg.end),
        "distance_nm": leg.distance_nm,
        "true_course_deg": leg.true_course_deg,
        "variation_deg_east": leg.variation_deg_east,
        "reading": None if leg.reading is None else leg.reading.value,
        "residual_mm": residual_mm,
    }


def _agreement(distance: Compared | None, course: Compared | None) -> Node:
    """Whether each reading of a leg lies within the reading error, and what that is."""
    return {
        "distance_agrees": None if distance is None else distance.agrees,
        "distance_allowed_mm": None if distance is None else distance.allowed,
        "course_agrees": None if course is None else course.agrees,
        "course_off_deg": None if course is None else course.off,
        "course_allowed_deg": None if course is None else course.allowed,
    }


def _answer(answer: Answer | None) -> Node | None:
    if answer is None:
        return None
    return {
        "heading": answer.heading,
        "readings": answer.readings,
        "outside": answer.outside,
        "verdict": answer.verdict,
        "explanations": [
            {
                "code": each.code,
                "probability": each.probability,
                "grade": each.grade,
                "text": clean_text(each.text),
            }
            for each in answer.explanations
        ],
        "inseparable": [list(pair) for pair in answer.inseparable],
        "next_measurement": answer.next_measurement,
    }


def _caution(caution: Caution) -> Node:
    return {
        "rank": caution.rank,
        "code": caution.code,
        "text": clean_text(caution.text),
        "source": clean_text(caution.source),
        "where": clean_text(caution.where),
    }


def _data(data: DataDates) -> Node:
    return {
        "airports": data.airports,
        "navaids": data.navaids,
        "magnetic_model": data.magnetic_model,
        "magnetic_model_valid_to": data.magnetic_model_valid_to,
    }
