"""The tables of the page: every figure, every name as text, nothing as markup."""

from __future__ import annotations

from dataclasses import replace
from html.parser import HTMLParser

import awkward
import plots
import pytest

from plotter import wording
from plotter.maps import labels, tables
from plotter.messages import literal
from plotter.places.airports import Beside
from plotter.route.plotting import Plot
from plotter.route.values import Caution

ALLOWED = {
    "input",
    "label",
    *("div", "table", "caption", "thead", "tbody", "tfoot", "tr", "th", "td", "a", "bdi", "svg"),
    *("path", "span", "small", "p", "ul", "li", "strong", "cite"),
}


class Page(HTMLParser):
    """Rows of cell texts, and every element that was met."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.rows: list[list[str]] = []
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self._in_cell = False
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        if tag == "tr":
            self.rows.append([])
        elif tag in ("td", "th"):
            self.rows[-1].append("")
            self._in_cell = True

    def handle_endtag(self, tag: str) -> None:
        if tag in ("td", "th"):
            self._in_cell = False

    def handle_data(self, data: str) -> None:
        if self._in_cell:
            self.rows[-1][-1] += data


def test_legs_in_the_order_a_pilot_fills_them_in() -> None:
    plot = plots.mountain()
    head, *rows, total = Page(tables.legs(plot, sm=False)).rows
    assert head == ["Leg", "From", "To", "TC", "VAR", "MC", "Distance"]
    for row, leg in zip(rows, plot.route.legs, strict=True):
        assert row == [
            str(leg.number),
            leg.start.name,
            leg.end.name,
            wording.course(leg.true_course_deg, "T"),
            wording.variation(leg.variation.degrees_east),
            wording.magnetic_course(leg.true_course_deg, leg.variation.degrees_east),
            wording.distance(leg.printed_nm),
        ]
    assert total == ["Whole route", wording.distance(plot.route.distance_nm)]


def test_the_total_is_summed_from_unrounded_legs() -> None:
    plot = plots.many(60)
    (*_, total) = Page(tables.legs(plot, sm=False)).rows
    assert total[-1] == f"{sum(leg.distance_nm for leg in plot.route.legs):.1f} NM"


def test_statute_miles_have_their_own_column() -> None:
    plot = plots.short()
    head, first, *_ = Page(tables.legs(plot, sm=True)).rows
    assert head[-1] == "Statute"
    assert first[-1] == labels.statute(plot.route.legs[0].distance_nm)
    assert "SM" not in tables.legs(plot, sm=False)


def test_checkpoints_and_turning_points_stand_in_flying_order() -> None:
    plot = plots.short()
    head, *rows = Page(tables.checkpoints(plot)).rows
    assert head == ["Checkpoint", "Leg", "Position", "Gone", "To go"]
    assert len(rows) == len(plot.checkpoints) + len(plot.route.waypoints)
    gone = [float(row[3].removesuffix(" NM")) for row in rows]
    assert gone == sorted(gone)
    whole = plot.route.distance_nm
    for row in rows:
        to_go = float(row[4].removesuffix(" NM"))
        assert float(row[3].removesuffix(" NM")) + to_go == pytest.approx(whole, abs=0.11)
    assert (rows[0][0], rows[-1][0]) == ("XDMA", "XDMB")
    assert rows[-1][4] == "0.0 NM"


def test_a_turning_point_says_both_its_legs() -> None:
    rows = Page(tables.checkpoints(plots.short())).rows
    assert [row[1] for row in rows if row[0] in ("XDMA", "Water tower", "XDMB")] == [
        "1",
        "1/2",
        "2",
    ]


def test_airports_with_what_is_known_and_what_is_not() -> None:
    head, row = Page(tables.airports(plots.short())).rows
    assert head == ["Airport", "Name", "Along", "Off the line", "Elevation", "Longest runway"]
    assert row == ["XDMC", "Demo Strip", "9.9 NM", "1.4 NM right", "1,200 ft", "4,200 ft"]
    bare = replace(plots.airport("XDMX", "Demo", 44, -92.0, None), runways=(), kind="seaplane_base")
    plot = replace(plots.short(), near=(Beside(bare, 1, 3.0, -2.0),))
    _, row = Page(tables.airports(plot)).rows
    assert row[1:] == ["Demo seaplane base", "3.0 NM", "2.0 NM left", *["not in the data"] * 2]


def test_an_airport_beyond_an_end_says_which() -> None:
    field = Beside(plots.airport("XDMX", "Demo", 44, -92.0), 1, 0.0, -2.0, "before the departure")
    _, row = Page(tables.airports(replace(plots.short(), near=(field,)))).rows
    assert row[3] == "2.0 NM before the departure"


def test_two_airfields_that_may_be_one_name_each_other() -> None:
    pair = [plots.airport(ident, "Demo Strip", 44, -92.0) for ident in ("XDMX", "XDMY")]
    plot = replace(plots.short(), near=tuple(Beside(field, 1, 1.0, -2.0) for field in pair))
    _, first, second = Page(tables.airports(plot)).rows
    assert "perhaps one field with XDMY" in first[1]
    assert "perhaps one field with XDMX" in second[1]


def test_no_airport_is_an_absence_in_the_data_not_in_the_world() -> None:
    assert "not in the data" in tables.airports(replace(plots.short(), near=()))


def test_airports_left_out_are_counted() -> None:
    field = plots.short().near[0]
    many = replace(plots.short(), near=tuple(replace(field, along_nm=n / 10) for n in range(450)))
    assert "The 50 farthest from the line are neither drawn nor listed." in tables.airports(many)


def test_cautions_keep_their_order_rank_and_source() -> None:
    text = tables.cautions(plots.short())
    assert text.index("CHECK") < text.index("NOTE")
    assert "<cite><bdi>two datasets</bdi></cite>" in text
    assert "Nothing in the data called for a caution" in tables.cautions(
        replace(plots.short(), cautions=())
    )


def hostile(name: str) -> Plot:
    """A plot that carries one hostile name wherever a name can stand."""
    plot = plots.named("Start", name, "End")
    field = replace(plots.airport("XDMX", name, 30.1, -110.0), icao=name, gps="", ident=name)
    marks = tuple(replace(mark, name=name) for mark in plot.checkpoints)
    caution = Caution("CHECK", literal("demo", name), name, name)
    return replace(
        plot, name=name, near=(Beside(field, 1, 1.0, 1.0),), checkpoints=marks, cautions=(caution,)
    )


@pytest.mark.parametrize("kind", [kind for kind, name in awkward.NAMES.items() if name])
def test_a_hostile_name_stays_text_in_every_table(kind: str) -> None:
    name = awkward.NAMES[kind]
    plot = hostile(name)
    made = (
        tables.legs(plot, sm=True),
        tables.checkpoints(plot),
        tables.airports(plot),
        tables.cautions(plot),
    )
    for text in made:
        page = Page(text)
        assert {element for element, _ in page.elements} <= ALLOWED
        assert not [a for _, attributes in page.elements for a in attributes if a.startswith("on")]
    assert Page(made[0]).rows[1][2] == labels.visible(name)
    assert Page(made[2]).rows[1][1].startswith(labels.visible(name))


def test_every_row_can_be_reached_and_says_where_it_leads() -> None:
    for text in (tables.legs(plots.short(), sm=False), tables.checkpoints(plots.short())):
        page = Page(text)
        links = [attributes for element, attributes in page.elements if element == "a"]
        items = [a["data-item"] for element, a in page.elements if "data-item" in a]
        assert len(links) == len(items) == len(set(items))
        assert all(link["href"] == "#map_route" for link in links)
        assert all((link["aria-label"] or "").endswith("show on the map") for link in links)


def test_tables_have_captions_and_headed_rows_and_columns() -> None:
    for text in (tables.legs(plots.short(), sm=False), tables.checkpoints(plots.short())):
        scopes = [a.get("scope") for element, a in Page(text).elements if element == "th"]
        assert set(scopes) == {"row", "col"}
        assert text.count("<caption>") == 1
