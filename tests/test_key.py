"""The key says every line and sign that is on the map, and no other."""

from __future__ import annotations

import re
from dataclasses import replace

import plots

from plotter.maps.page import SIGN_INK, SIGN_WORDS, asset, key
from plotter.places.airports import Beside
from plotter.route.plotting import Plot


def words(plot: Plot) -> list[str]:
    return [re.sub("<[^>]*>", "", entry) for entry in key(plot).split("<li>")[1:]]


def with_kinds(*kinds: str) -> Plot:
    airport = plots.airport("XDMX", "Demo", 44.0, -92.0)
    fields = (replace(airport, kind=kind) for kind in kinds)
    return replace(plots.short(), near=tuple(Beside(field, 1, 1.0, 1.0) for field in fields))


def test_one_leg_needs_no_second_dash() -> None:
    assert words(plots.rhumb())[:2] == ["leg 1", "turning point"]


def test_more_legs_than_dashes_begin_again() -> None:
    assert words(plots.mountain())[:3] == ["leg 1", "leg 2", "leg 3"]
    assert words(plots.many(5))[:3] == ["leg 1", "leg 2", "leg 3, then again"]


def test_only_signs_that_occur_are_explained() -> None:
    assert not set(words(replace(plots.short(), near=()))) & set(SIGN_WORDS.values())
    found = words(with_kinds("heliport", "seaplane_base", "closed", "balloonport"))
    assert [word for word in found if word in SIGN_WORDS.values()] == [
        SIGN_WORDS[name] for name in ("heliport", "seaplane", "balloon", "closed")
    ]


def test_checkpoints_are_explained_with_their_spacing_or_not_at_all() -> None:
    assert "checkpoint, every 10 NM" in words(plots.short())
    assert not [w for w in words(replace(plots.short(), checkpoints=())) if "checkpoint" in w]


def test_the_key_is_drawn_with_the_strokes_of_the_map() -> None:
    script = asset("map/lettering.js")
    for strokes in SIGN_INK.values():
        for path in re.findall(r' d="([^"]*)"', strokes):
            assert f'"{path}"' in script
        for radius in re.findall(r' r="([^"]*)"', strokes):
            assert f"r: {radius} }}" in script
