"""Reads a document in which a flight is worked by hand: its equations, tables and plan.

An equation is a line of a ``text`` box: what is looked for = the numbers put in = the result. It
is worked again here with sines and cosines of degrees and nothing else.
"""

from __future__ import annotations

import ast
import math
import operator
import re
from collections.abc import Callable, Iterator, Mapping
from typing import NamedTuple

_NUMBER = re.compile(r"(?<![\w.])[0-9][0-9,]*(?:\.[0-9]+)?")
_OPERATORS: Mapping[type[ast.operator], Callable[[float, float], float]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}
_FUNCTIONS: Mapping[str, Callable[[float], float]] = {
    "sin": lambda angle: math.sin(math.radians(angle)),
    "cos": lambda angle: math.cos(math.radians(angle)),
    "asin": lambda share: math.degrees(math.asin(share)),
    "atan": lambda share: math.degrees(math.atan(share)),
    "sqrt": math.sqrt,
}


class Figure(NamedTuple):
    """A number as it is written: its value, and what one in its last place is worth."""

    value: float
    last_place: float


class Equation(NamedTuple):
    """What is looked for, the numbers put in, the result with its unit, the line it stands on."""

    label: str
    expression: str
    result: Figure
    unit: str
    line: int

    @property
    def worked(self) -> float:
        """The expression, worked again."""
        return _worked(self.expression)

    @property
    def tolerance(self) -> float:
        """How far off it may be: half of the last place of the result and of every number put in
        that was rounded, one with a decimal point, each with its own weight.
        """
        total = 0.5 * self.result.last_place
        for found in _NUMBER.finditer(self.expression):
            if "." in found[0]:
                half = 0.5 * figure(found[0]).last_place
                moved = f"{figure(found[0]).value + half:.6f}"
                changed = self.expression[: found.start()] + moved + self.expression[found.end() :]
                total += abs(_worked(changed) - self.worked)
        return total


def _worked(expression: str) -> float:
    text = expression.replace(",", "").replace("²", " ** 2")
    for sign, word in (("×", "*"), ("−", "-"), ("√", "sqrt")):
        text = text.replace(sign, word)
    return _value(ast.parse(text, mode="eval").body)


def _value(node: ast.expr) -> float:
    match node:
        case ast.Constant(value=int() | float() as value):
            return float(value)
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return -_value(operand)
        case ast.BinOp(left=left, op=op, right=right):
            return _OPERATORS[type(op)](_value(left), _value(right))
        case ast.Call(func=ast.Name(id=name), args=[argument]):
            return _FUNCTIONS[name](_value(argument))
    raise AssertionError(f"not arithmetic: {ast.unparse(node)}")


def figure(text: str) -> Figure:
    """A number, with thousands commas and the minus sign of print."""
    plain = text.strip().replace(",", "").replace("−", "-")
    digits = len(plain.partition(".")[2])
    return Figure(float(plain), 10.0**-digits)


def numbers(text: str) -> set[float]:
    """Every number in a text, without sign."""
    return {float(found.replace(",", "")) for found in _NUMBER.findall(text)}


def boxes(document: str, language: str) -> Iterator[tuple[int, str]]:
    """The boxes of a language, each with the number of the line before it."""
    for found in re.finditer(rf"^```{language}\n(.*?)^```", document, re.S | re.M):
        yield document.count("\n", 0, found.start()) + 1, found[1]


def equations(document: str) -> list[Equation]:
    """Every equation, in order; lines of clock times are left out."""
    found = []
    for before, box in boxes(document, "text"):
        for offset, line in enumerate(box.splitlines(), start=1):
            if re.search(r"[0-9]:[0-9]", line):
                continue
            label, expression, result = line.split(" = ")
            number, _, unit = result.partition(" ")
            found.append(Equation(label, expression, figure(number), unit, before + offset))
    return found


def clock_lines(document: str) -> list[tuple[float, float, float]]:
    """Lines of clock times: before, what is added, after; each in seconds."""
    pattern = re.compile(
        r"(\d\d):(\d\d):(\d\d)\S*(?: CDT)? ([+−]) ([0-9.]+) (min|h) = (\d\d):(\d\d):(\d\d)"
    )
    made = []
    for _, box in boxes(document, "text"):
        for found in pattern.finditer(box):
            before, after = (_seconds(found.groups()[k : k + 3]) for k in (0, 6))
            added = float(found[5]) * (3600.0 if found[6] == "h" else 60.0)
            made.append((before, -added if found[4] == "−" else added, after))
    return made


def _seconds(parts: tuple[str, ...]) -> float:
    hours, minutes, seconds = map(int, parts)
    return 3600.0 * hours + 60.0 * minutes + seconds


def tables(document: str) -> list[list[dict[str, str]]]:
    """Every table, its rows by heading."""
    made = []
    for found in re.finditer(r"(?:^\|.*\n)+", document, re.M):
        head, _, *rows = (
            [cell.strip() for cell in line.strip("|").split("|")] for line in found[0].splitlines()
        )
        made.append([dict(zip(head, row, strict=True)) for row in rows])
    return made
