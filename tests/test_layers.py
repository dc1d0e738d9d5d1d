"""The shape of the house: imports go down, partners have one home, the code stays calm."""

from __future__ import annotations

import ast
import statistics
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "plotter"

# From the ground up. A module may import its own layer and those below it.
LAYERS = (
    ("errors",),
    ("atomic",),
    ("placing",),
    ("earth",),
    ("wording",),
    ("places",),
    ("route",),
    ("flight",),
    ("chart",),
    ("formats",),
    ("maps",),
    ("paper",),
    ("datastore",),
    ("opening",),
    ("exporting",),
    ("papers",),
    ("results",),
    ("api",),
    ("cli",),
    ("web",),
    ("__main__",),
)
RANK = {name: rank for rank, names in enumerate(LAYERS) for name in names}

# Where each partner library may be imported, as a prefix of the module's dotted name.
HOMES = {
    "pyproj": ("earth.geodesic", "chart.projection", "datastore.offline"),
    "pygeomag": ("earth.magnetism",),
    # GDAL would follow what a GeoPackage from outside asks of it; SQLite can be told not to.
    "sqlite3": ("places.store", "datastore", "formats.gpkg_in"),
    "folium": ("maps.folium_map",),
    # Joins contour lines out of a grid, gaps left out; numpy is all it needs.
    "contourpy": ("maps.isogonic",),
    "simplekml": ("formats.kml",),
    "defusedxml": ("formats.xml_in",),
    "geopandas": ("formats.frame",),
    "reportlab": ("paper.page",),
    "pydantic": ("web",),
    "pydantic_core": ("flight.plan_file_check", "web"),  # the checker without the start of models
    "click": ("cli",),
    "rich": ("cli",),
    "fastapi": ("web",),
    "starlette": ("web",),
    "uvicorn": ("web.serving",),
    "astral": ("earth.sun",),
    "rapidfuzz": ("places",),
    "platformdirs": ("datastore.home",),
}
# What nothing below datastore/ may reach for: the clock, the environment, the network.
EDGES = {"os", "socket", "urllib", "http", "tempfile", "getpass", "platform"}
EDGE_USERS = (
    "atomic",
    "datastore",
    "opening",
    "exporting",
    "results",
    "api",
    "cli",
    "web",
    "__main__",
    "paper",
)


def modules() -> dict[str, Path]:
    paths = sorted(path for path in PACKAGE.rglob("*.py") if "data" not in path.parts[-3:-1])
    return {name_of(path): path for path in paths}


def name_of(path: Path) -> str:
    parts = path.relative_to(PACKAGE).with_suffix("").parts
    return ".".join(part for part in parts if part != "__init__")


def imports_of(path: Path, for_types_too: bool = True) -> Iterator[str]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    if not for_types_too:
        tree.body = [node for node in tree.body if not is_for_types(node)]
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative import"
            yield node.module or ""
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def is_for_types(node: ast.stmt) -> bool:
    return (
        isinstance(node, ast.If)
        and isinstance(node.test, ast.Name)
        and node.test.id == "TYPE_CHECKING"
    )


def own_imports(path: Path) -> set[str]:
    known = modules()
    found = {
        name.removeprefix("plotter.") for name in imports_of(path) if name.startswith("plotter.")
    }
    return {name for name in found if name in known and name}


@pytest.mark.parametrize("name", [name for name in modules() if name])
def test_imports_only_go_down(name: str) -> None:
    rank = RANK[name.split(".")[0]]
    above = {other for other in own_imports(modules()[name]) if RANK[other.split(".")[0]] > rank}
    if name.startswith("cli."):
        above = {other for other in above if not (name == "cli.serve" and other.startswith("web"))}
    assert not above, f"{name} imports {above} from a layer above it"


def test_no_import_cycle() -> None:
    graph = {name: own_imports(path) - {name} for name, path in modules().items()}
    settled: set[str] = set()
    while graph.keys() - settled:
        ready = {n for n in graph.keys() - settled if not (graph[n] & graph.keys()) - settled}
        assert ready, f"a cycle among {sorted(graph.keys() - settled)}"
        settled |= ready


@pytest.mark.parametrize("name", [name for name in modules() if name])
def test_each_partner_has_one_home(name: str) -> None:
    for imported in imports_of(modules()[name], for_types_too=False):
        homes = HOMES.get(imported.split(".")[0])
        if homes and not name.startswith(homes):
            pytest.fail(f"{name} imports {imported}; only {homes} may")


@pytest.mark.parametrize("name", [name for name in modules() if name])
def test_below_the_datastore_nothing_reaches_outside(name: str) -> None:
    if name.startswith(EDGE_USERS):
        return
    reached = {imported.split(".")[0] for imported in imports_of(modules()[name])} & EDGES
    assert not reached, f"{name} reaches for {reached}"
    text = modules()[name].read_text(encoding="utf-8")
    for clock in (".today()", ".now(", ".utcnow(", "time.time("):
        assert clock not in text, f"{name} reads the clock with {clock}"


def test_exit_codes_live_only_at_the_command_line() -> None:
    for name, path in modules().items():
        if not name.startswith(("cli", "__main__")):
            assert "sys.exit" not in path.read_text(encoding="utf-8"), name


def functions(path: Path) -> Iterator[tuple[str, int]]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            body = node.body
            if isinstance(body[0], ast.Expr) and isinstance(body[0].value, ast.Constant):
                body = body[1:] or body
            last = body[-1].end_lineno
            assert last is not None
            yield f"{path.name}:{node.name}", last - body[0].lineno + 1


def test_files_stay_short() -> None:
    lengths = {
        name: len(path.read_text(encoding="utf-8").splitlines())
        for name, path in modules().items()
        if path.name != "__init__.py"
    }
    assert statistics.median(lengths.values()) <= 160
    assert not {name: n for name, n in lengths.items() if n > 500}


def test_functions_stay_short() -> None:
    bodies = dict(pair for path in modules().values() for pair in functions(path))
    sizes = sorted(bodies.values())
    assert statistics.median(sizes) <= 8
    assert sizes[int(0.9 * len(sizes))] < 30
    assert not {name: n for name, n in bodies.items() if n > 60}


def test_as_much_test_as_code() -> None:
    """Lines that do something, on both sides: docstrings hold examples, and those are run too."""
    code = sum(map(working_lines, modules().values()))
    tests = sum(map(working_lines, (ROOT / "tests").rglob("*.py")))
    assert tests >= code, f"{tests} lines of tests for {code} of code"


def working_lines(path: Path) -> int:
    """The lines of a file that are neither empty nor comment nor docstring."""
    text = path.read_text(encoding="utf-8")
    nodes = [*ast.walk(ast.parse(text))]
    named = (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef)
    words = {
        line
        for node in nodes
        if isinstance(node, named) and ast.get_docstring(node, clean=False) is not None
        for line in range(node.body[0].lineno, (node.body[0].end_lineno or 0) + 1)
    }
    return sum(
        bool(line.strip()) and not line.strip().startswith("#") and number not in words
        for number, line in enumerate(text.splitlines(), start=1)
    )
