"""The wheel, built and used from an empty folder with nothing but what it declares."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tarfile
import venv
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent


def run(*command: str | Path, cwd: Path, home: Path) -> subprocess.CompletedProcess[str]:
    environment = {k: v for k, v in os.environ.items() if not k.startswith(("PYTHON", "PLOTTER"))}
    return subprocess.run(
        [str(part) for part in command],
        cwd=cwd,
        env=environment | {"PLOTTER_HOME": str(home), "PYTHONWARNINGS": "error"},
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    target = tmp_path_factory.mktemp("dist")
    pip = [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "--no-build-isolation"]
    done = subprocess.run([*pip, "-w", target, ROOT], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    (built,) = target.glob("*.whl")
    return built


@pytest.mark.slow
def test_it_carries_data_and_assets_and_nothing_else(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        names = archive.namelist()
    for needed in (
        "data/airports.csv",
        "guide/explanation/data.md",
        "data/register.json",
        "py.typed",
        "maps/assets/",
    ):
        assert any(name.startswith(f"plotter/{needed}") for name in names), needed
    tops = {name.split("/")[0] for name in names}
    assert {top for top in tops if not top.endswith(".dist-info")} == {"plotter"}
    assert not [name for name in names if "data/build" in name or "__pycache__" in name]


@pytest.mark.slow
def test_the_source_distribution_carries_all_that_its_tests_need(tmp_path: Path) -> None:
    build = [sys.executable, "-m", "hatchling", "build", "-t", "sdist", "-d", str(tmp_path)]
    done = subprocess.run(build, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    (built,) = tmp_path.glob("*.tar.gz")
    with tarfile.open(built) as archive:
        held = {name.partition("/")[2] for name in archive.getnames()}
    kept = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    wanted = set(kept.stdout.split("\n")) if kept.returncode == 0 else set()
    for needed in (
        "exports/sample/demo.gpx",
        "plotter/guide/explanation/data.md",
        "tests/conftest.py",
        "NOTICES.md",
    ):
        assert needed in held, needed
    assert {name for name in wanted - held if name and not name.startswith(".")} == set()


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new virtual environment with the wheel and what it declares, no development tools."""
    folder = tmp_path_factory.mktemp("env")
    venv.create(folder, with_pip=True)
    scripts = folder / ("Scripts" if os.name == "nt" else "bin")
    pip = [scripts / "python", "-m", "pip", "install", "-q", "--disable-pip-version-check"]
    done = subprocess.run([*pip, wheel], capture_output=True, text=True, check=False)
    if done.returncode and "CI" not in os.environ:
        pytest.skip("without a network the packages it needs cannot be fetched")
    assert done.returncode == 0, done.stderr
    return scripts


@pytest.mark.slow
def test_it_plots_from_an_empty_folder(installed: Path, tmp_path: Path) -> None:
    plotter, home = installed / "plotter", tmp_path / "home"
    empty = tmp_path / "empty"
    empty.mkdir()
    done = run(
        plotter, "plot", "KRST", "KONA", "--date", "2026-07-04", "--json", cwd=empty, home=home
    )
    assert done.returncode == 0, done.stderr
    document = json.loads(done.stdout)
    assert document["schema"] == "plot-1"
    files = sorted(path.suffix for path in (empty / "exports").iterdir())
    assert files == [".gpx", ".html", ".kml"]
    assert run(plotter, "data", "check", cwd=empty, home=home).returncode == 0


@pytest.mark.slow
def test_every_module_imports_without_development_tools(installed: Path, tmp_path: Path) -> None:
    code = (
        "import importlib, importlib.util, pkgutil, plotter\n"
        "for tool in ('pytest', 'hypothesis', 'mypy', 'lxml'):\n"
        "    assert importlib.util.find_spec(tool) is None, tool\n"
        "for module in pkgutil.walk_packages(plotter.__path__, 'plotter.'):\n"
        "    if not module.name.endswith('__main__'):\n"
        "        importlib.import_module(module.name)\n"
    )
    done = run(installed / "python", "-W", "error", "-c", code, cwd=tmp_path, home=tmp_path)
    assert done.returncode == 0, done.stderr
