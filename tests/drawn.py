"""What a PDF draws, read back from its drawing commands in millimetres from the top left corner."""

from __future__ import annotations

import io
from dataclasses import dataclass, field
from typing import Any

import pypdf
from pypdf.generic import ContentStream

MM_PER_POINT = 25.4 / 72
Point = tuple[float, float]
Matrix = tuple[float, float, float, float, float, float]


@dataclass(frozen=True)
class Stroke:
    """A straight line that is drawn."""

    start: Point
    end: Point
    width_mm: float

    @property
    def is_upright(self) -> bool:
        return abs(self.start[0] - self.end[0]) < 1e-6

    @property
    def x_mm(self) -> float:
        return self.start[0]

    @property
    def top_mm(self) -> float:
        return min(self.start[1], self.end[1])

    @property
    def bottom_mm(self) -> float:
        return max(self.start[1], self.end[1])


@dataclass(frozen=True)
class Outline:
    """The bounds of a closed shape or curve that is stroked."""

    left_mm: float
    top_mm: float
    right_mm: float
    bottom_mm: float
    curves: int

    @property
    def width_mm(self) -> float:
        return self.right_mm - self.left_mm

    @property
    def height_mm(self) -> float:
        return self.bottom_mm - self.top_mm


@dataclass(frozen=True)
class Word:
    """A piece of text with the place and the turn [degrees clockwise] of its baseline's start."""

    text: str
    where: Point
    turned: Matrix


@dataclass
class Drawing:
    """One page: its size [mm], lines, outlines, words, sizes of letters [pt]."""

    width_mm: float
    height_mm: float
    strokes: list[Stroke] = field(default_factory=list)
    outlines: list[Outline] = field(default_factory=list)
    words: list[Word] = field(default_factory=list)
    letter_sizes_pt: set[float] = field(default_factory=set)
    text: str = ""


def drawings(data: bytes) -> list[Drawing]:
    """Every page of a PDF."""
    reader = pypdf.PdfReader(io.BytesIO(data))
    return [_drawing(reader, page) for page in reader.pages]


def _drawing(reader: pypdf.PdfReader, page: Any) -> Drawing:
    box = page.mediabox
    drawn = Drawing(float(box.width) * MM_PER_POINT, float(box.height) * MM_PER_POINT)
    pen = _Pen(drawn)
    for operands, operator in ContentStream(page.get_contents(), reader).operations:
        pen.take(operator.decode("ascii"), operands)

    def visit(text: str, cm: list[float], tm: list[float], *_: Any) -> None:
        if text.strip():
            matrix = _times(tuple(tm), tuple(cm))
            where = pen.place((0.0, 0.0), matrix)
            drawn.words.append(Word(text.strip(), where, matrix))

    drawn.text = " ".join(page.extract_text(visitor_text=visit).split())
    return drawn


def _times(first: Matrix, second: Matrix) -> Matrix:
    a, b, c, d, e, f = first
    g, h, i, j, k, m = second
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k,
            e * h + f * j + m)  # fmt: skip


class _Pen:
    """Follows the path operators of ISO 32000-1, 8.5; anything it does not know is passed over."""

    def __init__(self, drawn: Drawing) -> None:
        self.drawn = drawn
        self.matrix: Matrix = (1, 0, 0, 1, 0, 0)
        self.width = 1.0
        self.saved: list[tuple[Matrix, float]] = []
        self.path: list[tuple[str, list[Point]]] = []

    def place(self, point: Point, matrix: Matrix) -> Point:
        a, b, c, d, e, f = matrix
        x, y = point[0] * a + point[1] * c + e, point[0] * b + point[1] * d + f
        return x * MM_PER_POINT, self.drawn.height_mm - y * MM_PER_POINT

    def take(self, operator: str, operands: list[Any]) -> None:
        if operator == "Tf":
            self.drawn.letter_sizes_pt.add(float(operands[1]))
            return
        if operator not in ("q", "Q", "cm", "w", "m", "l", "c", "h", "re", "S", "s", "B", "f", "n"):
            return
        numbers = [float(each) for each in operands]
        if operator == "q":
            self.saved.append((self.matrix, self.width))
        elif operator == "Q":
            self.matrix, self.width = self.saved.pop()
        elif operator == "cm":
            self.matrix = _times(tuple(numbers), self.matrix)  # type: ignore[arg-type]
        elif operator == "w":
            self.width = numbers[0]
        elif operator == "re":
            x, y, width, height = numbers
            corners = [(x, y), (x + width, y), (x + width, y + height), (x, y + height), (x, y)]
            self.path += [("re", [self.place(corner, self.matrix) for corner in corners])]
        elif operator in "mlch":
            points = list(zip(numbers[::2], numbers[1::2], strict=True))
            self.path.append((operator, [self.place(point, self.matrix) for point in points]))
        else:
            self._paint(stroked=operator in "SsB")

    def _paint(self, *, stroked: bool) -> None:
        path, self.path = self.path, []
        if not stroked or not path:
            return
        kinds = [kind for kind, _ in path]
        points = [point for _, points in path for point in points]
        if kinds == ["m", "l"]:
            width_mm = self.width * MM_PER_POINT
            self.drawn.strokes.append(Stroke(points[0], points[1], width_mm))
            return
        # A curve is bounded by its ends where it meets its box with quarter circles, as these do.
        ends = [points[-1] for _, points in path if points] + points * ("re" in kinds)
        xs, ys = [x for x, _ in ends], [y for _, y in ends]
        self.drawn.outlines.append(Outline(min(xs), min(ys), max(xs), max(ys), kinds.count("c")))
