"""The reference pages of the guide, made from the code: commands, notation, keys, JSON, Python."""

from __future__ import annotations

import dataclasses
import inspect
import io
import json
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import redirect_stdout
from pathlib import Path
from typing import Any

import click

from plotter import api
from plotter.cli.main import COMMANDS, plotter, run
from plotter.earth.position import Position
from plotter.flight.plan.schema import plan_schema
from plotter.wording import position

GUIDE = Path(__file__).parent.parent / "plotter" / "guide"
MADE = "<!-- made from the code: PLOTTER_UPDATE_DOCS=1 pytest tests/test_reference.py -->\n"
DAY = "2026-07-04"


def table(headings: Iterable[str], rows: Iterable[Iterable[str]]) -> str:
    lines = [list(headings), *map(list, rows)]
    lines.insert(1, ["---"] * len(lines[0]))
    cells = (" | ".join(_cell(cell) for cell in line) for line in lines)
    return "\n".join(f"| {line} |" for line in cells) + "\n"


def _cell(text: str) -> str:
    return re.sub(r"(?<!\\)\|", r"\\|", " ".join(text.split()))


def code(text: str) -> str:
    return f"`{text}`"


# Commands


def commands() -> str:
    parts = ["# Commands\n", COMMANDS_INTRO]
    for name in COMMANDS:
        command = plotter.get_command(click.Context(plotter), name)
        assert command is not None
        parts += _command(command, f"plotter {name}")
        for inner in getattr(command, "commands", {}).values():
            parts += _command(inner, f"plotter {name} {inner.name}")
    return "\n".join(parts)


COMMANDS_INTRO = """Exit codes: 0 done, 1 could not be done, 2 a value is wrong, 130 stopped.

`plotter --version` prints the version; every command has `--help`.
"""


def _command(command: click.Command, name: str) -> Iterator[str]:
    context = click.Context(command, info_name=name)
    usage = " ".join([name, *command.collect_usage_pieces(context)])
    yield f"## {name}\n\n```text\n{usage}\n```\n"
    yield "\n\n".join(" ".join(part.split()) for part in (command.help or "").split("\n\n")) + "\n"
    records = [
        param.get_help_record(context)
        for param in command.params
        if isinstance(param, click.Option)
    ]
    rows = [(code(record[0]), _quiet(record[1])) for record in records if record]
    if rows:
        yield table(("option", "meaning"), rows)


def _quiet(words: str) -> str:
    """Words of a help text in which braces and angle brackets stay text."""
    return words.replace("<", "&lt;")


# Route notation

POINTS = (
    ("an identifier: airport (ICAO, national, IATA) or navaid", ("KRST", "3MN4", "ODI")),
    ("an airport or navaid of that name, where both exist", ("airport:KRST", "navaid:ODI")),
    ("one place by its key in the data", ("key:US-0873",)),
    ("degrees (ICAO Doc 4444)", ("46N078W",)),
    ("degrees and minutes (ICAO Doc 4444)", ("4620N07805W",)),
    ("degrees, minutes and seconds", ("462013N0780512W",)),
    ("an ISO 6709 string", ("+4012.22-07500.25/",)),
    ("decimal degrees, south and west negative", ("41.234,-95.5",)),
    ("degrees and minutes with hemisphere letters, in quotes", ("43 54.5 N 092 30.0 W",)),
    ("a point, magnetic bearing from it, distance in NM", ("ODI090020",)),
    ("one of your own points (`--points FILE`), in quotes", ("Red barn",)),
    ("any of these with a name", ("BARN=43.95,-92.41",)),
)


def notation(folder: Path) -> str:
    """Every way to type a point, each plotted from a folder that holds the own points."""
    own = folder / "points.csv"
    own.write_text("name,latitude,longitude\nRed barn,43.95,-92.41\n", encoding="utf-8")
    rows = []
    for words, examples in POINTS:
        for example in examples:
            options = ("--points", str(own), "--date", DAY, "--as", "none", "--json")
            point = json.loads(printed("plot", example, "KEAU", *options))["points"][0]
            typed = f'"{example}"' if " " in example else example
            where = position(Position(point["latitude_deg"], point["longitude_deg"]))
            rows.append((words, code(typed), point["name"], where))
    listed = table(("a point is", "type", "name", "is at"), rows)
    return f"# Route notation\n\n{NOTATION}\n{listed}\n{AFTER}"


NOTATION = """A route is points separated by spaces. Latitude always comes first. `DCT` may
stand between points.
"""
AFTER = """A speed and level group of item 15 (`N0105A055`) or `VFR` may stand anywhere. It is
read and kept with the route (`flight.plot.cruise`), nothing is computed from it, and the output
says so.

"Written out" repeats the route so that, typed again, it is the same to a second of arc. Where
item 15 of a flight plan cannot say that, the text to file is printed below it.

An identifier that means more than one place is never guessed. The answer lists the places,
those nearest to the rest of the route first, with what to type for each. A route has at most
10,000 words of at most 500 characters.

One file (GPX, KML, KMZ, GeoJSON, GeoPackage, CSV) or one plan file (`.toml`) in place of the
points gives the whole route.
"""


# Plan keys


def plan_keys() -> str:
    schema = plan_schema()
    parts = ["# Plan keys\n", PLAN_INTRO]
    top, plain = schema["properties"], []
    for name, node in top.items():
        inner = node.get("$ref") or node.get("items", {}).get("$ref")
        if not inner:
            plain.append((code(name), _kind(node), node.get("description", "")))
            continue
        repeated = node.get("type") == "array"
        heading = f"[[{name}]]" if repeated else f"[{name}]"
        parts.append(_plan_table(heading, schema["$defs"][inner.rpartition("/")[2]], schema))
    parts.insert(2, table(("key", "value", "meaning"), plain[:-1]))
    parts.append(f"## [quiet]\n\n{top['quiet']['description']} A STOP cannot be left out.\n")
    return "\n".join(parts)


PLAN_INTRO = """A plan file is TOML. It begins with `format = 1`; `[flight]` and `[aircraft]`
must be there. Units are in the names: `_ft` feet, `_kt` knots, `_nm` nautical miles, `_min`
minutes, `_deg` degrees, `_c` degrees Celsius. `plotter new NAME` writes a file with every key,
and `plotter new --schema` prints the JSON Schema.
"""


def _plan_table(heading: str, node: dict[str, Any], schema: dict[str, Any]) -> str:
    needed = set(node.get("required", ()))
    rows, inner = [], []
    for key, value in node["properties"].items():
        reference = value.get("items", {}).get("$ref")
        if reference:
            name = f"[[{heading.strip('[]')}.{key}]]"
            inner.append(_plan_table(name, schema["$defs"][reference.rpartition("/")[2]], schema))
        says = value.get("description", "")
        example = value.get("examples")
        if example:
            says += f" Example: `{example[0]}`."
        rows.append((code(key), _kind(value), "yes" if key in needed else "", says))
    head = f"## {heading}\n\n{node['description']}\n\n"
    return "\n".join([head + table(("key", "value", "required", "meaning"), rows), *inner])


def _kind(node: Mapping[str, Any]) -> str:
    if "enum" in node:
        return ", ".join(code(json.dumps(value)) for value in node["enum"])
    if "anyOf" in node:
        return " or ".join(_kind(each) for each in node["anyOf"])
    kind = str(node.get("format", node.get("type", "table")))
    if kind == "array":
        return f"list: {_kind(node['items'])}"
    low, high = node.get("minimum", node.get("exclusiveMinimum")), node.get("maximum")
    if low is None:
        return kind
    if high is None:
        return f"{kind}, {'above' if 'exclusiveMinimum' in node else 'at least'} {low:,g}"
    return f"{kind}, {low:,g} to {high:,g}"


# JSON documents

DOCUMENTS: Mapping[str, tuple[str, ...]] = {
    "plot-1": ("plot", "KRST", "KLSE", "KEAU", "KDLH", "--date", DAY, "--as", "none"),
    "log-1": ("log", "sunday.toml"),
    "measure-1": (
        *("measure", "KRST", "KLSE", "--reading", "62.1", "--course", "093M", "--date", DAY),
    ),
    "own-plotter-1": ("rule", "--my-plotter", "ruler 10 = plotter 10.1, ruler 65 = plotter 65.9"),
    "rule-1": ("rule",),
    "solve-1": (*("solve", "endurance", "--fuel", "17", "--fuel-flow", "8"),),
    "find-1": ("find", "la crosse"),
    "near-1": ("near", "KRST", "--kind", "all"),
    "place-1": ("airport", "KRST"),
}


def json_documents(folder: Path) -> str:
    """Every key of the documents that a run in a folder gives."""
    parts = ["# JSON documents\n", JSON_INTRO]
    printed("new", "sunday", "--into", str(folder))
    for name, arguments in DOCUMENTS.items():
        places = [str(folder / word) if word.endswith(".toml") else word for word in arguments]
        keep = ("--keep", str(folder / "mine.json")) if name == "own-plotter-1" else ()
        document = json.loads(printed(*places, *keep, "--json"))
        assert document["schema"] == name
        found: dict[str, set[str]] = {}
        _paths(document, "", found)
        shown = " ".join(f'"{word}"' if " " in word else word for word in arguments)
        parts.append(f"## {name}\n\nThe keys that `plotter {shown} --json` prints.\n")
        rows = ((code(path), ", ".join(sorted(kinds))) for path, kinds in found.items())
        parts.append(table(("key", "value"), rows))
    return "\n".join(parts)


JSON_INTRO = """Figures are unrounded, units are in the names, times are ISO 8601. `[]` is an
element of a list. What is not known is null. A later version adds keys; it renames none. Each
list is what one run prints: a key that applies only to some flights may be missing from it. An
error is one object `error` with `code`, `message`, `where` and `candidates`.
"""


def printed(*arguments: str) -> str:
    out = io.StringIO()
    with redirect_stdout(out):
        assert run(arguments) == 0, arguments
    return out.getvalue()


def _paths(node: object, path: str, found: dict[str, set[str]]) -> None:
    if isinstance(node, dict):
        for key, value in node.items():
            _paths(value, f"{path}.{key}" if path else key, found)
    elif isinstance(node, list) and node:
        for value in node:
            _paths(value, f"{path}[]", found)
    else:
        names = {bool: "true or false", str: "text", type(None): "null", list: "list"}
        found.setdefault(path, set()).add(names.get(type(node), "number"))


# Python


def python() -> str:
    names = sorted(api.__all__, key=str.lower)
    functions = [name for name in names if inspect.isfunction(getattr(api, name))]
    classes = [name for name in names if inspect.isclass(getattr(api, name))]
    parts = ["# Python\n", PYTHON_INTRO, "## Functions\n"]
    parts += (
        f"### {_signature(getattr(api, name))}\n\n{_said(getattr(api, name))}\n"
        for name in functions
    )
    rows = (
        (code(name), _fields(getattr(api, name)), _said(getattr(api, name), 1)) for name in classes
    )
    for kind in (api.PlottedRoute, api.LoggedFlight, api.MeasuredReadings):
        parts.append(f"## Methods of {kind.__name__}\n")
        parts += (
            f"### {_signature(method)}\n\n{_said(method)}\n"
            for name, method in inspect.getmembers(kind, inspect.isfunction)
            if not name.startswith("_")
        )
    parts += ["## Classes\n", table(("class", "fields", "is"), rows)]
    return "\n".join(parts)


PYTHON_INTRO = """`plotter.api` is the public face; everything else is private until version 1.0.

```python
from plotter import api

flight = api.plot("KRST KLSE KEAU KDLH", date="2026-07-04", every_nm=10)
for leg in flight.legs:
    print(leg.start.name, leg.end.name, round(leg.distance_nm, 1), round(leg.magnetic_course_deg))
legs = flight.to_geodataframe()  # also "points" and "checkpoints"
files = flight.save("exports", formats=["map", "gpx"], replace=True)
live = flight.folium_map()  # a folium map with every layer named; add your own
```

In a notebook, `flight` on the last line of a cell shows its map. `api.log("sunday.toml")` gives
the navigation log of a plan file, with `.rows`, `.sectors`, `.cautions`, `.working(4, "GS")`
and `.save(...)`.
"""


def _signature(function: Callable[..., object]) -> str:
    shown = []
    starred = False
    for parameter in inspect.signature(function).parameters.values():
        if parameter.name == "self":
            continue
        if parameter.kind is parameter.KEYWORD_ONLY and not starred:
            starred = True
            shown.append("*")
        default = "" if parameter.default is parameter.empty else f"={parameter.default!r}"
        prefix = {parameter.VAR_POSITIONAL: "*", parameter.VAR_KEYWORD: "**"}.get(
            parameter.kind, ""
        )
        shown.append(f"{prefix}{parameter.name}{default}")
    return code(f"{function.__name__}({', '.join(shown)})")


def _said(thing: object, paragraphs: int = 9) -> str:
    text = (inspect.getdoc(thing) or "").partition(">>>")[0].strip()
    text = re.sub(r":\w+:`~?(?:[\w.]*\.)?(\w+)`", r"`\1`", text).replace("``", "`")
    kept = [part for part in text.split("\n\n") if part.strip() != "::"][:paragraphs]
    return "\n\n".join(" ".join(part.split()) for part in kept)


def _fields(kind: type) -> str:
    if dataclasses.is_dataclass(kind):
        names = [field.name for field in dataclasses.fields(kind) if not field.name.startswith("_")]
    else:
        names = list(getattr(kind, "_fields", ()))
    return ", ".join(map(code, names))
