"""The frame: closed to everything but its own scripts and styles."""

from __future__ import annotations

import base64
import hashlib
import json
import re

import awkward
import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.maps import page as frame
from plotter.maps.page import ASSETS, asset, json_block, leaflet_script, own_script, page, style

NAMES = (
    *("title", "heading", "typed", "figures", "shape", "map", "switches", "key", "note", "log"),
    *("legs", "working", "checkpoints", "airports", "cautions", "footer", "plot_data", "base_data"),
)


def made(**parts: str) -> str:
    return page({**dict.fromkeys(NAMES, ""), **parts})


def sha256(text: str) -> str:
    digest = hashlib.sha256(text.encode("utf-8")).digest()
    return f"'sha256-{base64.b64encode(digest).decode()}'"


def policy_of(document: str) -> dict[str, list[str]]:
    (text,) = re.findall(r'http-equiv="Content-Security-Policy" content="([^"]*)"', document)
    return {words[0]: words[1:] for words in (part.split() for part in text.split(";"))}


def test_the_policy_lets_through_exactly_the_scripts_and_the_style_that_stand_there() -> None:
    document = made()
    rules = policy_of(document)
    scripts = re.findall(r"<script>(.*?)</script>", document, re.S)
    styles = re.findall(r"<style>(.*?)</style>", document, re.S)
    assert rules["script-src"] == [sha256(script) for script in scripts]
    assert rules["style-src"] == [sha256(sheet) for sheet in styles]
    assert len(scripts) == 2


def test_the_policy_allows_nothing_else() -> None:
    rules = policy_of(made())
    assert rules["default-src"] == ["'none'"]
    assert rules["img-src"] == ["data:"]
    assert rules["base-uri"] == rules["form-action"] == ["'none'"]
    assert "unsafe" not in str(rules)
    assert set(rules) == {
        *("default-src", "script-src", "style-src", "img-src", "base-uri", "form-action")
    }


def test_the_frame_has_language_title_landmarks_and_a_view_that_can_be_zoomed() -> None:
    document = made(title="Demo")
    assert document.startswith('<!DOCTYPE html>\n<html lang="en">')
    assert "<title>Demo</title>" in document
    assert '<meta name="viewport" content="width=device-width, initial-scale=1">' in document
    for landmark in ("header", "main", "footer"):
        assert document.count(f"<{landmark}>") == 1
    assert 'class="skip" href="#legs"' in document


def test_a_part_that_looks_like_a_slot_is_not_filled_in_again() -> None:
    assert "<p>{{plot_data}} \\1 \\g<0></p>" in made(heading="<p>{{plot_data}} \\1 \\g<0></p>")


def test_a_part_that_is_missing_is_an_error_not_a_hole() -> None:
    with pytest.raises(KeyError):
        page({})


@given(
    st.recursive(st.none() | st.text() | st.integers(), lambda inner: st.lists(inner, max_size=4))
)
def test_json_in_a_script_element_reads_back_and_holds_no_tag(value: object) -> None:
    text = json_block(value)
    assert json.loads(text) == value
    assert text.isascii()
    assert not set(text) & set("<>&")


@pytest.mark.parametrize("kind", awkward.NAMES)
def test_awkward_names_pass_through_a_json_block(kind: str) -> None:
    assert json.loads(json_block([awkward.NAMES[kind]])) == [awkward.NAMES[kind]]


def test_json_with_nan_is_refused() -> None:
    with pytest.raises(ValueError, match=r"not JSON compliant|Out of range"):
        json_block([float("nan")])


def test_leaflet_ships_untouched_with_its_licence() -> None:
    # sha256 of the files in the npm package leaflet 1.9.4, dist/ and LICENSE.
    published = {
        "leaflet.js": "db49d009c841f5ca34a888c96511ae936fd9f5533e90d8b2c4d57596f4e5641a",
        "leaflet.css": "a7837102824184820dfa198d1ebcd109ff6d0ff9a2672a074b9a1b4d147d04c6",
        "LICENSE": "53e8dc25862014e4324741ca18fbe3611e11d42ef69f59f86ea8c5389647d4cb",
    }
    for name, digest in published.items():
        content = (ASSETS / "leaflet" / name).read_bytes()
        assert hashlib.sha256(content).hexdigest() == digest
    document = made()
    assert "Vladimir Agafonkin" in document
    assert "THIS SOFTWARE IS PROVIDED BY THE COPYRIGHT HOLDERS" in document


def test_nothing_points_outside() -> None:
    assert "sourceMappingURL" not in leaflet_script()
    assert "url(" not in style()
    assert "@import" not in style()
    markup = re.sub(r"<script>.*?</script>", "", made(), flags=re.S)
    assert not re.findall(r'(?:src|href)="(?!#|data:)', markup)


def test_no_script_can_close_its_own_element() -> None:
    for script in (leaflet_script(), own_script()):
        assert "</script" not in script.lower()
        assert "<!--" not in script
    assert "</style" not in style().lower()
    assert "--" not in asset("leaflet/LICENSE")


def test_our_scripts_never_build_html() -> None:
    for name in frame.map_modules():
        text = asset(f"map/{name}.js")
        for door in ("innerHTML", "outerHTML", "insertAdjacentHTML", "document.write", "eval("):
            assert door not in text, f"{name}.js uses {door}"
        for door in ("bindPopup", "bindTooltip", "divIcon", "fetch(", "XMLHttpRequest", "import("):
            assert door not in text, f"{name}.js uses {door}"


def test_plain_scripts_lose_nothing_but_indents_and_comments() -> None:
    for name in frame.map_modules():
        text = asset(f"map/{name}.js")
        kept = [line.strip() for line in text.splitlines()]
        assert frame.plain(text).splitlines() == [
            line for line in kept if line and not line.startswith("//")
        ]
        # A template literal over several lines would lose its indents.
        assert all(line.count("`") % 2 == 0 for line in kept), name


def test_modules_stand_after_those_they_import_and_share_no_name() -> None:
    """One scope holds them all in a file, so a second definition would be another's."""
    modules = frame.map_modules()
    files = {path.stem for path in (ASSETS / "map").glob("*.js")}
    assert set(modules) == files
    defined: dict[str, str] = {}
    for place, name in enumerate(modules):
        text = asset(f"map/{name}.js")
        imported = re.findall(r'^import \{([^}]*)\} from "\./(\w+)\.js";$', text, re.M)
        assert len(imported) == len(re.findall(r"^import\b", text, re.M)), name
        for names, other in imported:
            assert modules.index(other) < place
            for each in names.split(","):
                assert defined[each.strip()] == other
        for each in re.findall(r"^(?:export )?(?:function\*?|class|const|let) (\w+)", text, re.M):
            assert each not in defined, f"{name} and {defined[each]} define {each}"
            defined[each] = name
    assert not re.search(r"^(import|export)\b", own_script(), re.M)


def test_the_document_has_plain_line_ends() -> None:
    assert "\r" not in made()


def test_the_same_parts_give_the_same_bytes() -> None:
    assert made(title="a") == made(title="a")


def test_lettering_is_measured_in_the_size_it_is_drawn_in_and_legible_on_paper() -> None:
    sheet = asset("map.css")
    drawn = dict(re.findall(r"^\.w-(\w+) \{[^}]*font-size: (\d+)px", sheet, re.M))
    measured = dict(re.findall(r"(\w+): \"(?:\d00 )?(\d+)px \"", asset("map/lettering.js")))
    assert measured == {kind: size for kind, size in drawn.items() if kind != "degrees"}
    # 12 px are 9 pt on paper, the least that is read at arm's length.
    assert min(map(int, drawn.values())) >= 12
    assert not [size for size in re.findall(r"font-size: ([\d.]+)pt", sheet) if float(size) < 9]
