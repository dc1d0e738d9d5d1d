"""The shape of the house: imports go down, partners have one home, the code stays calm.

Each test makes one pass over the package and lists all that breaks its rule.
"""

from __future__ import annotations

import ast
import re
import statistics
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path

from walls import OPTIONS_BELOW_CLI, SENTENCES_BELOW_THE_EDGES

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "plotter"

# From the ground up. A module may import its own layer and those below it.
LAYERS = (
    "messages",
    "errors",
    "plain_file",
    "files",
    "earth",
    "wording",
    "places",
    "route",
    "chart",
    "flight",
    "formats",
    "maps",
    "paper",
    "datastore",
    "inputs",
    "exports",
    "results",
    "api",
    "web",
    "cli",
    "__main__",
)
RANK = {name: rank for rank, name in enumerate(LAYERS)}
# The two doors know nothing of each other, except that one command opens the other door.
DOORS = {"cli", "web"}
OPENS_THE_OTHER_DOOR = "cli.serve"

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
    "pydantic_core": ("flight.plan.check", "web"),  # the checker without the start of models
    "click": ("cli",),
    "rich": ("cli",),
    "fastapi": ("web",),
    "starlette": ("web",),
    "uvicorn": ("web.serving", "web.connections"),
    "markdown_it": ("web.guide",),
    "astral": ("earth.sun",),
    "rapidfuzz": ("places",),
    "platformdirs": ("datastore.home",),
}
# What nothing below datastore/ may reach for: the clock, the environment, the network.
OUTSIDE = {"os", "socket", "urllib", "http", "tempfile", "getpass", "platform"}
CLOCKS = (".today()", ".now(", ".utcnow(", "time.time(")
MAY_REACH_OUTSIDE = (
    "plain_file",
    "files",
    "datastore",
    "inputs",
    "exports",
    "results",
    "api",
    "cli",
    "web",
    "__main__",
    "paper",
)
# Where a sentence for people may be finished: the edges, the words every output shares, and the
# table of plan keys with its plan to start from: a new key is one entry, its words with it.
EDGES = ("messages", "wording", "paper", "cli", "web", "__main__")
TABLE_OF_KEYS = ("flight.plan.keys", "flight.plan.starter")


@cache
def modules() -> dict[str, Path]:
    paths = sorted(path for path in PACKAGE.rglob("*.py") if "data" not in path.parts[-3:-1])
    return {name_of(path): path for path in paths}


def name_of(path: Path) -> str:
    parts = path.relative_to(PACKAGE).with_suffix("").parts
    return ".".join(part for part in parts if part != "__init__")


@cache
def text_of(path: Path) -> str:
    return path.read_text(encoding="utf-8")


@cache
def tree_of(path: Path) -> ast.Module:
    return ast.parse(text_of(path))


def imports_of(path: Path, for_types_too: bool = True) -> Iterator[str]:
    """Every module that a file imports, and every name in it, inside functions too."""
    tree = tree_of(path)
    blocks = () if for_types_too else tuple(filter(is_for_types, tree.body))
    skipped = {id(node) for block in blocks for node in ast.walk(block)}
    for node in ast.walk(tree):
        if id(node) in skipped:
            continue
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


@cache
def own_imports(name: str) -> frozenset[str]:
    imported = imports_of(modules()[name])
    ours = {each.removeprefix("plotter.") for each in imported if each.startswith("plotter.")}
    return frozenset(ours & modules().keys() - {""})


def layer(name: str) -> str:
    return name.split(".")[0]


def test_imports_only_go_down() -> None:
    upward = {
        f"{name} imports {other}"
        for name in modules().keys() - {""}
        for other in own_imports(name)
        if RANK[layer(other)] > RANK[layer(name)]
    }
    assert not upward


def test_the_two_doors_are_apart() -> None:
    across = {
        f"{name} imports {other}"
        for name in modules().keys() - {OPENS_THE_OTHER_DOOR}
        for other in own_imports(name)
        if {layer(name), layer(other)} == DOORS
    }
    assert not across


def test_no_import_cycle() -> None:
    graph = {name: own_imports(name) - {name} for name in modules()}
    settled: set[str] = set()
    while graph.keys() - settled:
        ready = {n for n in graph.keys() - settled if not (graph[n] & graph.keys()) - settled}
        assert ready, f"a cycle among {sorted(graph.keys() - settled)}"
        settled |= ready


def test_each_partner_has_one_home() -> None:
    strays = {
        f"{name} imports {imported}"
        for name, path in modules().items()
        for imported in imports_of(path, for_types_too=False)
        if not name.startswith(HOMES.get(imported.split(".")[0], ("",)))
    }
    assert not strays


def test_below_the_datastore_nothing_reaches_outside() -> None:
    reached = {
        f"{name} reaches for {what}"
        for name, path in modules().items()
        if name and not name.startswith(MAY_REACH_OUTSIDE)
        for what in [
            *({imported.split(".")[0] for imported in imports_of(path)} & OUTSIDE),
            *(clock for clock in CLOCKS if clock in text_of(path)),
        ]
    }
    assert not reached


def test_exit_codes_live_only_at_the_command_line() -> None:
    ending = {name for name, path in modules().items() if "sys.exit" in text_of(path)}
    assert {name for name in ending if layer(name) not in ("cli", "__main__")} == set()


def strings(path: Path) -> Iterator[str]:
    """Every text of a module that is no docstring; of an f-string its fixed parts, joined."""
    tree = tree_of(path)
    skipped = set()
    for node in ast.walk(tree):
        body = getattr(node, "body", None)
        for statement in body if isinstance(body, list) else ():
            if isinstance(statement, ast.Expr) and isinstance(statement.value, ast.Constant):
                skipped.add(id(statement.value))
        if isinstance(node, ast.JoinedStr):
            skipped.update(id(part) for part in node.values)
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            yield "".join(
                str(part.value) if isinstance(part, ast.Constant) else "…" for part in node.values
            )
        elif isinstance(node, ast.Constant) and id(node) not in skipped:
            yield from [node.value] if isinstance(node.value, str) else []


def counted(names: Iterable[str]) -> dict[str, int]:
    return dict(sorted(Counter(names).items()))


def options_below_cli() -> dict[str, int]:
    return counted(
        name
        for name, path in modules().items()
        if layer(name) not in ("messages", "cli")  # test_cli_options_named.py reads the catalogue
        for text in strings(path)
        for _ in re.findall(r"(?<![\w-])--[a-z][a-z-]+", text)
    )


def is_sentence(text: str) -> bool:
    """Four words or more that end as a sentence does, or go on after a colon."""
    return len(re.findall(r"[A-Za-z]{2,}", text)) >= 4 and bool(re.search(r"[.?!]\s*$|: ", text))


def sentences_below_the_edges() -> dict[str, int]:
    return counted(
        name
        for name, path in modules().items()
        if layer(name) not in EDGES and name not in TABLE_OF_KEYS
        for text in strings(path)
        if is_sentence(text)
    )


def shrinks_only(now: Mapping[str, int], allowed: Mapping[str, int]) -> None:
    """Nothing may be added; what has gone leaves the list too, so that it cannot come back."""
    assert {name: n for name, n in now.items() if n > allowed.get(name, 0)} == {}
    left = {name: n for name, n in allowed.items() if n > now.get(name, 0)}
    assert left == {}, "fewer now: take them off the list in walls.py"


def test_no_option_is_named_below_the_command_line() -> None:
    shrinks_only(options_below_cli(), OPTIONS_BELOW_CLI)


def test_no_sentence_is_finished_below_the_edges() -> None:
    shrinks_only(sentences_below_the_edges(), SENTENCES_BELOW_THE_EDGES)


def functions(name: str, path: Path) -> Iterator[tuple[str, int]]:
    """Each function by module, class, name and line, with the length of its body."""

    def inside(node: ast.AST, within: str) -> Iterator[tuple[str, int]]:
        for child in ast.iter_child_nodes(node):
            called = within
            if isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
                called = f"{within}.{child.name}"
                if not isinstance(child, ast.ClassDef):
                    yield f"{called}:{child.lineno}", body_length(child)
            yield from inside(child, called)

    yield from inside(tree_of(path), name)


def body_length(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    body = node.body
    if isinstance(body[0], ast.Expr) and isinstance(body[0].value, ast.Constant):
        body = body[1:] or body
    last = body[-1].end_lineno
    assert last is not None
    return last - body[0].lineno + 1


def test_functions_stay_short() -> None:
    bodies = dict(pair for name, path in modules().items() for pair in functions(name, path))
    sizes = sorted(bodies.values())
    assert statistics.median(sizes) <= 8
    assert sizes[int(0.9 * len(sizes))] < 30
    assert {at: n for at, n in bodies.items() if n > 60} == {}


def test_files_stay_short() -> None:
    """At the median lines of code count, at the upper end every line."""
    paths = {n: path for n, path in modules().items() if path.name != "__init__.py"}
    assert statistics.median(map(code_lines, paths.values())) <= 160
    lengths = {name: len(text_of(path).splitlines()) for name, path in paths.items()}
    assert {name: n for name, n in lengths.items() if n > 500} == {}


def code_lines(path: Path) -> int:
    """The lines of a file that are neither empty nor comment nor docstring."""
    named = (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef)
    words = {
        line
        for node in ast.walk(tree_of(path))
        if isinstance(node, named) and ast.get_docstring(node, clean=False) is not None
        for line in range(node.body[0].lineno, (node.body[0].end_lineno or 0) + 1)
    }
    return sum(
        bool(line.strip()) and not line.strip().startswith("#") and number not in words
        for number, line in enumerate(text_of(path).splitlines(), start=1)
    )
