"""How near another explanation comes to a set of distances, in reading errors.

Plain geometry over generous ranges of what is not known, with no weights in it: the measure by
which a simulated case counts as one that can be told apart.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

import numpy as np
from simulated_distances import MM, Case, parallel_minute_m

SCALE_FACTORS = (2.0, 0.5, 4.0, 0.25)
ENDS_MM = np.arange(1.0, 17.01, 0.25)
SHRUNK = 1.0 / (1.0 - np.arange(0.003, 0.1401, 0.0005))
STRETCHED = 1.0 / (1.0 + np.arange(0.003, 0.1001, 0.0005))
COPIES = np.concatenate([np.arange(0.60, 0.99, 0.0005), np.arange(1.015, 1.08, 0.0005)])
PLOTTERS_MM = np.arange(220.0, 381.0, 1.0)


def nearest_rival(case: Case) -> tuple[str, float]:
    """The explanation other than the true one that comes nearest, and how near that is."""
    found = distances(case)
    code = min(found, key=lambda each: found[each])
    return code, found[code]


def distances(case: Case) -> dict[str, float]:
    """How near each explanation but the true one comes, in reading errors."""
    return {code: distance for code, distance in _all(case) if code != case.truth}


def deviations(case: Case) -> np.ndarray:
    """Standard deviation of each reading as stated, the mistake's own stretch in it [mm]."""
    setup = case.setup
    laid = np.sqrt(np.ceil(setup.paper_mm / 300.0))
    steps = np.array([10.0 ** -len(text.partition(".")[2]) for text in case.texts])
    return np.hypot(case.gain * setup.error_mm * laid, steps * setup.unit_mm / math.sqrt(12.0))


def _all(case: Case) -> Iterator[tuple[str, float]]:
    setup, paper, deviation = case.setup, case.setup.paper_mm, deviations(case)

    def off(mean: np.ndarray) -> np.ndarray:
        """Squared distances, a row a way and a column a leg."""
        squared: np.ndarray = ((case.exact_mm - np.atleast_2d(mean)) / deviation) ** 2
        return squared

    right = off(paper)[0]

    def alike(mean: np.ndarray) -> float:
        return math.sqrt(off(mean).sum(axis=1).min())

    def some(mean: np.ndarray) -> float:
        each = off(mean).min(axis=0)
        either = np.minimum(each, right)
        return math.sqrt(either.sum() + (each - either).min())

    yield "read_right", math.sqrt(right.sum())
    for code, factors in _factors(case):
        ways = np.array([np.broadcast_to(factor, paper.shape) * paper for factor in factors])
        yield code, min(alike(ways), some(ways))
    ends = paper - ENDS_MM[:, None]
    yield "physical_end", min(alike(ends), some(ends))
    laid = [np.ceil(paper / length) for length in (260.0, 280.0, 300.0, 320.0, 340.0)]
    if max(each.max() for each in laid) > 1:
        several = [each for each in laid if each.max() > 1]
        yield "lays", min(alike(paper - ENDS_MM[:, None] * each) for each in several)
    for code, factors in (("shrunk", SHRUNK), ("stretched", STRETCHED), ("copy_scaled", COPIES)):
        yield code, alike(factors[:, None] * paper)
    ticks = np.array([10.0, -10.0] if setup.unit == "mm" else [10.0, -10.0, 5.0, -5.0])
    yield "tick", some(paper + ticks[:, None] * setup.unit_mm)
    yield "wrong_end", min(some(PLOTTERS_MM[:, None] - paper), _another_leg(paper, some))
    if setup.count > 1:
        totals = np.cumsum(paper)
        yield "cumulative", min(alike(totals), some(np.where(totals > paper, totals, 1e6)))
    yield "swapped_digits", _swaps(case, some)


def _another_leg(paper: np.ndarray, some: Callable[[np.ndarray], float]) -> float:
    if paper.size < 2:
        return math.inf
    shifted = [np.roll(paper, by) for by in range(1, paper.size)]
    return float(some(np.array(shifted)))


def _factors(case: Case) -> Iterator[tuple[str, list[np.ndarray | float]]]:
    unit = case.setup.unit
    yield "other_scale", list(SCALE_FACTORS)
    if unit == "mm":
        return
    mile = MM["nm"] / MM["sm"]
    yield "nautical_statute", [mile, 1.0 / mile]
    yield "kilometres", [MM[unit] / MM["km"]]
    if unit == "nm":
        around = np.arange(-1.5, 1.51, 0.25)
        minutes = [
            np.array([1852.0 / parallel_minute_m(float(x) + d) for x in case.setup.latitude_deg])
            for d in around
        ]
        yield "parallel_minutes", list(minutes)


def _swaps(case: Case, some: Callable[[np.ndarray], float]) -> float:
    """Readings whose swapped digits make them right."""
    unit_mm, rows = case.setup.unit_mm, []
    for place in range(5):
        row = []
        for text, paper, exact in zip(case.texts, case.setup.paper_mm, case.exact_mm, strict=True):
            spots = [k for k, letter in enumerate(text) if letter.isdigit()]
            letters = list(text)
            if place + 1 < len(spots):
                a, b = spots[place], spots[place + 1]
                letters[a], letters[b] = letters[b], letters[a]
            turned = "".join(letters)
            by = (float(text) - float(turned)) * unit_mm
            row.append(paper + by if turned != text and letters[0] != "0" else exact + 1e6)
        rows.append(row)
    return float(some(np.array(rows)))
