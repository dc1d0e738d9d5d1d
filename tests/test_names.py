"""Names made safe for documents and for disks."""

from __future__ import annotations

import json
import os
import unicodedata
from pathlib import Path, PurePosixPath, PureWindowsPath
from xml.etree import ElementTree as ET

import awkward
import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.errors import NameFault
from plotter.formats.names import (
    FILE_NAME_LIMIT_BYTES,
    NAME_LIMIT,
    clean_name,
    clean_text,
    default_name,
    file_name,
    shown_name,
    typed_file_name,
)

ANY_TEXT = st.text(st.characters(codec=None), max_size=400)
# Microsoft, "Naming Files, Paths, and Namespaces": the names no file may have there.
DEVICES = {"CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$"} | {
    f"{port}{digit}" for port in ("COM", "LPT") for digit in "0123456789¹²³"
}


@pytest.mark.parametrize("name", awkward.NAMES.values(), ids=awkward.NAMES)
def test_a_cleaned_name_survives_xml_and_json(name: str) -> None:
    cleaned = clean_name(name)
    element = ET.Element("name")
    element.text = cleaned
    assert (ET.fromstring(ET.tostring(element, encoding="utf-8")).text or "") == cleaned
    assert json.loads(json.dumps(cleaned)) == cleaned
    assert cleaned.encode("utf-8").decode("utf-8") == cleaned


@given(ANY_TEXT)
def test_cleaning_any_text_gives_a_name_that_cleaning_leaves_alone(text: str) -> None:
    cleaned = clean_name(text)
    assert clean_name(cleaned) == cleaned
    assert len(cleaned) <= NAME_LIMIT
    assert unicodedata.is_normalized("NFC", cleaned)
    assert not any(unicodedata.category(c) in ("Cc", "Cs", "Zl", "Zp") for c in cleaned)
    assert cleaned == " ".join(cleaned.split())


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("closing-script", "</script><script>alert(1)</script>"),
        ("template", "${alert(1)}"),
        ("cdata-start", "<![CDATA[ start"),
        ("entity", "&amp; &lt; &nosuch; &#0; &#x41;"),
        ("line-separator", "one two three"),
        ("line-breaks", "one two three four five"),
        ("control", "bell escape[31m null delete c1"),
        ("lone-surrogate", "half pair"),
        ("noncharacter", "nonchar"),
        ("override", "exegpx.lmth"),
        ("only-control", ""),
        ("long", "W" * 300),
    ],
)
def test_hostile_names_are_kept_and_only_the_impossible_goes(name: str, expected: str) -> None:
    assert clean_name(awkward.NAMES[name]) == expected


def test_combining_marks_are_composed() -> None:
    assert clean_name("e\u0301") == "\u00e9"


def test_a_name_that_is_too_long_is_cut_and_marked() -> None:
    assert clean_name("x" * 301) == "x" * 299 + "…"
    assert clean_text("x" * 5000) == "x" * 5000


def test_a_name_with_nothing_left_is_shown_as_unnamed() -> None:
    assert shown_name("\x00") == "unnamed"


def _check_usable(name: str) -> None:
    assert name
    assert PurePosixPath(name).name == name
    assert PureWindowsPath(name).name == name
    assert name not in (".", "..")
    assert not name.startswith((".", " ", "-"))
    assert not name.endswith((".", " "))
    assert len(name.encode("utf-8")) <= FILE_NAME_LIMIT_BYTES
    assert not set(name) & set('<>:"/\\|?*')
    assert not any(unicodedata.category(c) in ("Cc", "Cf", "Cs", "Zl", "Zp") for c in name)
    assert name.split(".")[0].rstrip().upper() not in DEVICES


@pytest.mark.parametrize("text", awkward.FILE_NAMES)
def test_a_file_name_made_of_anything_can_be_written(text: str, tmp_path: Path) -> None:
    name = file_name(text)
    _check_usable(name)
    (tmp_path / f"{name}.html").write_bytes(b"x")
    assert len(os.listdir(tmp_path)) == 1


@given(ANY_TEXT)
def test_file_names_of_any_text_are_usable_and_stable(text: str) -> None:
    name = file_name(text)
    _check_usable(name)
    assert file_name(name) == name
    assert typed_file_name(name) == name


@given(ANY_TEXT, ANY_TEXT)
def test_default_names_are_usable(first: str, last: str) -> None:
    _check_usable(default_name(first, last))


@pytest.mark.parametrize(
    ("first", "last", "expected"),
    [
        ("KRST", "KDLH", "KRST-KDLH"),
        ("KRST", "KRST", "KRST-KRST"),
        ("a/b", "..", "a-b"),
        ("CON", "AUX", "CON-AUX"),
        ("-37.5,-122.1", "X", "_-37.5,-122.1-X"),
    ],
)
def test_default_names(first: str, last: str, expected: str) -> None:
    assert default_name(first, last).removesuffix("-") == expected


def test_both_ends_are_in_a_default_name_however_long() -> None:
    name = default_name("a" * 500, "b" * 500)
    assert name.count("a") > 40
    assert name.count("b") > 40


@pytest.mark.parametrize(
    ("typed", "reason", "proposal"),
    [
        ("../up", "name '../up' must not contain '/'; use '_-up'", "_-up"),
        ("a\\b", r"name 'a\\b' must not contain '\\'; use 'a-b'", "a-b"),
        ("12:30", "name '12:30' must not contain ':'; use '12-30'", "12-30"),
        ("con", "reserved", "con_"),
        ("Aux.trip", "reserved", "Aux_.trip"),
        ("..", "empty", "route"),
        ("", "empty", "route"),
        ("   ", "empty", "route"),
        ("-rf", "option", "_-rf"),
        (".hidden", "dot or a space", "hidden"),
        ("trip.", "dot or a space", "trip"),
        (" trip", "dot or a space", "trip"),
        ("x" * 101, "longer than 100 bytes", "x" * 100),
        ("tr\u202eip", "' contains invisible characters; use '", "trip"),
        ("bell\x07", "' contains invisible characters; use '", "bell"),
        ("half\ud83d", "' contains invisible characters; use '", "half"),
    ],
)
def test_a_typed_name_that_cannot_be_is_refused(typed: str, reason: str, proposal: str) -> None:
    with pytest.raises(NameFault) as caught:
        typed_file_name(typed)
    assert reason in caught.value.message
    assert caught.value.candidates == (proposal,)
    assert repr(proposal) in caught.value.message
    assert caught.value.message.isprintable()


@pytest.mark.parametrize("typed", ["sunday trip", "Zürich", "a.b", "console", "x" * 100, "v=1;2"])
def test_a_typed_name_that_can_be_is_taken_as_it_is(typed: str) -> None:
    assert typed_file_name(typed) == typed


def test_a_name_typed_in_pieces_is_composed_not_refused() -> None:
    assert typed_file_name("Zu\u0308rich") == "Z\u00fcrich"
