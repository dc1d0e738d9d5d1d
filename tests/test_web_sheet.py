"""The planning sheet in words, and what one change to the route makes of it."""

from __future__ import annotations

from typing import Any

import pytest
from served import DAY, Served

from plotter import wording

SHORT = {"route": "KRST KLSE KONA", "date": DAY}


def sheet(page: Served, **change: object) -> dict[str, Any]:
    answer = page.post("/api/sheet", {**SHORT, **change})
    assert answer.status_code == 200, answer.text
    found: dict[str, Any] = answer.json()
    return found


def edited(page: Served, **edit: object) -> str:
    return str(sheet(page, edit=edit)["route"])


def test_every_figure_is_that_of_the_plot_in_the_words_of_the_trade(page: Served) -> None:
    document = page.post("/api/plot", SHORT).json()
    rows = sheet(page)["sheet"]["legs"]["rows"]
    for row, leg in zip(rows, document["legs"], strict=True):
        assert row["cells"][:5] == [
            leg["start"],
            leg["end"],
            wording.course(leg["true_course_deg"], "T"),
            wording.variation(leg["variation_deg_east"]),
            wording.magnetic_course(leg["true_course_deg"], leg["variation_deg_east"]),
        ]
        lengths = [float(row["cells"][5].removesuffix(" NM")) for row in rows]
    assert f"{sum(lengths):.1f} NM" == wording.distance(document["distance_nm"])
    assert sheet(page)["sheet"]["legs"]["foot"] == [wording.distance(document["distance_nm"])]


def test_marks_points_airports_and_cautions_stand_on_it(page: Served) -> None:
    found = sheet(page)["sheet"]
    assert [row["head"] for row in found["points"]["rows"]] == ["KRST", "KLSE", "KONA"]
    assert found["marks"]["rows"][1]["head"] == "CP1"
    assert found["airports"]["rows"][0]["type"]
    said = " ".join(caution["text"] for caution in found["cautions"])
    for words in wording.STANDING:
        assert words in said
    assert "Airports of" in found["dates"]
    assert found["summary"].startswith(wording.distance(sum(_lengths(found))))


def _lengths(found: dict[str, Any]) -> list[float]:
    document_rows = found["legs"]["rows"]
    return [float(row["cells"][5].removesuffix(" NM")) for row in document_rows]


def test_statute_miles_where_they_are_asked_for(page: Served) -> None:
    heads = sheet(page, sm=True)["sheet"]["legs"]["heads"]
    assert heads[-1] == "Statute"


def test_a_faulty_route_still_shows_the_points_that_can_be_read(page: Served) -> None:
    found = sheet(page, route="KRST KDHL KONA")
    assert found["sheet"] is None
    assert found["error"]["where"]["start"] == 5
    assert [point["index"] for point in found["points"]] == [0, 2]
    assert found["count"] == 3


def test_a_name_that_is_typed_out_is_offered_by_what_to_type(page: Served) -> None:
    error = sheet(page, route="KLSE Rochester")["error"]
    assert error["offers"][0]["type"] == "KRST"
    assert (error["offers"][0]["start"], error["offers"][0]["end"]) == (5, 14)
    slip = sheet(page, route="KRST KLES KDLH")["error"]
    assert [each["type"] for each in slip["offers"]][:1] == slip["candidates"][:1] == ["KLSE"]
    assert slip["message"] == "no place 'KLES' in the data", "one list of what to type, not two"
    first, second = sheet(page, route="KRST red wing")["error"]["all"]
    assert "offers" not in first, "a beacon of that ident: it means several places"
    assert second["offers"][0]["type"].startswith('"Red Wing=')
    assert (second["offers"][0]["start"], second["offers"][0]["end"]) == (5, 13)
    found = sheet(page, route="KRST salt lake city zzqqyyxx")["error"]["all"][-2:]
    assert [len(each["offers"]) > 0 for each in found] == [True, False]
    assert found[0]["offers"][0]["start"] == 5


def test_one_point_is_no_route_but_is_drawn(page: Served) -> None:
    found = sheet(page, route="KRST")
    assert found["error"]["code"] == "too-few-points"
    assert found["points"][0]["name"] == "KRST"
    empty = sheet(page, route="")
    assert (empty["count"], empty["points"]) == (0, [])


@pytest.mark.parametrize(
    ("edit", "wanted"),
    [
        ({"kind": "reverse"}, "KONA KLSE KRST"),
        ({"kind": "remove", "index": 1}, "KRST KONA"),
        ({"kind": "order", "order": [1, 0, 2]}, "KLSE KRST KONA"),
        ({"kind": "write-in", "index": 1, "text": "KEAU"}, "KRST KEAU KLSE KONA"),
        ({"kind": "write", "index": 1, "text": "KEAU"}, "KRST KEAU KONA"),
    ],
)
def test_a_change_by_hand(page: Served, edit: dict[str, object], wanted: str) -> None:
    assert edited(page, **edit) == wanted


PUT = {"latitude_deg": 44.0, "longitude_deg": -92.0}


def test_a_point_put_down_in_the_open_is_a_position(page: Served) -> None:
    assert edited(page, kind="insert", index=1, **PUT) == "KRST 440000N0920000W KLSE KONA"
    assert edited(page, kind="move", index=0, **PUT) == "440000N0920000W KLSE KONA"


def test_a_point_put_down_near_an_airport_takes_it(page: Served) -> None:
    near = {"latitude_deg": 45.87, "longitude_deg": -91.49, "snap_nm": 60.0}
    put = edited(page, kind="insert", index=3, **near).split()[-1]
    assert page.get("/api/find", text=put).json()[0]["type"] == put
    aside = {**near, "snap_nm": 0.0}
    assert edited(page, kind="insert", index=3, **aside).endswith("455212N0912924W")


@pytest.mark.parametrize(
    ("route", "edit"),
    [
        ("KRST KLSE KONA", {"kind": "write-in", "index": 2, "text": "klse"}),
        ("KRST KLSE KONA", {"kind": "write-in", "index": None, "text": "airport:KONA"}),
        ("KRST KLSE KONA", {"kind": "write", "index": 0, "text": "KLSE"}),
        ("KRST BARN=44,-92 KONA", {"kind": "move", "index": 0, **PUT}),
        ("KRST 440000N0920000W", {"kind": "insert", "index": None, **PUT}),
    ],
)
def test_a_point_put_down_on_its_neighbour_changes_nothing(
    page: Served, route: str, edit: dict[str, object]
) -> None:
    assert sheet(page, route=route, edit=edit)["route"] == route


def test_a_point_without_a_number_goes_behind_the_last(page: Served) -> None:
    assert edited(page, kind="insert", index=None, **PUT).endswith("KONA 440000N0920000W")
    assert edited(page, kind="write-in", index=None, text="KEAU") == "KRST KLSE KONA KEAU"


def test_a_change_among_other_points_is_not_made(page: Served) -> None:
    remove = {"kind": "remove", "index": 1}
    found = sheet(page, edit=remove, among=["KRST", "KAUM"])
    assert (found["is_made"], found["route"]) == (False, SHORT["route"])
    found = sheet(page, edit=remove, among=["KRST", "KLSE"])
    assert (found["is_made"], found["route"]) == (True, "KRST KONA")


def test_of_a_faulty_route_legs_are_drawn_between_points_that_follow_each_other(
    page: Served,
) -> None:
    found = sheet(page, route="FJ=-17,179 KDHL 10,179 10,-179 10,-179 KRST")
    assert [point["index"] for point in found["points"]] == [0, 2, 3, 4, 5]
    assert found["points"][0]["name"] == "FJ"
    assert [leg["index"] for leg in found["loose_legs"]] == [2, 4]
    assert found["points"][2]["at"] == [10.0, 181.0], (
        "on past the antimeridian, not round the world"
    )
    assert found["loose_legs"][0]["line"][-1] == 181.0
    assert 179.0 < found["loose_legs"][0]["mid"][1] < 181.0


def test_a_route_beyond_the_map_says_so(page: Served) -> None:
    assert "beyond 85°" in sheet(page, route="89.0,10 90,0 89,-100")["sheet"]["beyond"]
    assert sheet(page)["sheet"]["beyond"] == ""


def test_a_point_put_down_near_a_navaid_takes_it(page: Served) -> None:
    near = {"latitude_deg": 43.92, "longitude_deg": -91.46, "snap_nm": 2.0}
    put = sheet(page, edit={"kind": "insert", "index": 1, **near})
    assert put["route"] == "KRST ODI KLSE KONA"
    assert "Nodine" in " ".join(put["sheet"]["points"]["rows"][1]["cells"])
    moved = edited(page, kind="move", index=1, **near)
    assert moved == "KRST ODI KONA"


def test_a_moved_point_keeps_its_name_unless_it_takes_an_airport(page: Served) -> None:
    named = "KRST BARN=43.95,-92.41 KONA"
    moved = sheet(page, route=named, edit={"kind": "move", "index": 1, **PUT})
    assert moved["route"] == "KRST BARN=440000N0920000W KONA"
    assert moved["sheet"]["points"]["rows"][1]["head"] == "BARN"
    at_krst = {"latitude_deg": 43.909, "longitude_deg": -92.5, "snap_nm": 2.0}
    taken = sheet(
        page, route="KLSE BARN=43.95,-92.41 KONA", edit={"kind": "move", "index": 1, **at_krst}
    )
    assert taken["route"] == "KLSE KRST KONA"


def test_a_change_to_a_point_that_is_not_there_is_refused(page: Served) -> None:
    answer = page.post("/api/sheet", {**SHORT, "edit": {"kind": "remove", "index": 7}})
    assert answer.status_code == 422
    assert answer.json()["error"]["code"] == "no-point"


def test_the_first_point_of_an_empty_route_can_be_put_down(page: Served) -> None:
    found = sheet(page, route="", edit={"kind": "insert", "index": 0, **PUT})
    assert found["route"] == "440000N0920000W"
    assert found["points"][0]["at"] == [44.0, -92.0]


HOSTILE = ["<script>alert(1)</script>", "${alert(1)}", "\u202egnp.exe", "a'b\"c", "`x`"]


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_names_come_back_as_text(page: Served, name: str) -> None:
    points = [{"name": "P", "latitude_deg": 44, "longitude_deg": -92, "note": name}]
    found = sheet(page, route="KRST P", points=points, name=name)
    assert found["sheet"]["title"]
    assert "\x07" not in found["sheet"]["title"]


def test_a_point_is_named_and_every_point_told_as_typed(page: Served) -> None:
    body = {**SHORT, "edit": {"kind": "name", "index": 1, "name": "TOWN"}}
    answer = page.post("/api/sheet", body).json()
    assert answer["route"] == "KRST TOWN=KLSE KONA"
    assert answer["words"] == ["KRST", "TOWN=KLSE", "KONA"]
    assert answer["sheet"]["legs"]["rows"][0]["cells"][1] == "TOWN"
    wrong = page.post("/api/sheet", {**body, "edit": {**body["edit"], "name": "a b"}})
    assert wrong.json()["error"]["code"] == "point-name"


def test_two_thousand_points_are_plotted(page: Served) -> None:
    points = (f"{41 + k // 50 / 20:.4f},{-96 + k % 50 / 20:.4f}" for k in range(2_000))
    answer = page.post("/api/sheet", {"route": " ".join(points), "date": DAY}).json()
    assert len(answer["sheet"]["legs"]["rows"]) == 1_999
