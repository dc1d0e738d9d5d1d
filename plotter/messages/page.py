"""What the program says about the planning page and the command line."""

from __future__ import annotations

from collections.abc import Mapping

COMMON: Mapping[str, str] = {
    # the command line
    "usage": "{reason}; see '{command} --help'",
    "usage.question": "{reason} See '{command} --help'",
    "usage.command": "no command '{typed}'; try 'plotter {command}'",
    "usage.command-like": "no command '{typed}'; did you mean 'plotter {command}'?",
    "usage.address": "'{text}' does not name a table; write --address runways=https://...",
    "usage.after-dashes": (
        "'{word}' comes after '--', where everything is a point: put options before it, or leave "
        "'--' out, because a point may start with a minus"
    ),
    "usage.printing": "{option} is for printing; remove it or --my-plotter",
    "usage.testing": (
        "{option} needs --my-plotter, as in --my-plotter 'ruler 50 = plotter 50.6, …'"
    ),
    "usage.altimeter": "enter one altimeter setting: --altimeter-hpa or --altimeter-inhg",
    "usage.schema": (
        "--schema is the same for every plan file; leave NAME out, as in 'plotter new --schema'"
    ),
    "name.none": "no NAME given; enter one for the flight, as in 'plotter new sunday'",
    "output": (
        "standard output is incomplete: {reason}; send it elsewhere and run the command again"
    ),
    "by-name": "{reason}\n  to search by name: {command}",
    "by-name.listed": (
        "no identifier '{word}' in the data; places with that name, and what to "
        "type:\n{places:choices}\n  for more: {command}"
    ),
    "by-name.or-like": (
        "no identifier '{word}' in the data; places with that name or spelled like it, and what "
        "to type:\n{places:choices}\n  for more: {command}"
    ),
    "by-name.line": "{file}, line {line}: {listed}",
    "position.no-place": (
        "'{text}' is a position, not a place in the data; to list what is near it: {command}"
    ),
    "data.damaged": "the data is damaged:\n  {findings:\n  }",
    "row.number": "'{row}' is not a row number; enter one from 1 to {last}",
    "input.row": ("'{row}' needs --working, which shows how a row is computed: --working {row}"),
    "no-plan": (
        "'{file}' is not a plan file, which a log needs; create one with 'plotter new NAME', or "
        "use 'plotter plot' for points alone"
    ),
    "file-among-points.plan": (
        "'{file}' is a plan file and holds the entire flight; enter it alone, without other points"
    ),
    "file-among-points.readings": (
        "'{file}' is a plan file and holds its own readings (measured_nm, measured_course_deg); "
        "enter it alone"
    ),
    "file-among-points.date": (
        "'{file}' is a plan file and has its own date (departure); leave {option} out"
    ),
    "file-among-points.unit": (
        "'{file}' is a plan file and has its own unit (NM); leave {option} out"
    ),
    "own-plotter": (
        "no tested plotter is stored on this machine; test yours with plotter rule --my-plotter, "
        "or leave --my-plotter out"
    ),
    # the planning page
    "too-many-points.page": (
        "the route has {count:,} points, and the page takes at most {most:,}; 'plotter plot' takes "
        "more"
    ),
    "not-a-number": "the plan has a figure that is not a number",
    "plan-depth": "the plan is nested too deep",
    "half-a-character": (
        "'{text}' in the plan has half of a character (a lone surrogate); enter it again"
    ),
    "port": "the page cannot be served at {host}, port {port}: {reason}; choose another port",
    "host": "'{host}' is not an address; enter one such as {example}",
    "host.every": (
        "{host} means every address; enter the address of this machine at which to serve the page"
    ),
}

# Sentences that name an option of the command line.
CONSOLE: Mapping[str, str] = {
    "port": (
        "the page cannot be served at {host}, port {port}: {reason}; use --port 0 for any free port"
    ),
}
