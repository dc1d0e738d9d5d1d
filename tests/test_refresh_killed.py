"""A refresh, killed or refused at every step: the tables in use are the old ones or the new ones.

The server is in this process; one driver forks a child for each death, and looks afterwards at
what a pilot's next call would use.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import raw_tables
from loopback import loopback

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(sys.platform == "win32", reason="no fork, no such signals"),
]
HERE = Path(__file__).parent

DRIVER = """
import errno, http.client, json, os, shutil, signal, sys
from pathlib import Path

folder, found = Path(sys.argv[1]), json.loads(sys.argv[2])
sys.path.insert(0, sys.argv[3])
from refreshing import World
from plotter import files as atomic
from plotter.datastore.check import check_tables
from plotter.datastore.sets import register_in_use, restore
from plotter.errors import WriteFault

world = World(folder, None)
OWN, KEPT, TABLES = folder / "own", folder / "kept", folder / "tables"
world.refresh(found["old"])
shutil.copytree(OWN, KEPT)
REAL = {step: getattr(os, step) for step in ("open", "write", "fsync", "replace")}
read1 = http.client.HTTPResponse.read1

def die():
    os.kill(os.getpid(), signal.SIGKILL)

def fail_at(step, nth, how):
    count = 0
    def counted(*arguments, **named):
        nonlocal count
        count += 1
        real = REAL.get(step, read1)
        if count != nth:
            return real(*arguments, **named)
        if how == "full":
            raise OSError(errno.ENOSPC, "No space left on device")
        if how == "before":
            die()
        if how == "half":
            real(arguments[0], arguments[1][: len(arguments[1]) // 2])
            die()
        real(*arguments, **named)
        die()
    if step == "read1":
        http.client.HTTPResponse.read1 = counted
    else:
        setattr(os, step, counted)

def in_a_child(work):
    child = os.fork()
    if not child:
        code = 5
        try:
            work()
            code = 0
        except WriteFault as fault:
            code = 3 if "the disk is full" in fault.message else 4
        finally:
            os._exit(code)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])

def fresh():
    shutil.rmtree(folder / "cache", ignore_errors=True)
    shutil.rmtree(OWN)
    shutil.copytree(KEPT, OWN)

def name_of():
    register = register_in_use(TABLES, OWN).register
    return "BROKEN" if check_tables(TABLES, register) else world.store().airport("KAAA").name

def calls(step):
    fresh()
    log = folder / f"calls-{step}"
    def counting(*arguments, **named):
        count[0] += 1
        return REAL[step](*arguments, **named)
    count = [0]
    def work():
        setattr(os, step, counting)
        world.refresh(found["new"])
        setattr(os, step, REAL[step])
        log.write_text(str(count[0]))
    assert in_a_child(work) == 0
    return int(log.read_text())

def try_out(step, nth, how):
    fresh()
    code = in_a_child(lambda: (fail_at(step, nth, how), world.refresh(found["new"])))
    seen = name_of()
    world.refresh(found["new"])
    sets = [path.name for path in (OWN / "sets").iterdir() if path.name.startswith("places-")]
    strays = [path.name for path in OWN.rglob("*") if ".partial-" in path.name]
    print(json.dumps({
        "case": [step, nth, how], "code": code, "seen": seen, "then": name_of(),
        "sets": len(sets), "strays": len(strays),
        "left": len(list((OWN / "sets" / "downloads").iterdir())),
    }))

for step in REAL:
    for nth in range(1, calls(step) + 1):
        hows = {"write": ["half", "full"], "replace": ["before", "after", "full"]}
        for how in hows.get(step, ["before"]):
            try_out(step, nth, how)
for nth in range(1, 13):
    try_out("read1", nth, "before")
"""


@pytest.fixture(scope="module")
def cases(tmp_path_factory: pytest.TempPathFactory) -> list[dict[str, Any]]:
    folder = tmp_path_factory.mktemp("refresh-killed")
    content = raw_tables.all_of_them()
    with loopback() as server:
        found = {
            age: {
                name: server.put(
                    f"{age}/{name}", table.replace(b"Demo KAAA", f"Demo {age}".encode())
                )
                for name, table in content.items()
            }
            for age in ("old", "new")
        }
        done = subprocess.run(
            [sys.executable, "-c", DRIVER, str(folder), json.dumps(found), str(HERE)],
            capture_output=True,
            text=True,
            check=False,
        )
    assert done.returncode == 0, done.stderr
    return [json.loads(line) for line in done.stdout.splitlines()]


def test_every_step_was_tried_and_every_child_died_there(cases: list[dict[str, Any]]) -> None:
    tried = {step: max(c["case"][1] for c in cases if c["case"][0] == step) for step in STEPS}
    # Two notes for each of six files, the six files of a set, the store, the pointer.
    assert tried["replace"] >= 12 + 6 + 1
    assert tried["open"] > tried["replace"]
    killed = [case for case in cases if case["case"][2] != "full"]
    assert {case["code"] for case in killed} == {-9}


STEPS = ("open", "write", "fsync", "replace", "read1")


def test_the_tables_in_use_are_the_old_ones_or_the_new_ones(cases: list[dict[str, Any]]) -> None:
    assert {case["seen"] for case in cases} == {"Demo old", "Demo new"}
    new = [case["case"] for case in cases if case["seen"] == "Demo new" and case["code"] == -9]
    (last,) = {nth for step, nth, how in new if step == "replace"}
    assert ["replace", last, "after"] in new
    assert ["replace", last, "before"] not in new, "the pointer's own renaming is the moment"


def test_the_next_refresh_works_and_clears_what_was_left(cases: list[dict[str, Any]]) -> None:
    for case in cases:
        assert case["then"] == "Demo new", case
        assert case["sets"] == 2, case
        assert (case["strays"], case["left"]) == (0, 0), case


def test_a_full_disk_is_said_and_changes_nothing(cases: list[dict[str, Any]]) -> None:
    full = [case for case in cases if case["case"][2] == "full"]
    said = [case for case in full if case["code"] == 3]
    assert len(said) >= 2 * (12 + 6)
    assert {case["seen"] for case in said} == {"Demo old"}
    # Where the store cannot be kept it is held in memory, and the tables are in use all the same.
    assert {case["seen"] for case in full if case["code"] == 0} <= {"Demo new"}
