"""How long the work takes, as ratios of two things measured side by side in one run.

Run it with ``python tests/benchmark.py``. It prints and never fails: a time on one machine says
nothing on another, a ratio nearly does.
"""

from __future__ import annotations

import itertools
import math
import os
import re
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import date
from pathlib import Path

import gpxpy
import httpx
import numpy as np
from flights import aircraft, plan
from pyproj import Geod

from plotter.datastore.opening import open_store
from plotter.earth.geodesic import leg_arrays, measure
from plotter.earth.position import Position
from plotter.flight.log import navigation_log, wishes_of
from plotter.flight.plan.values import Plan
from plotter.formats.reading import file_route, read_file
from plotter.places.airports import airports_beside
from plotter.places.nearness import near
from plotter.places.search import search
from plotter.route.plotting import Wishes, plot_route
from plotter.route.suggesting import suggest
from plotter.web.guard import TOKEN_HEADER

# An installed program has its bytecode; without it every start compiles every module.
WORLD = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
ROUTE = ("KRST", "KLSE", "KEAU", "KDLH")
REPEATS = 15


def fastest(work: Callable[[], object], repeats: int = REPEATS) -> float:
    """The shortest time [s] of several: the one least disturbed by other work."""
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def interleaved(first: Callable[[], object], second: Callable[[], object]) -> tuple[float, float]:
    """Both, turn about, so that a slow moment of the machine hits both."""
    times: tuple[list[float], list[float]] = ([], [])
    for _ in range(REPEATS):
        for work, kept in zip((first, second), times, strict=True):
            kept.append(fastest(work, 1))
    return min(times[0]), min(times[1])


def plotter(*arguments: str) -> Callable[[], object]:
    """A call of the installed command in a fresh process."""
    command = str(Path(sys.executable).with_name("plotter"))
    return lambda: subprocess.run([command, *arguments], check=True, capture_output=True, env=WORLD)


def python(*arguments: str) -> Callable[[], object]:
    """A call of this Python in a fresh process."""
    return lambda: subprocess.run(
        [sys.executable, *arguments], check=True, capture_output=True, env=WORLD
    )


def ratio(title: str, ours_s: float, yardstick_s: float, wanted: float) -> None:
    """Print one line: the ratio, what it should not pass, and both times."""
    print(
        f"{title:<58} {ours_s / yardstick_s:5.2f} x (wanted {wanted} x)"
        f"   {1e3 * ours_s:.1f} ms / {1e3 * yardstick_s:.1f} ms"
    )


def commands(folder: str) -> None:
    """The command line against the bare import of what it stands on."""
    plot = ("plot", *ROUTE, "--date", "2026-07-04")
    plotter(*plot, "--as", "none")()
    light = interleaved(
        plotter(*plot, "--as", "none"), python("-c", "import click, sqlite3, pyproj")
    )
    ratio("plot --as none / import click, sqlite3, pyproj", *light, 1.4)
    plan = str(Path(__file__).parent.parent / "exports" / "sample" / "flight.toml")
    logged = interleaved(plotter("log", plan), python("-c", "import click, pyproj, pydantic"))
    ratio("log / import click, pyproj, pydantic", *logged, 1.8)
    heavy = interleaved(
        plotter(*plot, "--into", folder, "--replace"),
        python("-c", "import folium"),
    )
    ratio("plot map, gpx, kml / import folium alone", *heavy, 1.0)


def arrays() -> None:
    """A million legs against one raw inverse on the same arrays."""
    random = np.random.default_rng(1)
    lat1, lat2 = random.uniform(-80, 80, (2, 1_000_000))
    lon1, lon2 = random.uniform(-180, 180, (2, 1_000_000))
    geod = Geod(ellps="WGS84")
    times = interleaved(
        lambda: leg_arrays(lat1, lon1, lat2, lon2), lambda: geod.inv(lon1, lat1, lon2, lat2)
    )
    ratio("a million legs by arrays / raw Geod.inv", *times, 1.6)


def flight_log() -> None:
    """A log of 6 legs and 60 checkpoints, once loaded, against the plot of its route."""
    store, steps = open_store(), itertools.count()

    def another() -> Plan:
        """No two alike: what is kept at hand of the one before helps only as while drawing."""
        point = f"{44.9 + next(steps) / 1e4:.4f},-91.5"
        return plan(
            route=f"KRST KLSE {point} KRPD KDLH KBRD KAXN",
            every_nm=6.0,
            aircraft=aircraft(usable_fuel=99.0, fuel_on_board=90.0),
        )

    log = navigation_log(another(), store)
    assert (len(log.plot.route.legs), len(log.plot.checkpoints)) == (6, 61)
    times = interleaved(
        lambda: navigation_log(another(), store),
        lambda: plot_route((made := another()).route, store, wishes_of(made)),
    )
    ratio("log of 6 legs, 60 checkpoints / plot of its route", *times, 2.2)
    print(f"that log: {1e3 * times[0]:.1f} ms (wanted 15)")


def planning_page() -> None:
    """A plan of 10 legs and 60 checkpoints on the page, a point of it dragged: every answer new."""
    route = "KRST KLSE KEAU KRPD KDLH KBRD KAXN KSTC KMKT KOWA KRST"
    store = open_store()
    whole_nm = plot_route(route, store, Wishes(date=date(2026, 7, 4))).route.distance_nm
    body = {"route": route, "date": "2026-07-04", "every_nm": whole_nm / 65}
    with running_page() as page:
        plan = page.get("/api/plan/new").json()["plan"]
        plan["flight"]["cruise_altitude_ft"] = 4500
        plan["flight"]["checkpoints_every_nm"] = whole_nm / 65
        plan["aircraft"] |= {"usable_fuel": 200, "fuel_on_board": 190}
        for title, asked in (("", body), (" with its log", {**body, "plan": plan})):
            dragged = iter([{**asked, "edit": moved(k)} for k in range(320)])
            taken = timed(lambda d=dragged: page.post("/api/sheet", json=next(d)), 320)
            taken = sorted(taken[20:])
            print(
                f"page{title}, 10 legs: median {1e3 * taken[150]:.1f} ms (wanted 15), "
                f"99 of a hundred under {1e3 * taken[297]:.1f} ms (wanted 40)"
            )


def moved(step: int) -> dict[str, object]:
    """The fifth point dragged to another place at each step, on a circle of 0.2 degrees."""
    north, east = 0.2 * math.sin(step / 50), 0.2 * math.cos(step / 50)
    place = {"latitude_deg": 46.8 + north, "longitude_deg": -92.2 + east, "snap_nm": 0}
    return {"kind": "move", "index": 4, **place}


@contextmanager
def running_page() -> Iterator[httpx.Client]:
    """``plotter serve`` as it is run, and a client that has its token."""
    command = [str(Path(sys.executable).with_name("plotter")), "serve", "--port", "0"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=WORLD) as process:
        assert process.stdout is not None
        found = next(filter(None, (re.search(r"http://\S+/", line) for line in process.stdout)))
        with httpx.Client(base_url=found[0], timeout=60) as client:
            client.headers[TOKEN_HEADER] = client.get("/api/session").json()["token"]
            yield client
        process.kill()


def timed(work: Callable[[], object], times: int) -> list[float]:
    """How long [s] each of so many runs took, in their order."""
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return taken


def track_file(path: Path, points: int) -> Path:
    """A GPX file with one long track, invented: a spiral flown over a week."""
    with path.open("w", encoding="utf-8") as file:
        file.write('<?xml version="1.0"?><gpx xmlns="http://www.topografix.com/GPX/1/1" ')
        file.write('version="1.1" creator="benchmark"><trk><name>Long</name><trkseg>')
        for k in range(points):
            lat, lon = 44.0 + math.sin(k / 9e3) * k / 1e6, -92.0 + math.cos(k / 9e3) * k / 1e6
            file.write(f'<trkpt lat="{lat:.6f}" lon="{lon:.6f}"><ele>{900 + k % 700}</ele>')
            file.write(f"<time>2026-07-{1 + k // 86400 % 28:02d}T{k // 3600 % 24:02d}:")
            file.write(f"{k // 60 % 60:02d}:{k % 60:02d}Z</time></trkpt>")
        file.write("</trkseg></trk></gpx>")
    return path


READ_TRACK = """
import resource, sys, time
from pathlib import Path
from plotter.formats.reading import file_route
from plotter.formats.reading import read_file
bare = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
start = time.perf_counter()
route = file_route(read_file(Path(sys.argv[1])))
print(time.perf_counter() - start, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024,
      bare / 1024, len(route.waypoints))
"""


def imports(folder: Path) -> None:
    """A track of a million points read into a route: time and memory; and against gpxpy."""
    million = track_file(folder / "million.gpx", 1_000_000)
    done = subprocess.run(
        [sys.executable, "-c", READ_TRACK, str(million)],
        check=True,
        capture_output=True,
        text=True,
        env=WORLD,
    )
    taken_s, most_mb, bare_mb, turns = map(float, done.stdout.split())
    print(
        f"a track of 1,000,000 points: {taken_s:.1f} s (wanted 20), {most_mb:.0f} MB at the most "
        f"(wanted 150; {bare_mb:.0f} before), {turns:.0f} turning points"
    )
    million.unlink()
    small = track_file(folder / "track.gpx", 50_000)
    ours_s = fastest(lambda: file_route(read_file(small)), 3)
    theirs_s = fastest(lambda: gpxpy.parse(small.read_text(encoding="utf-8")), 3)
    ratio("a track of 50,000 points into a route / gpxpy.parse", ours_s, theirs_s, 1.0)


def places() -> None:
    """Look-ups, in milliseconds beside what they should not pass."""
    lines = (measure(Position(44.0, -96.0), Position(42.5, -89.4 + k / 1e4)) for k in range(99))
    line, store = next(lines), open_store()
    near_s = fastest(lambda: airports_beside(store, [next(lines)], 10.0))
    print(f"airports within 10 NM of {line.distance_nm:.0f} NM: {1e3 * near_s:.1f} ms (wanted 10)")
    point = Position(44.0, -92.5)
    nearby_s = fastest(lambda: near(store, point, 50.0))
    print(f"airports within 50 NM of a point: {1e3 * nearby_s:.1f} ms (wanted 10)")
    for text in ("s", "ro", "san", "la cro"):
        search_s = fastest(lambda text=text: suggest(store, text))  # type: ignore[misc]
        print(f"suggestions for '{text}': {1e3 * search_s:.1f} ms (wanted 15)")
    slip_s = fastest(lambda: search(store, "minneaplis"))
    print(f"a misspelt name: {1e3 * slip_s:.1f} ms (wanted 60)")
    print(f"one identifier, cold: {cold_lookup_ms():.1f} ms (wanted 6)")


def cold_lookup_ms() -> float:
    """Opening the store and asking for one identifier in a fresh process, imports aside [ms]."""
    code = (
        "import time; from plotter.datastore.opening import open_store;"
        "from plotter.places.lookup import resolve; start = time.perf_counter();"
        "resolve(open_store(), 'KRST', None); print(1e3 * (time.perf_counter() - start))"
    )
    return min(float(_output(code)) for _ in range(REPEATS))


def _output(code: str) -> str:
    return subprocess.run(
        [sys.executable, "-c", code], check=True, capture_output=True, text=True, env=WORLD
    ).stdout


def sizes(folder: Path) -> None:
    """The weight of a 300 NM map."""
    route: Sequence[str] = ("44.0,-96.0", "42.5,-89.4")
    python("-m", "plotter", "plot", *route, "--into", str(folder), "--as", "map", "--name", "m")()
    print(f"a 300 NM map: {(folder / 'm.html').stat().st_size / 1000:.0f} kB (wanted 350)")


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as scratch:
        commands(scratch)
        arrays()
        flight_log()
        planning_page()
        places()
        imports(Path(scratch))
        sizes(Path(scratch))
