"""KML 2.2: valid, read back by others, and what simplekml gets wrong is put right."""

from __future__ import annotations

import re
import threading
from pathlib import Path
from xml.etree import ElementTree as ET

import awkward
import fastkml
import plots
import pytest
import readers
import schemas
import simplekml

from plotter import wording
from plotter.formats.kml import GRAPHITE, NAMESPACE, kml, kml_colour
from plotter.formats.names import shown_name
from plotter.route.plotting import Plot

N = {"k": NAMESPACE}
HOSTILE = plots.named(*awkward.NAMES.values())


@pytest.fixture(params=plots.GOLDEN)
def plot(request: pytest.FixtureRequest) -> Plot:
    return plots.GOLDEN[request.param]()


def leg_names(plot: Plot) -> list[str]:
    return [
        shown_name(f"{leg.number}: {shown_name(leg.start.name)} – {shown_name(leg.end.name)}")
        for leg in plot.route.legs
    ]


def test_it_is_valid(plot: Plot) -> None:
    schemas.validate("ogckml22.xsd", kml(plot))


def test_the_schema_refuses_what_simplekml_writes_by_itself() -> None:
    raw = simplekml.Kml(name="a")
    raw.newpoint(name="b", coords=[(1.0, 2.0)]).style.labelstyle.scale = 2
    with pytest.raises(AssertionError):
        schemas.validate("ogckml22.xsd", raw.kml(format=False).encode("utf-8"))


def test_hostile_names_are_valid_and_read_back_by_gdal(tmp_path: Path) -> None:
    path = tmp_path / "hostile.kml"
    path.write_bytes(kml(HOSTILE))
    schemas.validate("ogckml22.xsd", path.read_bytes())
    read = readers.gdal_points(path, "Turning points", "Name")
    assert readers.close(read, readers.turning_points(HOSTILE))
    assert [row["Name"] for row in readers.gdal(path, "Legs")] == leg_names(HOSTILE)


def test_gdal_reads_points_checkpoints_and_legs_in_order(plot: Plot, tmp_path: Path) -> None:
    path = tmp_path / "route.kml"
    path.write_bytes(kml(plot))
    read = readers.gdal_points(path, "Turning points", "Name")
    assert readers.close(read, readers.turning_points(plot))
    read = readers.gdal_points(path, "Checkpoints", "Name")
    assert readers.close(read, readers.checkpoints(plot))
    assert [row["Name"] for row in readers.gdal(path, "Legs")] == leg_names(plot)


@pytest.mark.parametrize("plot_of", [plots.mountain, lambda: HOSTILE], ids=["plain", "hostile"])
def test_fastkml_reads_names_order_and_positions(plot_of: type[Plot]) -> None:
    plot = plot_of()
    (document,) = fastkml.KML.from_string(kml(plot)).features
    legs, turns, marks = document.features
    assert (legs.name, turns.name, marks.name) == ("Legs", "Turning points", "Checkpoints")
    read = [readers.seen(p.name, p.geometry.y, p.geometry.x) for p in turns.features]
    assert readers.close(read, readers.turning_points(plot))
    read = [readers.seen(p.name, p.geometry.y, p.geometry.x) for p in marks.features]
    assert readers.close(read, readers.checkpoints(plot))
    assert [leg.name for leg in legs.features] == leg_names(plot)


def test_a_leg_over_180_is_cut_in_two_and_no_piece_jumps() -> None:
    root = ET.fromstring(kml(plots.across_180()))
    lines = [
        [float(point.split(",")[0]) for point in (element.text or "").split()]
        for element in root.iterfind(".//k:LineString/k:coordinates", N)
    ]
    assert len(lines) == 4
    assert len(root.findall(".//k:MultiGeometry", N)) == 2
    for line in lines:
        assert max(line) - min(line) < 3
        assert {-180.0, 180.0} & {line[0], line[-1]}
    assert len(ET.fromstring(kml(plots.short())).findall(".//k:MultiGeometry", N)) == 0


def test_long_legs_are_densified() -> None:
    (coordinates,) = ET.fromstring(kml(plots.far_north())).iterfind(
        ".//k:LineString/k:coordinates", N
    )
    points = [tuple(map(float, p.split(","))) for p in (coordinates.text or "").split()]
    assert len(points) > 10
    assert max(latitude for _, latitude in points) > 76.0


def test_ids_are_valid_and_every_link_has_its_style() -> None:
    root = ET.fromstring(kml(plots.short()))
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert ids == ["style-1", "style-2"]
    links = {link.text for link in root.iter(f"{{{NAMESPACE}}}styleUrl")}
    assert links == {"#style-1", "#style-2"}


def test_every_geometry_says_its_altitude_mode() -> None:
    root = ET.fromstring(kml(plots.across_180()))
    for tag in ("Point", "LineString"):
        for element in root.iter(f"{{{NAMESPACE}}}{tag}"):
            assert element.findtext("k:altitudeMode", "", N) == "clampToGround"


def test_nothing_is_asked_of_another_host(plot: Plot) -> None:
    assert re.findall(r"\w+://[^\"<]*", kml(plot).decode("utf-8")) == [NAMESPACE]


def test_the_line_is_graphite() -> None:
    colour = ET.fromstring(kml(plots.short())).findtext(".//k:LineStyle/k:color", "", N)
    assert colour == kml_colour(GRAPHITE) == "ff2b2b2b"
    assert kml_colour("#D55E00", alpha=0x80) == "80005ed5"


def test_cautions_and_data_dates_are_in_it(plot: Plot) -> None:
    text = ET.fromstring(kml(plot)).findtext("k:Document/k:description", "", N)
    for line in (*wording.STANDING, *(caution.text for caution in plot.cautions)):
        assert line in text
    for date in (plot.data.airports, plot.data.navaids, plot.data.magnetic_model_valid_to):
        assert date in text


def test_a_description_is_shown_as_text_by_viewers_that_read_html() -> None:
    note = "<img src=x onerror=alert(1)> & more"
    plot = plots.plot_of([plots.at_point("A", 1, 1, note=note), plots.at_point("B", 1, 2)])
    text = ET.fromstring(kml(plot)).findtext(
        ".//k:Folder/k:Placemark/k:Point/../k:description", "", N
    )
    assert text == "&lt;img src=x onerror=alert(1)&gt; &amp; more"


def test_coordinates_have_six_decimals_and_no_exponent() -> None:
    plot = plots.plot_of([plots.at_point("A", 1e-7, -1e-9), plots.at_point("B", 0.5, 180.0)])
    for element in ET.fromstring(kml(plot)).iter(f"{{{NAMESPACE}}}coordinates"):
        for point in (element.text or "").split():
            assert re.fullmatch(r"-?\d+\.\d{6},-?\d+\.\d{6}", point)
            assert "-0.000000" not in point


def test_a_route_without_checkpoints_has_no_folder_of_them() -> None:
    root = ET.fromstring(
        kml(plots.plot_of([plots.at_point("A", 1, 1), plots.at_point("B", 1, 1.1)]))
    )
    assert [f.findtext("k:name", "", N) for f in root.iter(f"{{{NAMESPACE}}}Folder")] == [
        "Legs",
        "Turning points",
    ]


def test_documents_made_before_or_at_the_same_time_change_nothing() -> None:
    plot = plots.short()
    alone = kml(plot)
    simplekml.Kml().newpoint(name="another document")
    results: list[bytes] = []
    threads = [threading.Thread(target=lambda: results.append(kml(plot))) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert results == [alone] * 8
