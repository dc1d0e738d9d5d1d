"""Hands that read a plotter, for simulations: how they shake, and how they round.

The engine takes its errors from one curve of one width. These hands do not: every set of readings
is made by a hand of its own width and its own shape, and rounded in its own way.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.random import Generator

SHAPES: dict[str, Callable[[Generator, int], np.ndarray]] = {
    "normal": lambda random, count: random.normal(0.0, 1.0, count),
    "logistic": lambda random, count: random.logistic(0.0, math.sqrt(3.0) / math.pi, count),
    "Laplace": lambda random, count: random.laplace(0.0, math.sqrt(0.5), count),
    "triangular": lambda random, count: random.triangular(-1, 0, 1, count) * math.sqrt(6.0),
    "even": lambda random, count: random.uniform(-1, 1, count) * math.sqrt(3.0),
}
"""Shapes of an error, each of standard deviation one."""


@dataclass(frozen=True)
class Hand:
    """One hand: a student's or not, the shape and the width of its errors against the stated."""

    student: bool
    shape: str
    width: float

    def errors(self, random: Generator, count: int) -> np.ndarray:
        """Errors in units of the stated reading error."""
        return SHAPES[self.shape](random, count) * self.width


def any_hand(random: Generator) -> Hand:
    """A hand between six and thirteen tenths of the stated reading error."""
    shape = str(random.choice(list(SHAPES)))
    return Hand(bool(random.random() < 0.2), shape, float(random.uniform(0.6, 1.3)))


def typed(value: float, step: float, random: Generator) -> str:
    """A figure as it is typed when read to a step; whole figures with a nought or without."""
    rounded = round(value / step) * step
    places = 0 if step >= 1.0 else 1
    text = f"{rounded:.{places}f}"
    if places and text.endswith(".0") and random.random() < 0.5:
        return text[:-2]
    return text


def swapped(text: str, random: Generator) -> str | None:
    """The figure with two neighbouring unlike digits exchanged; ``None`` where none can be."""
    spots = [place for place, letter in enumerate(text) if letter.isdigit()]
    ways = []
    for left, right in itertools.pairwise(spots):
        letters = list(text)
        letters[left], letters[right] = letters[right], letters[left]
        way = "".join(letters)
        if way != text and way[0] != "0" and float(way) > 0:
            ways.append(way)
    return str(random.choice(ways)) if ways else None
