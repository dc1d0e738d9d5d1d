"""Which ``crs`` a GeoJSON may carry (RFC 7946, section 4 and appendix B.1: none that matters)."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from plotter.errors import FileFault
from plotter.formats.geojson_crs import foreign_crs
from plotter.formats.reading import read_file
from plotter.messages import message

WGS_84 = [
    "EPSG:4326",
    "epsg:4326",
    "OGC:CRS84",
    "urn:ogc:def:crs:OGC:1.3:CRS84",
    "urn:ogc:def:crs:OGC::CRS84",
    "urn:ogc:def:crs:EPSG::4326",
    "http://www.opengis.net/def/crs/OGC/1.3/CRS84",
    "http://www.opengis.net/def/crs/EPSG/0/4326",
]
OTHERS = [
    {"type": "name", "properties": {"name": "EPSG:3857"}},
    {"type": "name", "properties": {"name": "EPSG:14326"}},
    {"type": "name", "properties": {"name": "urn:ogc:def:crs:EPSG::43260"}},
    {"type": "name", "properties": {"name": "http://example.org/EPSG/0/4326"}},
    {"type": "name", "properties": {"name": None}},
    {"type": "link", "properties": {"href": "http://example.org/x", "type": "ogcwkt"}},
    {"type": "link", "properties": {"name": "EPSG:4326", "href": "grid.tif"}},
    {"type": "EPSG", "properties": {"code": 3857}},
    {"type": "name"},
    "EPSG:3857",
    None,
    7,
]


def named(name: str) -> dict[str, Any]:
    return {"type": "name", "properties": {"name": name}}


def text(top: Any = "no", feature: Any = "no", geometry: Any = "no", **attributes: Any) -> bytes:
    shape = {"type": "Point", "coordinates": [-92.5, 44.0]}
    one = {"type": "Feature", "properties": {"name": "A", **attributes}, "geometry": shape}
    whole = {"type": "FeatureCollection", "features": [one]}
    for part, crs in ((whole, top), (one, feature), (shape, geometry)):
        if crs != "no":
            part["crs"] = crs
    return json.dumps(whole).encode()


@pytest.mark.parametrize("name", WGS_84)
@pytest.mark.parametrize("place", ["top", "feature", "geometry"])
def test_wgs_84_is_ignored(name: str, place: str) -> None:
    assert foreign_crs(text(**{place: named(name)})) is None


@pytest.mark.parametrize("crs", OTHERS, ids=range(len(OTHERS)))
@pytest.mark.parametrize("place", ["top", "feature", "geometry"])
def test_any_other_is_refused_wherever_it_is(crs: Any, place: str) -> None:
    wrong = foreign_crs(text(**{place: crs}))
    assert wrong is not None
    assert wrong.key in ("file.crs", "file.crs-unnamed")
    assert foreign_crs(text(crs=crs)) is None, "an attribute of that name is no reference system"
    assert foreign_crs(text(crs=crs, **{place: crs})) == wrong


@pytest.mark.parametrize("key", ["CRS", "Crs", "\\u0063rs", "c\\u0072s", "cr\\u0053"])
def test_however_the_member_is_written(key: str) -> None:
    content = text(top=OTHERS[0]).replace(b'"crs"', f'"{key}"'.encode())
    assert foreign_crs(content) == message("file.crs", crs="EPSG:3857")


def test_the_second_of_two_counts_too() -> None:
    content = text(top=named("EPSG:4326"))
    twice = content[:-1] + b', "crs": ' + json.dumps(OTHERS[0]).encode() + b"}"
    assert foreign_crs(twice) == message("file.crs", crs="EPSG:3857")


def test_words_that_only_look_like_it() -> None:
    spoken = 'the "crs": {"type": "name"} of "properties": {'
    assert foreign_crs(text(note=spoken, of=["crs", {"crs": {"crs": 1}}])) is None
    found = foreign_crs(text(top=OTHERS[0], note=spoken))
    assert found == message("file.crs", crs="EPSG:3857")


def test_what_is_shown_of_it_is_short_and_clean() -> None:
    wrong = foreign_crs(text(top=named("\x1b[2J" + "x" * 3_000)))
    assert wrong is not None
    assert "\x1b" not in str(wrong["crs"])
    assert len(str(wrong["crs"])) <= 40
    assert foreign_crs(b'{"crs": ' + b"[" * 5_000) == message("file.crs-unnamed")


@pytest.mark.parametrize("crs", [OTHERS[0], OTHERS[5], None])
def test_a_route_on_another_system_is_refused(tmp_path: Path, crs: Any) -> None:
    path = tmp_path / "route.geojson"
    path.write_bytes(text(top=crs))
    with pytest.raises(FileFault, match=r"route\.geojson: the crs .*; export it again in WGS"):
        read_file(path)
    path.write_bytes(text(top=named(WGS_84[3]), crs="x"))
    (part,) = read_file(path).parts
    assert (part.points[0].position.latitude_deg, part.points[0].name) == (44.0, "A")
