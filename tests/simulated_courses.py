"""Courses read off a plotter with a known mistake, and what else comes near them.

As for distances: made by hand beside the engine, with amounts drawn from other distributions.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.random import Generator
from simulated_hands import Hand, any_hand, swapped

from plotter.chart.readings import CAREFUL, STUDENT, CourseReading, Desk, MeasuredLeg

MISTAKES = (
    "reciprocal", "wrong_way", "ten", "hundred", "swapped_digits", "other_scale_90", "border",
    "meridian", "true_magnetic", "variation_sign", "variation_twice", "heading", "end_meridian",
    "none",
)  # fmt: skip
ALIKE = ("border", "meridian", "true_magnetic", "variation_sign", "variation_twice", "heading",
         "end_meridian")  # fmt: skip


@dataclass(frozen=True)
class Setup:
    """Legs: true courses [°T], variation [°, east positive], lengths, ends' courses; the hand.

    ``east`` [°] is the longitude of a leg from the middle of the chart at ``middle``, ``cone`` how
    fast meridians run together there; whether the pilot ``named`` the middle.
    """

    true: np.ndarray
    variation: np.ndarray
    length_nm: np.ndarray
    converging: np.ndarray
    magnetic: bool
    hand: Hand
    east: np.ndarray
    middle: float
    cone: float
    named: bool

    @property
    def count(self) -> int:
        return self.true.size

    @property
    def right(self) -> np.ndarray:
        return (self.true - self.variation * self.magnetic) % 360.0


@dataclass(frozen=True)
class Case:
    """A set of courses with the mistake that was made, and what they would be without error."""

    truth: str
    setup: Setup
    exact: np.ndarray
    texts: tuple[str, ...]

    def legs(self) -> list[MeasuredLeg]:
        setup = self.setup
        return [
            MeasuredLeg(
                distance_nm=float(setup.length_nm[k]),
                true_course_deg=float(setup.true[k]),
                variation_deg_east=float(setup.variation[k]),
                course=CourseReading(self.texts[k], "M" if setup.magnetic else "T"),
                start_true_course_deg=float(setup.true[k] - setup.converging[k]),
                end_true_course_deg=float(setup.true[k] + setup.converging[k]),
                longitude_deg=float((setup.middle + setup.east[k] + 180.0) % 360.0 - 180.0),
                cone_constant=setup.cone,
            )
            for k in range(setup.count)
        ]

    def desk(self) -> Desk:
        return Desk(
            error=STUDENT if self.setup.hand.student else CAREFUL,
            chart_middle_deg=self.setup.middle if self.setup.named else None,
        )


def simulate(truth: str, random: Generator) -> Case:
    """A set of courses in which one mistake was made that changes something."""
    while True:
        setup = _any_setup(random)
        exact = _made(truth, setup, random)
        if exact is None:
            continue
        width = deviations(setup) * setup.hand.width
        error = setup.hand.errors(random, setup.count) / setup.hand.width * width
        whole = [round(float(each)) % 360 for each in exact + error]
        texts = [f"{each or 360:03d}" for each in whole]
        if truth == "swapped_digits":
            leg = int(random.integers(setup.count))
            turned = swapped(texts[leg], random)
            if turned is None or float(turned) > 360:
                continue
            exact = exact.copy()
            exact[leg] = exact[leg] + float(turned) - float(texts[leg])
            texts[leg] = turned
        return Case(truth, setup, exact % 360.0, tuple(texts))


def deviations(setup: Setup) -> np.ndarray:
    """Standard deviation of each course as stated, rounding to whole degrees aside [°]."""
    stated = 1.5 if setup.hand.student else 1.0
    laid = np.degrees(np.arctan(math.sqrt(2.0) * stated / (setup.length_nm * 3.704)))
    chart = 0.4 if setup.magnetic else 0.0
    return np.sqrt(stated**2 + laid**2 + chart**2)


def _any_setup(random: Generator) -> Setup:
    count = int(random.choice([1, 2, 3, 4], p=[0.4, 0.3, 0.2, 0.1]))
    variation = random.uniform(-18.0, 18.0) + random.normal(0.0, 0.5, count)
    length = np.exp(random.uniform(math.log(10.0), math.log(130.0), count))
    converging = np.where(random.random(count) < 0.2, random.uniform(2.0, 4.0, count), 0.5)
    true = random.uniform(0.0, 360.0, count)
    magnetic, hand = bool(random.random() < 0.5), any_hand(random)
    east = random.uniform(-3.6, 3.6, count)
    middle, cone = float(random.uniform(-180.0, 180.0)), _cone(float(random.uniform(1.0, 8.0)))
    named = bool(random.random() < 0.5)
    return Setup(true, variation, length, converging, magnetic, hand, east, middle, cone, named)


def _cone(band: float) -> float:
    """The cone constant of a sphere's conic with parallels a sixth from the edges of a band of 8°.

    Source: Snyder, USGS Professional Paper 1395, equation 15-3.
    """
    low, high = (math.radians(8.0 * (math.floor(band) + part)) for part in (1 / 6, 5 / 6))
    tangents = math.tan(math.pi / 4 + high / 2) / math.tan(math.pi / 4 + low / 2)
    return math.log(math.cos(low) / math.cos(high)) / math.log(tangents)


def _made(truth: str, setup: Setup, random: Generator) -> np.ndarray | None:
    right = setup.right
    if truth in ("read_right", "swapped_digits"):
        return right
    if truth == "none":
        return random.uniform(0.0, 360.0, setup.count)
    if truth in ALIKE:
        return _of_a_habit(truth, setup, random)
    exact, leg = right.copy(), int(random.integers(setup.count))
    turned = _of_a_slip(truth, float(right[leg]), random)
    if turned is None:
        return None
    exact[leg] = turned
    return exact


def _of_a_habit(truth: str, setup: Setup, random: Generator) -> np.ndarray | None:
    right, variation = setup.right, setup.variation
    if truth == "true_magnetic":
        return right + variation * (1.0 if setup.magnetic else -1.0)
    if truth in ("variation_sign", "variation_twice"):
        if not setup.magnetic:
            return None
        return right + variation * (2.0 if truth == "variation_sign" else -1.0)
    if truth == "heading":
        return right + random.normal(0.0, 6.0, setup.count)
    if truth == "end_meridian":
        if setup.converging.max() < 2.0:
            return None
        turn = np.where(setup.converging >= 2.0, setup.converging, 0.0)
        return right + random.choice([-1.0, 1.0]) * turn
    if truth == "border":
        return right - setup.cone * setup.east
    return right - variation + random.uniform(-2.0, 2.0, setup.count)


def _of_a_slip(truth: str, right: float, random: Generator) -> float | None:
    if truth == "reciprocal":
        return right + 180.0
    if truth == "ten":
        return right + float(random.choice([-10.0, 10.0]))
    if truth == "other_scale_90":
        return right + float(random.choice([-90.0, 90.0]))
    if truth == "hundred":
        if right < 100.0:
            return None
        return right % 100.0 if random.random() < 0.7 else right - 100.0
    mark = round(right / 10.0) * 10.0
    return 2.0 * mark - right if abs(right - mark) > 0.5 else None


def distances(case: Case) -> dict[str, float]:
    """How near each explanation but the true one comes, in reading errors."""
    return {code: distance for code, distance in _all(case) if code != case.truth}


def _all(case: Case) -> Iterator[tuple[str, float]]:
    setup = case.setup
    right = setup.right
    deviation = np.hypot(deviations(setup), 1.0 / math.sqrt(12.0))

    def off(mean: np.ndarray) -> np.ndarray:
        turn = (case.exact - np.atleast_2d(mean) + 180.0) % 360.0 - 180.0
        squared: np.ndarray = (turn / deviation) ** 2
        return squared

    fits = off(right)[0]

    def some(mean: np.ndarray) -> float:
        each = off(mean).min(axis=0)
        either = np.minimum(each, fits)
        return math.sqrt(either.sum() + (each - either).min())

    yield "read_right", math.sqrt(fits.sum())
    yield "reciprocal", some(right + 180.0)
    yield "ten", some(np.array([right + 10.0, right - 10.0]))
    yield "other_scale_90", some(np.array([right + 90.0, right - 90.0]))
    hundreds = np.where(right >= 100.0, 1.0, np.nan)
    ways = np.array([right % 100.0, right - 100.0, right + 100.0]) * [
        hundreds,
        hundreds,
        1 + 0 * right,
    ]
    yield "hundred", some(np.where(np.isnan(ways), case.exact + 180.0, ways))
    below = np.floor(right / 10.0) * 10.0
    yield "wrong_way", some(np.array([2 * below - right, 2 * below + 20.0 - right]))
    yield "swapped_digits", some(_swaps(case))
    yield from _about_north(setup, some)


def _about_north(setup: Setup, some: Callable[[np.ndarray], float]) -> Iterator[tuple[str, float]]:
    right, variation = setup.right, setup.variation
    sign = 1.0 if setup.magnetic else -1.0
    yield "true_magnetic", some(right + sign * variation)
    yield "variation_sign", some(right + 2.0 * sign * variation)
    yield "variation_twice", some(right - sign * variation)
    near = np.arange(-4.0, 4.01, 0.25)[:, None]
    yield "meridian", some(right - variation + near)
    middles = np.zeros((1, 1)) if setup.named else near
    yield "border", some(right - setup.cone * (setup.east - middles))
    yield "heading", some(right + np.arange(-20.0, 20.01, 0.5)[:, None])
    turn = np.where(setup.converging >= 2.0, setup.converging, 0.0)
    if turn.any():
        yield "end_meridian", some(np.array([right + turn, right - turn]))


def _swaps(case: Case) -> np.ndarray:
    rows = []
    for place in range(2):
        row = []
        for text, right, exact in zip(case.texts, case.setup.right, case.exact, strict=True):
            letters = list(text)
            letters[place], letters[place + 1] = letters[place + 1], letters[place]
            turned = "".join(letters)
            can = turned != text and float(turned) <= 360
            row.append(right + float(text) - float(turned) if can else exact + 180.0)
        rows.append(row)
    return np.array(rows)
