"""The versions of the partner libraries: pin the newest, try the newest, try the lowest.

``python tests/versions.py renew`` writes ``tests/constraints.txt`` from the newest versions;
``newest`` and ``lowest`` run some of the tests with other versions than those pinned there.
Each works in an environment of its own in a temporary folder, and leaves this one alone.
"""

from __future__ import annotations

import argparse
import re
import subprocess
import sys
import tempfile
import tomllib
import venv
from collections.abc import Iterable, Sequence
from pathlib import Path

ROOT = Path(__file__).parent.parent
CONSTRAINTS = ROOT / "tests" / "constraints.txt"
NEXT_PYTHONS = ("3.12", "3.13", "3.14", "3.15")
"""Versions of Python above the lowest for which a pinned version may have no wheel yet."""
HEAD = """\
# The versions of all partner libraries, direct and indirect, with which every test passes.
# Written by "python tests/versions.py renew"; do not edit by hand.
# A pin ends at the first version of Python for which it has no wheel: there pip takes the newest.
"""
REPRESENTATIVE = (
    *("test_agreement", "test_basemap", "test_cli_find", "test_cli_log", "test_cli_plot"),
    *("test_datastore_home", "test_datastore_layers", "test_frame", "test_geodesic", "test_golden"),
    *("test_gpkg_in", "test_gpx", "test_gpx_in", "test_isogonic", "test_kml", "test_kml_in"),
    *("test_magnetism", "test_paper_rule", "test_plan_schema", "test_search", "test_spelling"),
    *("test_sun", "test_sun_clock", "test_web_app", "test_web_guard", "test_web_schema"),
)
"""Tests in which every partner library is at work."""


def declared() -> list[str]:
    """What ``pyproject.toml`` names, of the program and of its tests."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    return [*project["dependencies"], *project["optional-dependencies"]["test"]]


def lowest(requirements: Iterable[str]) -> list[str]:
    """Each requirement tied to its lower bound; ValueError where one has none.

    >>> lowest(["click>=8.4", "astral>=3.2,<4", "gpx==0.2.1"])
    ['click==8.4', 'astral==3.2', 'gpx==0.2.1']
    """
    return ["{}=={}".format(*_name_and_bound(each)) for each in requirements]


def _name_and_bound(requirement: str) -> tuple[str, str]:
    found = re.fullmatch(r"([\w.-]+)(?:>=|==)([\w.]+)(?:,<[\w.]+)?", requirement)
    if found is None:
        raise ValueError(f"'{requirement}' has no lower bound")
    return found[1], found[2]


def python_in(folder: Path) -> Path:
    """A new environment in a folder; its Python."""
    venv.create(folder, with_pip=True)
    return next(path for path in folder.glob("*/python*") if path.stem == "python")


def install(python: Path, *words: str) -> None:
    """Install the project for its tests, in the environment of this Python."""
    pip = [python, "-m", "pip", "install", "-q", "--disable-pip-version-check"]
    subprocess.run([*pip, "-e", f"{ROOT}[test]", *words], check=True)


def versions_in(python: Path) -> list[str]:
    """What is installed beside the project: ``name==version``."""
    pip = [python, "-m", "pip", "freeze", "--exclude-editable"]
    frozen = subprocess.run(pip, check=True, capture_output=True, encoding="utf-8").stdout
    return [line for line in frozen.splitlines() if re.fullmatch(r"[\w.-]+==[\w.+!]+", line)]


def pinned(python: Path, version: str) -> str:
    """The line of one version, with the first Python that has no wheel of it."""
    if not _has_wheel(python, version, "3.11"):
        return version  # pure Python, built from source wherever it is installed
    if _has_wheel(python, version, NEXT_PYTHONS[-1]):
        return version  # the versions between have theirs too
    lacking = (each for each in NEXT_PYTHONS if not _has_wheel(python, version, each))
    end = next(lacking, None)
    return f'{version} ; python_version < "{end}"' if end else version


def _has_wheel(python: Path, version: str, of: str) -> bool:
    with tempfile.TemporaryDirectory() as nowhere:
        pip = [python, "-m", "pip", "install", "-q", "--dry-run", "--no-deps", version]
        only = ["--only-binary=:all:", "--python-version", of, "--target", nowhere]
        return subprocess.run([*pip, *only], capture_output=True, check=False).returncode == 0


def renew(python: Path) -> int:
    """Write the constraints from the newest versions."""
    install(python)
    lines = [pinned(python, version) for version in versions_in(python)]
    CONSTRAINTS.write_text(HEAD + "\n".join(sorted(lines, key=str.lower)) + "\n", "utf-8")
    print(f"{CONSTRAINTS} written. Run all tests with it before it is committed.")
    return 0


def tried(python: Path, *words: str) -> int:
    """Install other versions and run the representative tests with them."""
    install(python, *words)
    there = dict(line.split("==") for line in versions_in(python))
    print("with " + ", ".join(f"{name} {number}" for name, number in sorted(there.items())))
    tests = [f"tests/{name}.py" for name in REPRESENTATIVE]
    run = [python, "-m", "pytest", "-q", "-n", "auto", "-p", "no:cacheprovider", *tests]
    return subprocess.run(run, check=False, cwd=ROOT).returncode


def main(arguments: Sequence[str] | None = None) -> int:
    """Do one of the three; the exit code is that of pip or of the tests."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("what", choices=["renew", "newest", "lowest"])
    what = parser.parse_args(arguments).what
    with tempfile.TemporaryDirectory() as folder:
        python = python_in(Path(folder) / "env")
        if what == "renew":
            return renew(python)
        if what == "newest":
            return tried(python)
        ties = Path(folder) / "lowest.txt"
        ties.write_text("\n".join(lowest(declared())) + "\n", encoding="utf-8")
        return tried(python, "-c", str(ties))


if __name__ == "__main__":
    sys.exit(main())
