"""Make geodesics.csv and rhumb_lines.csv again with GeographicLib's own programs.

Run by hand, ``python tests/published/make_line_tables.py``, where GeodSolve and RhumbSolve are
installed (Debian package geographiclib-tools). The points are drawn with a fixed seed and written
with ten fixed decimals: GeodSolve reads the ``e`` of -3.1e-05 as East.
"""

from __future__ import annotations

import csv
import math
import random
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path

Ends = tuple[float, float, float, float]

HERE = Path(__file__).parent
HEADER = [
    *("category", "lat1_deg", "lon1_deg", "lat2_deg", "lon2_deg", "distance_m"),
    *("azimuth1_deg", "azimuth2_deg", "mid_lat_deg", "mid_lon_deg", "mid_azimuth_deg"),
]


def main() -> None:
    """Write both tables beside this file."""
    _write(HERE / "geodesics.csv", _geodesics(sorted(_draw(20250101, CATEGORIES))))
    rhumbs = CATEGORIES | {"east-west": (400, _near_east_west), "antipodal": (100, _antipodal)}
    _write(HERE / "rhumb_lines.csv", _rhumbs(sorted(_draw(20250102, rhumbs))))


def _draw(
    seed: int, categories: dict[str, tuple[int, Callable[[random.Random], Ends]]]
) -> Iterator[tuple[str, Ends]]:
    dice = random.Random(seed)
    for name, (count, draw) in categories.items():
        for _ in range(count):
            lat1, lon1, lat2, lon2 = draw(dice)
            lat1, lat2 = (max(-90.0, min(90.0, lat)) for lat in (lat1, lat2))
            lon1, lon2 = ((lon + 180.0) % 360.0 - 180.0 for lon in (lon1, lon2))
            yield name, (round(lat1, 10), round(lon1, 10), round(lat2, 10), round(lon2, 10))


def _geodesics(drawn: list[tuple[str, Ends]]) -> Iterator[list[str]]:
    answers = _solve(["GeodSolve", "-i", "-p", "10"], [_fixed(*ends) for _, ends in drawn])
    starts = [
        f"{ends[0]:.10f} {ends[1]:.10f} {first} {float(length) / 2:.10f}"
        for (_, ends), (first, _, length) in zip(drawn, answers, strict=True)
    ]
    middles = _solve(["GeodSolve", "-p", "10"], starts)
    for (name, ends), (first, last, length), (lat, lon, course) in zip(
        drawn, answers, middles, strict=True
    ):
        yield [name, *_fixed(*ends).split(), *_rounded(length, first, last, lat, lon, course)]


def _rhumbs(drawn: list[tuple[str, Ends]]) -> Iterator[list[str]]:
    answers = _solve(["RhumbSolve", "-i", "-p", "10"], [_fixed(*ends) for _, ends in drawn])
    starts = [
        f"{ends[0]:.10f} {ends[1]:.10f} {course} {float(length) / 2:.10f}"
        for (_, ends), (course, length, _) in zip(drawn, answers, strict=True)
    ]
    middles = _solve(["RhumbSolve", "-p", "10"], starts)
    for (name, ends), (course, length, _), (lat, lon, _) in zip(
        drawn, answers, middles, strict=True
    ):
        yield [name, *_fixed(*ends).split(), *_rounded(length, course, course, lat, lon, course)]


def _solve(command: list[str], lines: list[str]) -> list[list[str]]:
    done = subprocess.run(
        command, input="\n".join(lines), capture_output=True, text=True, check=True
    )
    return [line.split() for line in done.stdout.splitlines()]


def _fixed(*degrees: float) -> str:
    return " ".join(f"{each:.10f}" for each in degrees)


def _rounded(length: str, *angles: str) -> list[str]:
    return [f"{float(length):.9f}", *(f"{float(angle) + 0.0:.12f}" for angle in angles)]


def _write(path: Path, rows: Iterator[list[str]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(HEADER)
        out.writerows(rows)


def _anywhere(dice: random.Random) -> tuple[float, float]:
    return math.degrees(math.asin(dice.uniform(-1.0, 1.0))), dice.uniform(-180.0, 180.0)


def _away(dice: random.Random, low_m: float, high_m: float) -> Ends:
    """Two points about so far apart, log-uniform, away from the poles."""
    lat, lon = dice.uniform(-84.0, 84.0), dice.uniform(-180.0, 180.0)
    far = math.exp(dice.uniform(math.log(low_m), math.log(high_m))) / 111_000.0
    course = dice.uniform(0.0, math.tau)
    east = far * math.sin(course) / math.cos(math.radians(lat))
    return lat, lon, lat + far * math.cos(course), lon + east


def _short(dice: random.Random) -> Ends:
    return _away(dice, 1.0, 1_000.0)


def _leg(dice: random.Random) -> Ends:
    return _away(dice, 1_000.0, 600_000.0)


def _long(dice: random.Random) -> Ends:
    return (*_anywhere(dice), *_anywhere(dice))


def _polar(dice: random.Random) -> Ends:
    """One end within ten degrees to a metre of a pole, the other beside it or anywhere."""
    pole = dice.choice((-90.0, 90.0))
    near = math.copysign(90.0 - 10.0 ** dice.uniform(-5.0, 1.0), pole)
    other = math.copysign(90.0 - 10.0 ** dice.uniform(-5.0, 1.0), pole)
    lon1, lon2 = dice.uniform(-180.0, 180.0), dice.uniform(-180.0, 180.0)
    return near, lon1, dice.choice((other, dice.uniform(-80.0, 80.0))), lon2


def _pole(dice: random.Random) -> Ends:
    """A pole itself, written with the longitude of the other end."""
    lat, lon = _anywhere(dice)
    ends = (lat, lon), (dice.choice((-90.0, 90.0)), lon)
    return (*ends[1], *ends[0]) if dice.random() < 0.5 else (*ends[0], *ends[1])


def _antimeridian(dice: random.Random) -> Ends:
    west, east = (10.0 ** dice.uniform(-4.0, 1.5) for _ in range(2))
    lat = dice.uniform(-75.0, 75.0)
    side = dice.choice((-1.0, 1.0))
    far = dice.uniform(-1.0, 1.0) * (west + east)
    return lat, side * (180.0 - west), lat + max(-14.0, min(14.0, far)), -side * (180.0 - east)


def _antipodal(dice: random.Random) -> Ends:
    lat, lon = dice.uniform(-88.0, 88.0), dice.uniform(-180.0, 180.0)
    off = 10.0 ** dice.uniform(-2.0, 0.7)
    turn = dice.uniform(0.0, math.tau)
    return lat, lon, -lat + off * math.cos(turn), lon + 180.0 + off * math.sin(turn)


def _meridian(dice: random.Random) -> Ends:
    lat, lon = _anywhere(dice)
    return lat, lon, dice.uniform(-90.0, 90.0), lon


def _near_east_west(dice: random.Random) -> Ends:
    lat, lon = dice.uniform(-85.0, 85.0), dice.uniform(-180.0, 180.0)
    rise = dice.choice((0.0, 10.0 ** dice.uniform(-10.0, -3.0)))
    return lat, lon, lat + rise, lon + dice.choice((-1, 1)) * 10.0 ** dice.uniform(-4.0, 2.2)


CATEGORIES: dict[str, tuple[int, Callable[[random.Random], Ends]]] = {
    "short": (300, _short),
    "leg": (500, _leg),
    "long": (300, _long),
    "polar": (250, _polar),
    "pole": (50, _pole),
    "antimeridian": (250, _antimeridian),
    "antipodal": (200, _antipodal),
    "meridian": (100, _meridian),
    "east-west": (150, _near_east_west),
}

if __name__ == "__main__":
    main()
