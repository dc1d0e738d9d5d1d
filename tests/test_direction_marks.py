"""Nothing that turns the writing direction leaves in a name: no file, document or page has it."""

from __future__ import annotations

import io
import json
import zipfile
from pathlib import Path

import plots
import pytest

from plotter.exports import FORMATS, Job
from plotter.formats.document import document, to_json
from plotter.formats.names import DIRECTION_MARKS, DIRECTION_ORDERS, clean_name, clean_text
from plotter.maps.labels import FIRST_STRONG_ISOLATE, POP_ISOLATE, apart, visible

TURNING = DIRECTION_ORDERS + DIRECTION_MARKS
MIXED = "".join(f"{letter}{mark}" for letter, mark in zip("Old mill, 12", TURNING, strict=True))
PLOT = plots.plot_of(
    [
        plots.at_point(MIXED, 44.0, -92.0, note=f"past the {MIXED}"),
        plots.at_point(f"\u202e{MIXED}", 44.5, -92.0),
    ],
    name=f"Sunday {MIXED}",
)


def text_of(content: bytes, suffix: str) -> str:
    """What a file says, its escapes resolved."""
    if suffix == ".kmz":
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            content = archive.read("doc.kml")
    plain = content.decode("utf-8", "replace")
    for mark in TURNING:
        plain = plain.replace(f"\\u{ord(mark):04x}", mark).replace(f"&#{ord(mark)};", mark)
    return plain


@pytest.mark.parametrize("name", FORMATS)
def test_no_format_has_them(name: str) -> None:
    made = FORMATS[name]
    plain = text_of(made.write(Job(PLOT)), made.suffix)
    assert "12" in plain
    # On the page our own isolates keep a name of Hebrew or Arabic letters to its place.
    ours = FIRST_STRONG_ISOLATE + POP_ISOLATE if name == "map" else ""
    assert sorted(set(TURNING) & set(plain)) == sorted(set(ours) & set(plain))


def test_no_document_has_them(tmp_path: Path) -> None:
    said = json.loads(to_json(document(PLOT, {"gpx": tmp_path / "a.gpx"})))
    assert not set(TURNING) & set(str(said))
    assert said["points"][0]["name"] == "Old mill, 12"


@pytest.mark.parametrize("mark", TURNING)
def test_one_rule_for_every_mark(mark: str) -> None:
    assert clean_name(f"a{mark}b") == clean_text(f"a{mark}b") == "ab"
    assert mark not in visible(f"a{mark}b")
    assert mark not in apart(f"a{mark}b")


def test_letters_from_right_to_left_stay() -> None:
    assert clean_name("\u05e9\u05d3\u05d4") == visible("\u05e9\u05d3\u05d4") == "\u05e9\u05d3\u05d4"
