"""The whole document: complete, offline, the same bytes every time."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import awkward
import base_cells
import plots
import pytest

from plotter import wording
from plotter.maps.base import Basemap, basemap_for
from plotter.maps.web_map import web_map
from plotter.route.plotting import Plot

ROOT = Path(__file__).parent.parent


def made(plot: Plot, *, sm: bool = False) -> str:
    return web_map(plot, basemap_for(base_cells.prairie(), plot.route), sm=sm)


def block(document: str, name: str) -> Any:
    (text,) = re.findall(rf'<script type="application/json" id="{name}">(.*?)</script>', document)
    return json.loads(text)


def seen(document: str) -> str:
    """The document without scripts, styles, comments and tags."""
    for part in ("script", "style"):
        document = re.sub(rf"<{part}\b.*?</{part}>", "", document, flags=re.S)
    document = re.sub(r"<!--.*?-->", "", document, flags=re.S)
    return re.sub(r"<[^>]*>", " ", document)


def test_the_page_reads_like_a_planning_sheet() -> None:
    text = made(plots.short())
    order = (
        *("<h1>", 'class="typed"', 'id="map_route"', 'id="legs-table"', 'id="checkpoints-table"'),
        *('id="cautions-title"', 'id="airports-table"', 'class="standing"', "Airports of"),
    )
    places = [text.index(part) for part in order]
    assert places == sorted(places)


@pytest.mark.parametrize("words", wording.STANDING)
def test_what_every_output_must_say_is_said(words: str) -> None:
    assert words in seen(made(plots.short())).replace("&#x27;", "'")


def test_the_dates_of_the_data_and_the_model_are_said() -> None:
    text = seen(made(plots.short()))
    for date in ("2025-12-02", "2022-10-01", "WMM2025, valid to 2030-01-01", "2026-06-01"):
        assert date in text


def test_sources_are_credited() -> None:
    text = seen(made(plots.short()))
    for source in ("OurAirports", "Natural Earth", "GeoNames (CC BY 4.0)", "Leaflet"):
        assert source in text


def test_the_route_is_printed_as_it_was_typed_and_a_long_one_is_folded() -> None:
    assert "XDMA 44.25,-92.75 XDMB" in " ".join(seen(made(plots.short())).split())
    assert "<details" not in made(plots.short())
    assert "101 points" in made(plots.many(100))


def test_statute_miles_only_when_asked() -> None:
    assert " SM" not in seen(made(plots.short()))
    assert " SM" in seen(made(plots.short(), sm=True))


def test_the_data_blocks_are_json() -> None:
    document = made(plots.short())
    assert len(block(document, "plot-data")["legs"]) == 2
    assert len(block(document, "base-data")["layers"]) == 3


def test_a_route_beyond_the_projection_says_so_and_others_do_not() -> None:
    far = plots.plot_of([plots.at_point("A", 84.0, 10.0), plots.at_point("B", 87.0, 60.0)])
    assert "beyond 85° of latitude" in web_map(far, Basemap())
    assert "beyond 85° of latitude" not in web_map(plots.far_north(), Basemap())


def test_no_checkpoints_asked_for_is_said() -> None:
    plot = replace(plots.short(), every_nm=float("inf"), checkpoints=())
    assert "none asked for" in made(plot)
    assert "inf NM" not in made(plot)


@pytest.mark.parametrize("kind", awkward.NAMES)
def test_a_hostile_name_never_becomes_an_element(kind: str) -> None:
    ordinary, hostile = made(plots.named("A", "B")), plots.named("A", awkward.NAMES[kind] or "B")
    hostile = replace(hostile, name=awkward.NAMES[kind])
    text = made(hostile)
    text.encode("utf-8")
    tags = re.compile(r"<(?!/)([a-zA-Z!]+)")
    assert tags.findall(text) == tags.findall(ordinary)


def test_the_same_plot_gives_the_same_bytes_in_one_process() -> None:
    first = made(plots.short())
    made(plots.mountain())
    assert made(plots.short()) == first


CHILD = """
import sys, hashlib
sys.path[:0] = [{tests!r}, {root!r}]
import base_cells, plots
from plotter.maps.base import basemap_for
from plotter.maps.web_map import web_map
plot = plots.short()
text = web_map(plot, basemap_for(base_cells.prairie(), plot.route))
print(hashlib.sha256(text.encode("utf-8")).hexdigest())
"""


def run(code: str, **environment: str) -> str:
    done = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, **environment},
        capture_output=True,
        text=True,
        check=True,
        encoding="utf-8",
    )
    return done.stdout.strip()


def test_the_same_plot_gives_the_same_bytes_in_another_process_zone_and_locale() -> None:
    code = CHILD.format(tests=str(ROOT / "tests"), root=str(ROOT))
    one = run(code, PYTHONHASHSEED="1", TZ="UTC", LC_ALL="C")
    other = run(code, PYTHONHASHSEED="2", TZ="Pacific/Auckland", LC_ALL="C.UTF-8")
    assert one == other


def test_importing_the_maps_imports_no_mapping_library() -> None:
    code = (
        "import sys; import plotter.maps.web_map, plotter.maps.base;"
        "print(sorted({'folium', 'branca', 'jinja2', 'numpy', 'shapely'} & set(sys.modules)))"
    )
    assert run(code) == "[]"


def test_a_map_of_300_nm_with_its_base_stays_under_350_kb(real_store: Any) -> None:
    import datetime as dt

    from plotter.route.plotting import Wishes, plot_route

    wishes = Wishes(date=dt.date(2026, 6, 1))
    for typed in ("KDSM KDPA KGYY", "ENBR ENAL ENVA", "KEYW KAPF KJAX"):
        plot = plot_route(typed, real_store, wishes)
        assert 250 < plot.route.distance_nm < 360
        document = web_map(plot, basemap_for(real_store, plot.route))
        assert len(document.encode("utf-8")) < 350_000
