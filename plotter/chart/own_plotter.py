"""A pilot's own plotter against a printed ruler: its offset and factor, and how well known.

A plotter laid on a ruler reads ``offset + factor × ruler``. The offset is a zero that is not where
it was laid (the physical end taken for it reads short by a constant); the factor is the plastic:
shrunk, its marks stand too close and it reads long by a share. Least squares over the pairs, each
weighted with its own error; lengths are in millimetres of paper, so the three charts compare.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from plotter.chart.scales import ChartScale
from plotter.earth.units import METRES_PER_NM, METRES_PER_SM
from plotter.errors import InputError, Where
from plotter.messages import Message, message

Edge = Literal["nm", "sm"]
EDGES: tuple[Edge, ...] = ("nm", "sm")

READING_ERROR_MM = 0.5
"""One standard deviation of reading one edge against another laid beside it (common practice)."""
PAGE_ERROR = 0.0025
"""One standard deviation of the printed page, proved to half a millimetre in 100 to 200 mm."""
SURE = 1.96
"""Standard deviations on either side that hold 95 of 100 errors (normal distribution)."""
LONGEST_MM = 600.0
"""A plotter is a foot or so long; a longer reading was read on another ruler."""
MOST_TIMES = 5.0
"""Beyond the quarter and four times of another chart's edge nothing but a slip explains a pair."""
MOST_OFFSET_MM = 25.4
"""No plotter's zero stands farther in from its end than an inch (common practice)."""
MOST_PAIRS = 200


@dataclass(frozen=True, slots=True)
class Pair:
    """What the plotter reads at a mark of the ruler, both in miles of one edge.

    ``decimals`` are the digits behind the point that the reading was typed with. Raises
    InputError, code ``pair``, for what cannot be read off a plotter.

    >>> Pair(50, -1)
    Traceback (most recent call last):
    plotter.errors.InputError: -1 is not a valid plotter reading; enter 0 or more
    """

    ruler: float
    plotter: float
    decimals: int = 1

    def __post_init__(self) -> None:
        for name, value in (("ruler", self.ruler), ("plotter", self.plotter)):
            if not math.isfinite(value) or value < 0:
                raise InputError("pair.negative", side=name, value=value)

    @property
    def rounding(self) -> float:
        """Standard deviation of rounding to the typed digit: its step over the root of twelve."""
        return 10.0**-self.decimals / math.sqrt(12)


@dataclass(frozen=True, slots=True)
class Fit:
    """Offset [mm] and factor with their standard deviations and what is left over [mm].

    ``covariance_mm`` is that of offset and factor: they are not known independently.
    """

    offset_mm: float
    factor: float
    offset_sd_mm: float
    factor_sd: float
    covariance_mm: float
    left_over_mm: tuple[float, ...]
    chi_squared: float

    @property
    def degrees_of_freedom(self) -> int:
        """Pairs beyond the two that two unknowns take."""
        return len(self.left_over_mm) - 2


@dataclass(frozen=True, slots=True)
class OwnPlotter:
    """One plotter, tested: the edge it was tested on and the pairs read.

    >>> from plotter.chart.scales import SECTIONAL
    >>> mine = OwnPlotter(SECTIONAL, "nm", (Pair(50, 50.6), Pair(100, 101.3)))
    >>> round(mine.fit.factor, 3), round(mine.fit.offset_mm, 2)
    (1.014, -0.37)
    >>> OwnPlotter(SECTIONAL, "nm", (Pair(50, 50.6),)).fit is None
    True
    """

    scale: ChartScale
    edge: Edge
    pairs: tuple[Pair, ...]
    reading_error_mm: float = READING_ERROR_MM

    def __post_init__(self) -> None:
        if self.edge not in EDGES:
            raise InputError("edge", edge=self.edge, edges=EDGES)
        if not 0.05 <= self.reading_error_mm <= 5.0:
            raise InputError(
                "reading-error.own-plotter",
                error_mm=self.reading_error_mm,
                low_mm=0.05,
                high_mm=5.0,
            )
        if not 1 <= len(self.pairs) <= MOST_PAIRS:
            raise InputError("pair.count", count=len(self.pairs), most=MOST_PAIRS)
        for pair in self.pairs:
            _refuse_absurd(pair, self)
            _refuse_too_long(max(pair.ruler, pair.plotter), self)

    @property
    def mile_mm(self) -> float:
        """Length of a mile of the edge on paper [mm]."""
        return mile_mm(self.scale, self.edge)

    @property
    def fit(self) -> Fit | None:
        """Offset and factor; ``None`` where all pairs are at one mark and cannot part the two."""
        if len({pair.ruler for pair in self.pairs}) < 2:
            return None
        unit = self.mile_mm
        x = [pair.ruler * unit for pair in self.pairs]
        y = [pair.plotter * unit for pair in self.pairs]
        sd = [math.hypot(self.reading_error_mm, pair.rounding * unit) for pair in self.pairs]
        return _least_squares(x, y, sd)


def mile_mm(scale: ChartScale, edge: Edge) -> float:
    """Length of a nautical or statute mile of a chart on paper [mm].

    >>> from plotter.chart.scales import SECTIONAL
    >>> round(mile_mm(SECTIONAL, "nm"), 3), round(mile_mm(SECTIONAL, "sm"), 3)
    (3.704, 3.219)
    """
    return scale.mm_per_nm * (1.0 if edge == "nm" else METRES_PER_SM / METRES_PER_NM)


def _least_squares(x: Sequence[float], y: Sequence[float], sd: Sequence[float]) -> Fit:
    """A straight line with known errors in ``y``.

    Source: NIST/SEMATECH e-Handbook of Statistical Methods, 4.1.4.3 (weighted least squares).
    The page's own error makes the factor less sure, and the offset not.
    """
    weight = [1.0 / each**2 for each in sd]
    total = sum(weight)
    x_mean = sum(w * each for w, each in zip(weight, x, strict=True)) / total
    y_mean = sum(w * each for w, each in zip(weight, y, strict=True)) / total
    spread = sum(w * (each - x_mean) ** 2 for w, each in zip(weight, x, strict=True))
    rows = list(zip(weight, x, y, strict=True))
    factor = sum(w * (a - x_mean) * (b - y_mean) for w, a, b in rows) / spread
    offset = y_mean - factor * x_mean
    left_over = tuple(b - offset - factor * a for _, a, b in rows)
    return Fit(
        offset_mm=offset,
        factor=factor,
        offset_sd_mm=math.sqrt(1.0 / total + x_mean**2 / spread),
        factor_sd=math.hypot(1.0 / math.sqrt(spread), PAGE_ERROR * factor),
        covariance_mm=-x_mean / spread,
        left_over_mm=left_over,
        chi_squared=sum(w * each**2 for w, each in zip(weight, left_over, strict=True)),
    )


def _refuse_absurd(pair: Pair, tested: OwnPlotter) -> None:
    """No zero laid wrong and no other edge explains it; a slip of the finger does."""
    within = pair.ruler / MOST_TIMES < pair.plotter < pair.ruler * MOST_TIMES
    if not within and abs(pair.plotter - pair.ruler) * tested.mile_mm > MOST_OFFSET_MM:
        raise InputError(
            "pair.absurd",
            plotter=pair.plotter,
            ruler=pair.ruler,
            cure=_meant(pair.ruler, pair.plotter),
        )


def _refuse_too_long(reading: float, tested: OwnPlotter) -> None:
    length_mm = reading * tested.mile_mm
    if length_mm > LONGEST_MM:
        raise InputError(
            "pair.too-long",
            reading=reading,
            unit=tested.edge.upper(),
            chart=tested.scale.name,
            denominator=tested.scale.denominator,
            length_mm=length_mm,
            longest_mm=LONGEST_MM,
        )


def _meant(ruler: float, plotter: float) -> Message:
    """What may have been typed wrong: the point a place off, or another thing altogether."""
    for places in (10.0, 100.0, 0.1, 0.01) if ruler else ():
        moved = plotter / places
        if 0.8 < moved / ruler < 1.25:
            return message("pair.meant", value=moved)
    return message("pair.again")


# Pairs as a pilot types them: ``ruler 50 = plotter 50.6, ruler 100 = plotter 101.3``.

EXAMPLE = "ruler 50 = plotter 50.6, ruler 100 = plotter 101.3"
_NUMBER = r"(?P<{0}>[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+))"
_SIDE = r"\s*(?P<{0}_name>[^\W\d]*)\s*" + _NUMBER + r"\s*(?P<{0}_unit>[^\W\d]*)\s*"
_PAIR = re.compile(f"{_SIDE.format('first')}={_SIDE.format('second')}", re.I)
_NAMES = ("ruler", "plotter")
_LONGEST = 10_000


def read_pairs(text: str, edge: str = "nm") -> tuple[Pair, ...]:
    """The pairs of a text, parted by commas or semicolons.

    The side named first counts as it is named; with no names the ruler stands first. Raises
    InputError, code ``pair``, with a caret under the pair that cannot be read.

    >>> read_pairs("ruler 50 = plotter 50.6, plotter 101 = ruler 100; 20=20.2")[1]
    Pair(ruler=100.0, plotter=101.0, decimals=0)
    """
    if len(text) > _LONGEST:
        raise InputError("pair.text-too-long", most=_LONGEST, example=EXAMPLE)
    pairs = []
    for match in re.finditer(r"[^,;]+", text):
        if match[0].strip():
            pairs.append(_placed(match[0], edge, _where(text, match)))
    if not pairs:
        raise InputError("pair.none", example=EXAMPLE)
    return tuple(pairs)


def _where(text: str, match: re.Match[str]) -> Where:
    words = match[0]
    start = match.start() + len(words) - len(words.lstrip())
    return Where(text, start, start + len(words.strip()))


def _placed(words: str, edge: str, where: Where) -> Pair:
    try:
        return _pair(words, edge)
    except InputError as fault:
        raise fault.at(where) from None


def _pair(words: str, edge: str) -> Pair:
    found = _PAIR.fullmatch(words)
    if found is None:
        alone = "=" not in words and re.fullmatch(r"\s*\d+\s*", words)
        raise InputError("pair.alone" if alone else "pair", example=EXAMPLE)
    names = [found[f"{side}_name"].lower() for side in ("first", "second")]
    ruler_side, plotter_side = _sides(names)
    for side in ("first", "second"):
        _refuse_other_unit(found[f"{side}_unit"].lower(), edge)
    typed = found[plotter_side]
    decimals = len(typed.partition(".")[2])
    return Pair(float(found[ruler_side]), float(typed), decimals)


def _sides(names: list[str]) -> tuple[str, str]:
    """Which side of the equals sign is the ruler's and which the plotter's."""
    wrong = [name for name in names if name and name not in _NAMES]
    if wrong:
        raise InputError("pair.side", side=wrong[0], example=EXAMPLE)
    if names[0] and names[0] == names[1]:
        raise InputError("pair.same-side", side=names[0])
    swapped = names[0] == "plotter" or names[1] == "ruler"
    return ("second", "first") if swapped else ("first", "second")


def _refuse_other_unit(unit: str, edge: str) -> None:
    if unit and unit != edge:
        key = "unit.other-edge" if unit in EDGES else "unit.not-miles"
        raise InputError(key, unit=unit, edge_unit=edge.upper())
