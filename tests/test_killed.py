"""An export of every format, killed or refused at every step: each file the old one or the new.

One driver process imports everything once, makes every format's bytes once, and forks a child for
each death; what the children leave is looked at by the driver and judged here.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from plotter.exports import FORMATS

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="no fork, no such signals")
HERE = Path(__file__).parent

DRIVER = """
import errno, functools, json, os, signal, sys, tempfile
from dataclasses import replace
from pathlib import Path

folder, here = Path(sys.argv[1]), sys.argv[2]
sys.path.insert(0, here)
import plots
from plotter import files as atomic
from plotter import exports as exporting
from plotter.errors import WriteFault

tempfile.tempdir = str(folder / "temporary")
os.mkdir(tempfile.tempdir)
target = folder / "out"
OLD, NEW = plots.short(), plots.mountain()
real_formats = exporting.FORMATS

def remembering(made):
    kept = {plot.name: made.write(exporting.Job(plot)) for plot in (OLD, NEW)}
    return replace(made, write=lambda job: kept[job.plot.name])

exporting.FORMATS = {name: remembering(made) for name, made in real_formats.items()}
paths = {name: target / f"trip{made.suffix}" for name, made in exporting.FORMATS.items()}
whole = {
    name: {made.write(exporting.Job(OLD)): "old", made.write(exporting.Job(NEW)): "new"}
    for name, made in exporting.FORMATS.items()
}

def export(plot, replace=True):
    exporting.export(plot, list(paths), target, "trip", replace=replace)

def look():
    seen = [
        "none" if not path.exists() else whole[name].get(path.read_bytes(), "BROKEN")
        for name, path in paths.items()
    ]
    strays = [path.name for path in target.iterdir() if path not in paths.values()]
    return {"seen": seen, "strays": len(strays), "scratch": len(os.listdir(tempfile.tempdir))}

def die():
    os.kill(os.getpid(), signal.SIGKILL)

def fail_at(step, nth, how):
    real, count = getattr(os, step), 0
    def counted(*arguments, **named):
        nonlocal count
        count += 1
        if count != nth:
            return real(*arguments, **named)
        if how == "full":
            raise OSError(errno.ENOSPC, "No space left on device")
        if how == "before":
            die()
        if isinstance(how, float):
            real(arguments[0], arguments[1][: int(how * len(arguments[1]))])
            die()
        real(*arguments, **named)
        die()
    setattr(atomic.os, step, counted)

def in_a_child(work):
    child = os.fork()
    if not child:
        try:
            work()
            os._exit(0)
        except WriteFault as fault:
            os._exit(3 if "the disk is full" in fault.message else 4)
        except BaseException:
            os._exit(5)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])

def calls(step):
    real, counted = getattr(os, step), []
    def counting(*arguments, **named):
        counted.append(1)
        return real(*arguments, **named)
    export(OLD)
    setattr(atomic.os, step, counting)
    export(NEW)
    setattr(atomic.os, step, real)
    return len(counted)

def try_out(step, nth, how, start):
    for path in target.glob("*"):
        path.unlink()
    if start == "old":
        export(OLD)
    code = in_a_child(lambda: (fail_at(step, nth, how), export(NEW, replace=start == "old")))
    after = look()
    export(NEW)
    print(json.dumps({
        "case": [step, nth, how, start], "code": code, **after, "then": look(),
    }))

export(OLD)
for step in ("open", "write", "fchmod", "fsync", "replace", "close"):
    for nth in range(1, calls(step) + 1):
        hows = ["before", "after"]
        if step == "write":
            hows += [0.0, 1e-3, 0.5, 0.999]
        if step in ("open", "write", "fsync", "replace"):
            hows += ["full"]
        for how in hows:
            try_out(step, nth, how, "old")
for nth in range(1, len(paths) + 1):
    for how in (0.5, "full"):
        try_out("write", nth, how, "nothing")
    for how in ("before", "after"):
        try_out("link", nth, how, "nothing")

# The GeoPackage is made by GDAL in a scratch folder: killed while it is.
exporting.FORMATS = real_formats
from plotter.formats import frame
def dying_at(layer):
    real, count = frame._count, 0
    def counted(path, name):
        if name == layer:
            die()
        return real(path, name)
    frame._count = counted
for layer in ("legs", "notes"):
    export(OLD)
    code = in_a_child(lambda: (dying_at(layer), export(NEW)))
    after = look()
    export(NEW)
    print(json.dumps({
        "case": ["gpkg", 1, layer, "old"], "code": code, **after, "then": look(),
    }))
"""


@pytest.fixture(scope="module")
def cases(tmp_path_factory: pytest.TempPathFactory) -> list[dict[str, Any]]:
    folder = tmp_path_factory.mktemp("killed")
    done = subprocess.run(
        [sys.executable, "-c", DRIVER, str(folder), str(HERE)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return [json.loads(line) for line in done.stdout.splitlines()]


def test_every_step_of_every_format_was_tried(cases: list[dict[str, Any]]) -> None:
    tried = {(step, nth) for step, nth, _, _ in (case["case"] for case in cases)}
    for step in ("write", "fchmod", "replace", "link"):
        assert {nth for name, nth in tried if name == step} == set(range(1, len(FORMATS) + 1))
    # The folder is opened, flushed and closed too, after each file.
    for step in ("open", "fsync", "close"):
        assert {nth for name, nth in tried if name == step} >= set(range(1, 2 * len(FORMATS) + 1))
    killed = [case for case in cases if case["case"][2] != "full"]
    assert {case["code"] for case in killed} == {-9}, "each child died at its step"


def test_each_file_is_the_old_one_or_the_new_one_whole(cases: list[dict[str, Any]]) -> None:
    for case in cases:
        before = "none" if case["case"][3] == "nothing" else "old"
        seen = case["seen"]
        assert set(seen) <= {before, "new"}, case
        assert seen == sorted(seen, key=lambda word: word != "new"), f"in the order written: {case}"
    every = {tuple(case["seen"]) for case in cases if case["case"][3] == "old"}
    assert len(every) == len(FORMATS) + 1, "from none renewed to all of them"


def test_at_most_one_temporary_file_stays(cases: list[dict[str, Any]]) -> None:
    strays = [case["strays"] + case["scratch"] for case in cases]
    assert set(strays) == {0, 1}
    full = [case for case in cases if case["case"][2] == "full"]
    assert {case["strays"] + case["scratch"] for case in full} == {0}


def test_the_next_run_works_and_clears_it(cases: list[dict[str, Any]]) -> None:
    whole = {"seen": ["new"] * len(FORMATS), "strays": 0, "scratch": 0}
    for case in cases:
        assert case["then"] == whole, case


def test_a_full_disk_is_a_fault_in_words(cases: list[dict[str, Any]]) -> None:
    """Only the flush of the folder after a file is whole may fail in silence."""
    full = [case for case in cases if case["case"][2] == "full"]
    of_folders = [case for case in full if case["code"] == 0]
    assert {case["code"] for case in full} == {0, 3}
    assert {case["case"][0] for case in of_folders} == {"open", "fsync"}
    assert all(case["seen"] == ["new"] * len(FORMATS) for case in of_folders)


def test_a_geopackage_killed_half_made_leaves_the_old_files(cases: list[dict[str, Any]]) -> None:
    made_by_gdal = [case for case in cases if case["case"][0] == "gpkg"]
    assert len(made_by_gdal) == 2
    for case in made_by_gdal:
        assert (case["seen"], case["scratch"]) == (["old"] * len(FORMATS), 1)


FILLING = """
import resource, sys, tempfile
from pathlib import Path
sys.path.insert(0, sys.argv[2])
import plots
from plotter.errors import WriteFault
from plotter.exports import FORMATS, Job
tempfile.tempdir = sys.argv[1]
def made():
    return FORMATS["gpkg"].write(Job(plots.short()))
whole = made()
_, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
for limit in [0, 1, *range(1000, len(whole), 3000), len(whole) - 1, len(whole)]:
    resource.setrlimit(resource.RLIMIT_FSIZE, (limit, hard))
    try:
        words = "whole" if made() == whole else "BROKEN"
    except WriteFault as fault:
        words = fault.message
    resource.setrlimit(resource.RLIMIT_FSIZE, (hard, hard))
    print(words)
"""


def test_a_disk_full_at_any_size_never_gives_a_broken_geopackage(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-c", FILLING, str(tmp_path), str(HERE)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    *faults, last = done.stdout.splitlines()
    assert last == "whole"
    assert len(faults) > 20
    for words in faults:
        assert words.startswith("the GeoPackage was not written; make room")
    assert list(tmp_path.iterdir()) == []
