"""What each mistake would have made of a distance, as families to be weighed."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from plotter.chart import priors
from plotter.chart.distance_sheet import (
    FINE_MM,
    SAME_MM,
    Sheet,
    end_gaps,
    habit,
    scale_factors,
    shrink_shares,
    times_laid,
    zero_offsets,
)
from plotter.chart.readings import NM_PER_UNIT, unswapped
from plotter.chart.weighing import Family, Sharing, log_weights, no_weight
from plotter.earth.angles import sine_cosine
from plotter.earth.units import ECCENTRICITY_SQUARED, EQUATORIAL_RADIUS_M, METRES_PER_NM

if TYPE_CHECKING:
    from plotter.chart.weighing import Floats

# Slips: mistakes that strike one reading and not the next, as families to be weighed.


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


# Two mistakes at once, where that is sensible: a wrong edge or scale, and a fault of the plotter.
#
# Coarser than the single ones: with two things unknown there is room for nearly any reading, and
# that room is what makes a pair the less likely explanation.


def pair_families(sheet: Sheet) -> list[Family]:
    """The sensible pairs, each a part of the one explanation ``pair``."""
    gaps, gap_weights = end_gaps(0.75)
    shares, share_weights = shrink_shares(sheet.longest_mm, coarse=2.0)
    shrunk = 1.0 / (1.0 - shares)
    scale, scale_weights = scale_factors(sheet)
    end = (-gaps, gap_weights)
    pairs = {
        "physical_end+shrunk": _crossed((shrunk, share_weights), end),
        "other_scale+physical_end": _crossed((scale, scale_weights), end),
        "other_scale+shrunk": _multiplied((scale, scale_weights), (shrunk, share_weights)),
    }
    statute = _other_mile(sheet)
    if statute is not None:
        one = (np.array([statute]), np.ones(1))
        pairs["nautical_statute+physical_end"] = _crossed(one, end)
        pairs["nautical_statute+shrunk"] = _multiplied(one, (shrunk, share_weights))
        pairs["nautical_statute+other_scale"] = _multiplied(one, (scale, scale_weights))
    prior = priors.DISTANCE["pair"] / len(pairs)
    return [
        sheet.straight(
            "pair",
            factor,
            shift,
            weights,
            values=np.arange(weights.size, dtype=float),
            labels=(name,) * weights.size,
            prior=prior,
        )
        for name, (factor, shift, weights) in pairs.items()
    ]


def _other_mile(sheet: Sheet) -> float | None:
    """Factor of the other edge of miles; ``None`` unless every reading is in one kind of mile."""
    units = {reading.unit for reading in sheet.readings}
    if units == {"nm"}:
        return 1.0 / NM_PER_UNIT["sm"]
    return NM_PER_UNIT["sm"] if units == {"sm"} else None


def _crossed(
    factor: tuple[Floats, Floats], shift: tuple[Floats, Floats]
) -> tuple[Floats, Floats, Floats]:
    """Every factor with every shift; the shift is made on the paper and so is multiplied too."""
    factors = np.repeat(factor[0], shift[0].size)
    return (
        factors,
        factors * np.tile(shift[0], factor[0].size),
        np.outer(factor[1], shift[1]).ravel(),
    )


def _multiplied(
    one: tuple[Floats, Floats], other: tuple[Floats, Floats]
) -> tuple[Floats, Floats, Floats]:
    """Every product of two factors."""
    factors = np.outer(one[0], other[0]).ravel()
    return factors, np.zeros_like(factors), np.outer(one[1], other[1]).ravel()


def distance_families(sheet: Sheet) -> list[Family]:
    """Every explanation that applies to these readings."""
    return [
        *_right_and_none(sheet),
        *_other_units(sheet),
        *_along_the_parallel(sheet),
        *_other_scale(sheet),
        *_from_the_end(sheet),
        *_shrunk(sheet),
        *_copy(sheet),
        *slip_families(sheet),
        *pair_families(sheet),
    ]


def _right_and_none(sheet: Sheet) -> Iterator[Family]:
    one = np.ones(1)
    if sheet.agrees.all():
        yield sheet.straight("read_right", 1.0, 0.0, one, values=np.zeros(1))
    spread = priors.NONE_SPREAD
    off = np.log(sheet.read_mm / sheet.base_mm.clip(min=0.1))
    log_p = -np.log(sheet.read_mm * spread * math.sqrt(2 * math.pi)) - (off / spread) ** 2 / 2
    yield Family(
        priors.NONE,
        priors.DISTANCE["none"],
        Sharing.EACH,
        sheet.base_mm[None, :],
        log_p[None, :],
        log_weights(one),
    )


def _factors(
    sheet: Sheet, code: str, factor: Floats, weights: Floats, *labels: str
) -> list[Family]:
    """A habit that multiplies readings, by a factor that may differ from leg to leg."""
    mean = factor * sheet.base_mm
    kept = (np.abs(mean - sheet.base_mm) > SAME_MM).any(axis=1) & (weights > 0.0)
    if not kept.any():
        return []
    rows = np.flatnonzero(kept)
    family = sheet.slip(
        code,
        mean[rows],
        log_weights(weights[rows]),
        values=factor[rows, 0],
        labels=tuple(labels[row] for row in rows) if labels else (),
        gain=factor[rows],
        prior=priors.DISTANCE[code] * float(weights[rows].sum() / weights.sum()),
    )
    alike = replace(
        family,
        sharing=Sharing.ALIKE,
        factor=factor[rows, 0],
        shift_mm=np.zeros(rows.size),
    )
    return habit(alike, family)


def _per_leg(sheet: Sheet, table: dict[str, tuple[float, ...]], rows: int) -> Floats:
    """Factors a row a case and a column a leg, by the unit of each leg's reading."""
    columns = [table.get(reading.unit, (1.0,) * rows) for reading in sheet.readings]
    return np.array(columns).T


def _other_units(sheet: Sheet) -> list[Family]:
    mile, kilometre = NM_PER_UNIT["sm"], NM_PER_UNIT["km"]
    statute = _per_leg(sheet, {"nm": (1 / mile, mile), "sm": (mile, 1 / mile)}, 2)
    twice = priors.CONVERTED_ONCE_TOO_OFTEN
    miles = _factors(
        sheet, "nautical_statute", statute, np.array([1.0 - twice, twice]), "edge", "converted"
    )
    metric = _per_leg(
        sheet,
        {
            "nm": (1 / kilometre, 1.0),
            "sm": (mile / kilometre, 1.0),
            "km": (kilometre, kilometre / mile),
        },
        2,
    )
    weights = np.array([0.7, 0.3])
    kilometres = _factors(sheet, "kilometres", metric, weights, "nm", "sm")
    return [*(_told_of_the_edge(sheet, each) for each in miles), *kilometres]


def _told_of_the_edge(sheet: Sheet, family: Family) -> Family:
    """What the pilot says of the edge makes the other edge of miles likelier, or less likely."""
    edge = sheet.desk.edge
    if edge is None:
        return family
    share = family.prior / priors.DISTANCE[family.code]
    contradicted = any(reading.unit not in (edge, "mm", "in") for reading in sheet.readings)
    if contradicted:
        return replace(family, prior=priors.EDGE_CONTRADICTS * share)
    return replace(family, prior=family.prior * priors.EDGE_NOT_DENIED)


def miles_in_a_minute(latitude_deg: float) -> float:
    """Nautical miles in a minute of longitude along a parallel of WGS 84 [NM].

    >>> round(miles_in_a_minute(0.0), 4), round(miles_in_a_minute(60.0), 4)
    (1.0018, 0.5022)
    """
    sine, cosine = sine_cosine(latitude_deg)
    radius_m = EQUATORIAL_RADIUS_M / math.sqrt(1.0 - ECCENTRICITY_SQUARED * sine * sine)
    return radius_m * cosine * math.radians(1.0 / 60.0) / METRES_PER_NM


def _along_the_parallel(sheet: Sheet) -> list[Family]:
    off = priors.PARALLEL_OFF_DEG * np.array([-1.5, -0.75, 0.0, 0.75, 1.5])
    columns = [
        [
            1.0 / miles_in_a_minute(min(abs(leg.latitude_deg) + each, 89.0))
            if leg.latitude_deg is not None and reading.unit == "nm"
            else 1.0
            for each in off
        ]
        for leg, reading in zip(sheet.legs, sheet.readings, strict=True)
    ]
    weights = np.exp(-((off / priors.PARALLEL_OFF_DEG) ** 2) / 2)
    return _factors(sheet, "parallel_minutes", np.array(columns).T, weights)


def _other_scale(sheet: Sheet) -> list[Family]:
    factors, weights = scale_factors(sheet)
    return habit(sheet.straight("other_scale", factors, 0.0, weights, values=factors))


def _from_the_end(sheet: Sheet) -> Iterator[Family]:
    offsets, likely = zero_offsets(FINE_MM / 2)
    yield from habit(sheet.straight("physical_end", 1.0, offsets, likely, values=offsets))
    gaps, weights = end_gaps(FINE_MM / 2)
    lengths = {
        plotter: np.array([times_laid(each, plotter) for each in sheet.base_mm])
        for plotter in priors.PLOTTER_LENGTHS_MM
    }
    several = {plotter: laid for plotter, laid in lengths.items() if laid.max() > 1}
    if not several:
        return
    shares = [priors.PLOTTER_LENGTHS_MM[plotter] for plotter in several]
    mean = np.concatenate([sheet.base_mm - gaps[:, None] * laid for laid in several.values()])
    yield replace(
        sheet.slip(
            "lays",
            mean,
            log_weights(np.concatenate([share * weights for share in shares])),
            values=np.tile(gaps, len(several)),
            prior=priors.DISTANCE["lays"] * sum(shares),
        ),
        sharing=Sharing.ALIKE,
    )


def _shrunk(sheet: Sheet) -> Iterator[Family]:
    shares, weights = shrink_shares(sheet.longest_mm)
    left = priors.KNOWN_PLOTTER if sheet.desk.own else 1.0
    for code, factor in (("shrunk", 1.0 / (1.0 - shares)), ("stretched", 1.0 / (1.0 + shares))):
        prior = left * priors.DISTANCE[code]
        yield sheet.straight(code, factor, 0.0, weights, values=shares, prior=prior)


def _copy(sheet: Sheet) -> Iterator[Family]:
    low, high = priors.COPY_ANY[0], max(priors.COPY_FACTORS) + 3 * priors.COPY_SPREAD
    count = int(min(max((high - low) * sheet.longest_mm / FINE_MM, 120), 1000))
    factors = np.linspace(low, high, count)
    weights = np.where(factors <= priors.COPY_ANY[1], 1.0, 0.0)
    weights *= priors.COPY_ANY_WEIGHT / weights.sum()
    for usual, share in priors.COPY_FACTORS.items():
        near = np.exp(-(((factors - usual) / priors.COPY_SPREAD) ** 2) / 2)
        weights += share * near / near.sum()
    yield sheet.straight("copy_scaled", factors, 0.0, weights, values=factors)
