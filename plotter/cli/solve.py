"""``plotter solve``: one sum of a flight, with its working; the commands are made from a table."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping

import click

from plotter import wording
from plotter.cli.parameters import Figure
from plotter.cli.printing import paragraph, say
from plotter.earth.atmosphere import HPA_PER_INHG, hpa_from_inhg
from plotter.flight.sum_table import SUMS, Line, Solved, solve, written
from plotter.flight.sums import QUANTITIES
from plotter.messages import message, text

INCHES = "altimeter_inhg"
"""Typed in place of hectopascals; the two are never told apart by their size."""


@click.group(
    short_help="Solve one problem with its working: wind, track, fuel, altitude, descent.",
    epilog="\b\nExamples:\n  plotter solve wind --true-heading 76 --true-track 90 "
    "--true-airspeed 120 --groundspeed 88\n"
    "  plotter solve density-altitude --altitude 1317 --altimeter-inhg 29.42 --temperature 30",
)
def solve_command() -> None:
    """Solve one problem and show the working: formula, values and source.

    A planning aid, not an approved source of navigation.
    """


def _command(name: str) -> click.Command:
    asked = SUMS[name]
    options = [each for key in asked.put_in for each in _options(key)]
    words = [
        f"{option.opts[0]} {_example(option)}" for option in options if option.opts[0] != _INHG
    ]
    return click.Command(
        name,
        callback=_caller(name),
        params=[*options, click.Option(["--json"], is_flag=True, help="One JSON document.")],
        help=f"{asked.title}.\n\n{asked.note}".strip(),
        short_help=f"{asked.title}.",
        epilog=f"\b\nExample:\n  plotter solve {name} {' '.join(words)}",
    )


_INHG = "--altimeter-inhg"


def _options(key: str) -> list[click.Option]:
    what = QUANTITIES[key]
    if key == "altimeter_hpa":
        hpa = click.Option(
            ["--altimeter-hpa", key],
            type=Figure("hPa", f"{what.example:g}"),
            metavar="HPA",
            help=f"Altimeter setting, {what.least:g} to {what.most:g} hPa.",
        )
        inhg = click.Option(
            [_INHG, INCHES], type=Figure("inHg", "30.02"), metavar="INHG", help="Or in inHg."
        )
        return [hpa, inhg]
    limits = f"{what.least:,g} to {what.most:,g} {what.unit}".rstrip()
    return [
        click.Option(
            [f"--{what.name.replace(' ', '-')}", key],
            type=Figure(what.unit or "fuel", f"{what.example:g}"),
            required=True,
            metavar="FIGURE",
            help=f"{what.name.capitalize()}, {limits}.",
        )
    ]


def _example(option: click.Option) -> str:
    return f"{QUANTITIES[option.name or ''].example:g}"


def _caller(name: str) -> Callable[..., None]:
    def call(json: bool, **given: float | None) -> None:
        solved = solve(name, _put_in(given))
        say(_json(solved) if json else _report(solved, given.get(INCHES)))

    return call


def _put_in(given: Mapping[str, float | None]) -> dict[str, float]:
    """The figures by key; of the two altimeter settings the one that was typed."""
    typed = {key: value for key, value in given.items() if value is not None}
    if INCHES not in given:
        return typed
    if len({INCHES, "altimeter_hpa"} & set(typed)) != 1:
        raise click.UsageError(text(message("usage.altimeter")))
    inches = typed.pop(INCHES, None)
    if inches is not None:
        typed["altimeter_hpa"] = hpa_from_inhg(inches)
    return typed


def _report(solved: Solved, inches: float | None) -> str:
    answers = [line for line in solved.lines if line.step.is_answer]
    lines = [solved.sum.title, ""]
    lines += [
        f"  {line.step.words[0].upper()}{line.step.words[1:]}: {line.result}" for line in answers
    ]
    lines += ["", "Put in", *(_put_in_line(key, value) for key, value in solved.put_in.items())]
    lines += [f"    from {inches:g} inHg × {HPA_PER_INHG}"] if inches is not None else []
    lines += ["", "Working"]
    for line in solved.lines:
        lines += _working(line)
    lines += ["", f"Source: {solved.sum.source}."]
    lines += [paragraph(solved.sum.note)] if solved.sum.note else []
    return "\n".join([*lines, "", *(paragraph(text) for text in wording.STANDING)])


def _put_in_line(key: str, value: float) -> str:
    what = QUANTITIES[key]
    return (
        f"  {what.symbol} = {written(value).strip('()')} {what.unit}".rstrip() + f"   ({what.name})"
    )


def _working(line: Line) -> list[str]:
    return [
        f"  {line.step.symbol} = {line.step.formula}   ({line.step.words})",
        f"    = {line.arithmetic} = {line.result}",
    ]


def _json(solved: Solved) -> str:
    document = {
        "schema": "solve-1",
        "sum": solved.name,
        "title": solved.sum.title,
        "put_in": dict(solved.put_in),
        "results": solved.results,
        "working": [
            {
                "key": line.step.key,
                "symbol": line.step.symbol,
                "words": line.step.words,
                "formula": line.step.formula,
                "arithmetic": line.arithmetic,
                "value": line.value,
                "unit": line.step.unit,
            }
            for line in solved.lines
        ],
        "source": solved.sum.source,
        "note": solved.sum.note,
        "cautions": list(wording.STANDING),
    }
    return json.dumps(document, ensure_ascii=True, indent=2)


for _name in SUMS:
    solve_command.add_command(_command(_name))
