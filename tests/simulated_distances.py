"""Distances read off a plotter with a known mistake, for the proof of ``plotter measure``.

Written beside the engine and not with it: each mistake is made here by hand on lengths of paper,
with amounts drawn from other distributions than the engine's. ``rivals`` says what else could have
come near the same readings, so that what nobody can tell apart is known without asking the engine.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.random import Generator
from pyproj import Geod
from simulated_hands import Hand, any_hand, swapped, typed

from plotter.chart.readings import CAREFUL, STUDENT, Desk, MeasuredLeg, Reading, Unit
from plotter.chart.scales import SCALES, ChartScale

MISTAKES = (
    "nautical_statute", "kilometres", "parallel_minutes", "other_scale", "physical_end", "shrunk",
    "stretched", "tick", "lays", "copy_scaled", "wrong_end", "cumulative", "swapped_digits", "pair",
    "none",
)  # fmt: skip
MM = {"nm": 1852.0, "sm": 1609.344, "km": 1000.0}
GEOD = Geod(ellps="WGS84")


@dataclass(frozen=True)
class Setup:
    """What is measured: lengths on paper [mm], where, on which chart, by whom, in which unit."""

    chart: ChartScale
    unit: Unit
    step: float
    hand: Hand
    paper_mm: np.ndarray
    latitude_deg: np.ndarray

    @property
    def unit_mm(self) -> float:
        if self.unit == "mm":
            return 1.0
        return MM[self.unit] * 1000.0 / self.chart.denominator

    @property
    def error_mm(self) -> float:
        return 1.5 if self.hand.student else 1.0

    @property
    def count(self) -> int:
        return self.paper_mm.size


@dataclass(frozen=True)
class Case:
    """A set of readings with the mistake that was made, and what they would be without error."""

    truth: str
    setup: Setup
    exact_mm: np.ndarray
    gain: np.ndarray
    texts: tuple[str, ...]

    def legs(self) -> list[MeasuredLeg]:
        setup = self.setup
        mm_per_nm = setup.chart.mm_per_nm
        return [
            MeasuredLeg(
                distance_nm=float(setup.paper_mm[k]) / mm_per_nm,
                true_course_deg=80.0,
                variation_deg_east=2.0,
                reading=Reading(self.texts[k], setup.unit),
                start=f"P{k}",
                end=f"P{k + 1}",
                latitude_deg=float(setup.latitude_deg[k]),
            )
            for k in range(setup.count)
        ]

    def desk(self) -> Desk:
        return Desk(self.setup.chart, STUDENT if self.setup.hand.student else CAREFUL)


def any_setup(random: Generator) -> Setup:
    chart = list(SCALES.values())[random.choice(3, p=[0.8, 0.15, 0.05])]
    unit: Unit = ("nm", "sm", "mm")[random.choice(3, p=[0.85, 0.1, 0.05])]
    step = float(random.choice([0.5, 1.0] if unit == "mm" else [0.1, 0.5, 1.0], p=None))
    count = int(random.choice([1, 2, 3, 4], p=[0.4, 0.3, 0.2, 0.1]))
    paper = np.exp(random.uniform(math.log(25.0), math.log(450.0), count))
    latitude = random.uniform(20.0, 68.0) + random.uniform(-2.0, 2.0, count)
    return Setup(chart, unit, step, any_hand(random), paper, latitude)


def simulate(truth: str, random: Generator) -> Case:
    """A set of readings in which one mistake was made, and can be seen in the digits."""
    while True:
        setup = any_setup(random)
        made = _made(truth, setup, random)
        if made is None:
            continue
        exact, gain = made
        if exact.min() < 2.0 * setup.unit_mm * setup.step:
            continue
        laid = np.ceil(setup.paper_mm / 300.0)
        shaken = setup.hand.errors(random, setup.count) * setup.error_mm * np.sqrt(laid)
        texts = [
            typed(float(each) / setup.unit_mm, setup.step, random) for each in exact + gain * shaken
        ]
        if min(map(float, texts)) <= 0.0:
            continue
        case = Case(truth, setup, exact, gain, tuple(texts))
        if truth == "swapped_digits":
            found = _with_a_swap(case, random)
            if found is None:
                continue
            case = found
        return case


def _with_a_swap(case: Case, random: Generator) -> Case | None:
    leg = int(random.integers(case.setup.count))
    turned = swapped(case.texts[leg], random)
    if turned is None:
        return None
    texts = [*case.texts[:leg], turned, *case.texts[leg + 1 :]]
    exact = case.exact_mm.copy()
    exact[leg] += (float(turned) - float(case.texts[leg])) * case.setup.unit_mm
    return replace(case, texts=tuple(texts), exact_mm=exact)


def _made(truth: str, setup: Setup, random: Generator) -> tuple[np.ndarray, np.ndarray] | None:
    """Readings without error [mm] and by what an error is multiplied; ``None`` if impossible."""
    paper, ones = setup.paper_mm, np.ones(setup.count)
    if truth == "read_right":
        return paper, ones
    if truth in ("tick", "wrong_end", "cumulative"):
        exact = _slipped(truth, setup, random)
        return None if exact is None else (exact, ones)
    if truth == "swapped_digits":
        return paper, ones
    if truth == "lays":
        laid = np.ceil(paper / random.uniform(270.0, 330.0))
        return (paper - laid * random.uniform(3.0, 12.0), ones) if laid.max() > 1 else None
    if truth == "none":
        return paper * np.exp(random.normal(0.0, 0.9, setup.count)), ones
    line = _straight(truth, setup, random)
    if line is None:
        return None
    factor, shift = line
    struck = ones
    if truth in ("nautical_statute", "kilometres", "parallel_minutes", "other_scale"):
        struck = _struck(setup.count, random)
    gain = np.where(struck > 0, factor, 1.0) * ones
    return np.where(struck > 0, factor * (paper + shift), paper), gain


def _struck(count: int, random: Generator) -> np.ndarray:
    """Which legs a habit strikes: all as a rule, sometimes one."""
    struck = np.ones(count)
    if count > 1 and random.random() < 0.2:
        struck[:] = 0.0
        struck[random.integers(count)] = 1.0
    return struck


def _straight(truth: str, setup: Setup, random: Generator) -> tuple[np.ndarray, float] | None:
    """Factor and shift [mm on the paper] of a fault of the plotter."""
    one = np.ones(setup.count)
    if truth == "physical_end":
        return one, -float(random.uniform(3.0, 12.0))
    if truth == "shrunk":
        return one / (1.0 - random.triangular(0.01, 0.03, 0.09)), 0.0
    if truth == "stretched":
        return one / (1.0 + random.uniform(0.01, 0.04)), 0.0
    if truth == "copy_scaled":
        usual = random.choice(
            [0.94, 0.97, 1.03, random.uniform(0.65, 0.92)], p=[0.4, 0.3, 0.1, 0.2]
        )
        return one * (usual + random.normal(0.0, 0.006)), 0.0
    if truth == "pair":
        return _pair(setup, random)
    factor = _wrong_edge(truth, setup, random)
    return None if factor is None else (factor, 0.0)


def _wrong_edge(truth: str, setup: Setup, random: Generator) -> np.ndarray | None:
    one = np.ones(setup.count)
    if truth == "other_scale":
        own = setup.chart.denominator
        others = [each.denominator / own for each in SCALES.values() if each.denominator != own]
        factor = float(random.choice(others))
        return one * (1.0 / factor if setup.unit == "mm" else factor)
    if setup.unit == "mm":
        return None
    if truth == "nautical_statute":
        return one * (MM["nm"] / MM["sm"] if setup.unit == "nm" else MM["sm"] / MM["nm"])
    if truth == "kilometres":
        return one * MM[setup.unit] / MM["km"]
    if setup.unit != "nm":
        return None
    off = setup.latitude_deg + random.normal(0.0, 0.5, setup.count)
    return np.array([1852.0 / parallel_minute_m(float(each)) for each in off])


def parallel_minute_m(latitude_deg: float) -> float:
    """A minute of longitude along a parallel [m]: a degree of it, in 600 short geodesics."""
    return GEOD.line_length([k / 600 for k in range(601)], [latitude_deg] * 601) / 60.0


def _pair(setup: Setup, random: Generator) -> tuple[np.ndarray, float] | None:
    kinds = ["physical_end+shrunk", "other_scale+physical_end", "other_scale+shrunk"]
    if setup.unit != "mm":
        kinds += ["nautical_statute+physical_end", "nautical_statute+shrunk"]
    factor, shift = np.ones(setup.count), 0.0
    for one in str(random.choice(kinds)).split("+"):
        made = _straight(one, setup, random)
        assert made is not None
        factor, shift = factor * made[0], shift + made[1]
    return factor, shift


def _slipped(truth: str, setup: Setup, random: Generator) -> np.ndarray | None:
    exact, count = setup.paper_mm.copy(), setup.count
    leg = int(random.integers(count))
    if truth == "tick":
        ticks = [10.0, -10.0] if setup.unit == "mm" else [10.0, -10.0, 10.0, -10.0, 5.0, -5.0]
        exact[leg] += float(random.choice(ticks)) * setup.unit_mm
        return exact if exact[leg] > 0 else None
    if truth == "wrong_end":
        if count > 1 and random.random() < 0.5:
            exact[leg] = setup.paper_mm[(leg + 1 + random.integers(count - 1)) % count]
        else:
            exact[leg] = random.uniform(260.0, 340.0) - exact[leg]
        return exact if exact[leg] > 5.0 else None
    if count < 2:
        return None
    totals = np.cumsum(exact)
    if random.random() < 0.7:
        return totals
    later = int(random.integers(1, count))
    exact[later] = totals[later]
    return exact
