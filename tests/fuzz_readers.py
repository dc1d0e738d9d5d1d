"""A fuzzer over everything that reads a pilot's file. Run it with ``python tests/fuzz_readers.py``.

It takes whole files of each format, spoils them (bytes turned, cut out, doubled, moved, spliced
from one another) and reads them. A reader may give contents or raise an error of the project's own,
in words; anything else is printed with the seed that makes it again, and the exit code is 1. It is
no part of the tests: it runs as long as it is told to.

    python tests/fuzz_readers.py [SECONDS] [SEED]
"""

from __future__ import annotations

import random
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import given_files

from plotter.errors import PlotterError
from plotter.flight.plan.read import read_plan
from plotter.formats.points_file import read_points_file
from plotter.formats.reading import file_route, read_file
from plotter.formats.readings_file import read_readings_file

ROOT = Path(__file__).parent.parent
SAMPLES = sorted((ROOT / "exports" / "sample").glob("demo.*"))
SPLICES = (
    b"<!DOCTYPE a [<!ENTITY b 'c'>]>", b"&b;", b"\x00", b"\xff\xfe", b"\xef\xbb\xbf", b"NaN",
    b"1e999",
    b"-" * 40, b"[" * 400, b"<a>" * 400, b"]]>", b"lat=\"95\"", b"180.0000001", b"\xe2\x80\xa8",
    b"9" * 400, b",,,,", b"\r", b"\n\n", b"'''", b"\"", b"{}", b"null",
)  # fmt: skip
LARGEST = 400_000
Read = Callable[[Path], object]


def spoiled(content: bytes, draw: random.Random, others: list[bytes]) -> bytes:
    """A file with one to eight things wrong with it."""
    data = bytearray(content)
    for _ in range(draw.randint(1, 8)):
        at = draw.randrange(len(data) + 1)
        size = draw.choice((1, 2, 8, 64, 1024))
        kind = draw.randrange(7)
        if kind == 0 and data:
            data[at % len(data)] ^= 1 << draw.randrange(8)
        elif kind == 1:
            del data[at : at + size]
        elif kind == 2:
            data[at:at] = data[at : at + size]
        elif kind == 3:
            data[at:at] = draw.choice(SPLICES)
        elif kind == 4:
            other = draw.choice(others)
            start = draw.randrange(len(other))
            data[at:at] = other[start : start + size]
        elif kind == 5:
            del data[at:]
        else:
            data[at : at + size] = bytes(draw.randrange(256) for _ in range(min(size, 64)))
    return bytes(data[:LARGEST])


def readers() -> list[tuple[str, bytes, Read]]:
    """Every kind of file with a whole example of it and how it is read."""
    found: list[tuple[str, bytes, Read]] = []
    for path in SAMPLES:
        if path.suffix != ".html":
            found.append((path.suffix, path.read_bytes(), _as_route))
    for suffix, make, _ in given_files.REFUSED.values():
        made = make()
        data = made if isinstance(made, bytes) else made.encode("utf-8")
        found += [(suffix, data, _as_route)] if 0 < len(data) < LARGEST else []
    points = b"name,latitude,longitude,elevation_ft,note\nBarn,43.95,-92.41,1200,red\n"
    found.append((".csv", points, read_points_file))
    measured = b"start,end,reading,unit,course\nKRST,KLSE,54.0,nm,093M\n"
    found.append((".csv", measured, lambda path: read_readings_file(path, "nm")))
    plan = (ROOT / "exports" / "sample" / "flight.toml").read_bytes()
    found.append((".toml", plan, lambda path: read_plan(path.read_bytes().decode("utf-8"), "plan")))
    return found


def _packed_again(suffix: str, content: bytes, draw: random.Random, others: list[bytes]) -> bytes:
    """A spoiled file; of an archive every other time what is in it, packed whole again."""
    if suffix == ".kmz" and draw.random() < 0.5:
        document = given_files.kml(given_files.kml_point("Barn", given_files.BARN))
        return given_files.kmz(spoiled(document.encode("utf-8"), draw, others))
    return spoiled(content, draw, others)


def _as_route(path: Path) -> object:
    contents = read_file(path)
    return [caution.text for caution in file_route(contents).cautions] if contents else None


def run(seconds: float, seed: int) -> int:
    """Spoil and read until the time is up; gives how many failures were found."""
    kinds = readers()
    others = [content for _, content, _ in kinds]
    seen: Counter[str] = Counter()
    failures = tries = 0
    end = time.monotonic() + seconds
    with tempfile.TemporaryDirectory() as folder:
        while time.monotonic() < end:
            tries += 1
            draw = random.Random(seed * 1_000_003 + tries)
            suffix, content, read = draw.choice(kinds)
            path = Path(folder) / f"spoiled{suffix}"
            path.write_bytes(_packed_again(suffix, content, draw, others))
            try:
                read(path)
                seen[f"{suffix} read"] += 1
            except UnicodeDecodeError:
                seen[f"{suffix} refused"] += 1
            except PlotterError as fault:
                seen[f"{suffix} refused"] += bool(fault.message)
            except Exception:
                failures += 1
                print(f"seed {seed}, try {tries}, {suffix}:")
                traceback.print_exc(limit=-4)
                if failures >= 10:
                    break
    print(
        f"{tries} files, {failures} failures; "
        + ", ".join(f"{name} {count}" for name, count in sorted(seen.items()))
    )
    return failures


if __name__ == "__main__":
    given = [float(word) for word in sys.argv[1:]]
    sys.exit(run(given[0] if given else 60.0, int(given[1]) if len(given) > 1 else 1) > 0)
