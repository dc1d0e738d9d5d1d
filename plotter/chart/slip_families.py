"""Slips: mistakes that strike one reading and not the next, as families to be weighed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from plotter.chart import priors
from plotter.chart.distance_sheet import Sheet, habit
from plotter.chart.families import Family, log_weights, no_weight
from plotter.chart.readings import unswapped
from plotter.chart.unknowns import SAME_MM

if TYPE_CHECKING:
    from plotter.chart.families import Floats


def slip_families(sheet: Sheet) -> list[Family]:
    """The slips that could have been made in these readings."""
    return [*_ticks(sheet), *_wrong_end(sheet), *_cumulative(sheet), *_swapped(sheet)]


def _ticks(sheet: Sheet) -> Iterator[Family]:
    tables = [list(priors.TICKS[reading.unit].items()) for reading in sheet.readings]
    rows = max(map(len, tables))
    padded = [[*table, *[(0.0, 0.0)] * (rows - len(table))] for table in tables]
    by = np.array([[tick for tick, _ in table] for table in padded]).T
    share = np.array([[weight for _, weight in table] for table in padded]).T
    mean = sheet.base_mm + by * sheet.unit_mm
    yield sheet.slip("tick", mean, _logs(share), values=by[:, 0])


def _logs(weights: Floats) -> Floats:
    """Logarithms of weights, where some of them are nothing."""
    logs: Floats = np.log(np.maximum(weights, 1e-300))
    return np.where(weights > 0.0, logs, no_weight())


def _wrong_end(sheet: Sheet) -> Iterator[Family]:
    lengths = np.arange(220.0, 381.0, 1.0)
    weights = np.exp(-(((lengths - 300.0) / 30.0) ** 2) / 2)
    count = sheet.base_mm.size
    share = 1.0 if count == 1 else 0.5
    prior = priors.DISTANCE["wrong_end"]
    mean = lengths[:, None] - sheet.base_mm
    labels = ("end",) * lengths.size
    yield sheet.slip(
        "wrong_end", mean, log_weights(weights), values=lengths, labels=labels, prior=prior * share
    )
    others = np.broadcast_to(sheet.base_mm[:, None], (count, count))
    apart = np.abs(others - sheet.base_mm) > 3.0 * SAME_MM
    if apart.any():
        weight = _logs(apart / np.maximum(apart.sum(axis=0), 1))
        names = tuple(str(number) for number in range(count))
        yield sheet.slip("wrong_end", others, weight, labels=names, prior=prior * 0.5)


def _cumulative(sheet: Sheet) -> Iterator[Family]:
    totals = [float(sheet.base_mm[0])]
    for number in range(1, len(sheet.legs)):
        before, leg = sheet.legs[number - 1], sheet.legs[number]
        joined = bool(leg.start) and before.end == leg.start
        totals.append(float(sheet.base_mm[number]) + (totals[-1] if joined else 0.0))
    mean = np.array([totals])
    later = mean > sheet.base_mm + SAME_MM
    if not later.any():
        return
    always = sheet.straight("cumulative", 1.0, 0.0, np.ones(1), values=np.zeros(1))
    always = replace(always, mean=mean, log_p=sheet.log_p(mean), factor=None, shift_mm=None)
    yield from habit(always, sheet.slip("cumulative", mean, _logs(later.astype(float))))


def _swapped(sheet: Sheet) -> Iterator[Family]:
    meant = [
        [text for text in unswapped(reading.text) if float(text) > 0 and text[0] != "0"]
        for reading in sheet.readings
    ]
    rows = max(map(len, meant))
    if rows == 0:
        return
    figures = np.array([[*map(float, each), *[0.0] * (rows - len(each))] for each in meant]).T
    share = np.array([[1.0 / max(len(each), 1)] * rows for each in meant]).T
    # That one figure was turned into another is as likely as the figure it was turned from.
    mean = sheet.base_mm + sheet.read_mm - figures * sheet.unit_mm
    yield sheet.slip(
        "swapped_digits", mean, _logs(np.where(figures > 0, share, 0.0)), values=figures[:, 0]
    )
