"""Which place an identifier means, and what to type where it could mean several."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import pytest
from small_tables import AIRPORT_ROWS, NAVAID_ROWS, airport, navaid, write_tables

from plotter.datastore.opening import open_store
from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position
from plotter.errors import AmbiguousIdentifier, UnknownIdentifier
from plotter.messages import message, text
from plotter.places.lookup import MOST_LISTED, described, key_of, resolve
from plotter.places.model import Airport, Navaid
from plotter.places.store import Store

HERE = Position(44.0, -92.0)
MORE_AIRPORTS = (
    airport("ZZ-0020", 50.0, 10.0, icao="MMMM", name="Demo With Indicator"),
    airport("ZZ-0021", 51.0, 10.0, gps="MMMM", name="Demo With GPS Code"),
    airport("ZZ-0022", 52.0, 10.0, local="OOOO", name="Demo Local"),
    airport("ZZ-0023", 53.0, 10.0, gps="OOOO", name="Demo GPS"),
    airport("ZZ-0024", 54.0, 10.0, "closed", local="PPPP", name="Demo Gone"),
    airport("ZZ-0025", 55.0, 10.0, local="1Q", name="Demo One"),
    airport("ZZ-0026", 55.0, 10.5, iata="1Q", name="Demo Two"),
    airport("ZZ-0027", 56.0, 10.0, "closed", local="RRR", name="Demo Gone Too"),
    airport("ZZ-0029", 44.0, -92.5, local="SSA"),
    airport("ZZ-0028", 56.0, 11.0, "closed", local="RRR", name="Demo Gone As Well"),
    airport("ZZ-0031", 2.0, 30.0, "heliport", local="CRW"),
    airport("ZZ-0032", 2.0, 40.0, local="CRW"),
    airport("ZZ-0033", 2.0, 50.0, "large_airport", iata="CRW"),
    *(airport(f"ZZ-01{n}", 60.0, n / 10, local="MNY") for n in range(10, 22)),
)
MORE_NAVAIDS = (
    navaid("RRR-NDB-ZZ", 57.0, 10.0),
    navaid("SSA-NDB-ZZ", 44.1, -92.7),
    navaid("CRW-VOR-ZZ", 2.0, 31.5),
    navaid("MNY-VOR-ZZ", -60.0, 0.0),
    navaid("SSA-NDB-ZY", 44.1, 92.7),
    *(navaid(f"VV-NDB-Z{letter}", 0.0, n * 8.0) for n, letter in enumerate("ABCDEFGHIJKLMNOP")),
)


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    folder = tmp_path_factory.mktemp("lookup")
    tables = write_tables(
        folder / "tables",
        airports=[*AIRPORT_ROWS, *MORE_AIRPORTS],
        navaids=[*NAVAID_ROWS, *MORE_NAVAIDS],
    )
    with open_store(tables=tables, cache=folder / "cache") as small:
        yield small


def refusal(
    store: Store, text: str, near: Position | None = None, beside: Sequence[Position] = ()
) -> AmbiguousIdentifier:
    with pytest.raises(AmbiguousIdentifier) as caught:
        resolve(store, text, near, beside)
    return caught.value


def unknown(store: Store, text: str, near: Position | None = None) -> UnknownIdentifier:
    with pytest.raises(UnknownIdentifier) as caught:
        resolve(store, text, near)
    return caught.value


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("KAAA", "KAAA"),
        (" kaaa ", "KAAA"),
        ("ccc", "ZZ-0001"),
        ("KCCC", "ZZ-0001"),
        ("zz-0001", "ZZ-0001"),
        ("1z1", "1Z1"),
        ("HHH", "ZZ-0005"),  # a heliport is found
        ("LLL", "ZZ-0010"),  # a closed airport is found
        ("QQA", "QQA-NDB-ZZ"),
        ("airport:aaa", "KAAA"),
        ("AirPort: AAA", "KAAA"),
        ("navaid:aaa", "AAA-VOR-DME-ZZ"),
        ("aaa-vor-dme-zz", "AAA-VOR-DME-ZZ"),
        ("navaid:NNA-NDB-ZY", "NNA-NDB-ZY"),
        ("key:ZZ-0003", "ZZ-0003"),
        ("key:nna-vor-zx", "NNA-VOR-ZX"),
    ],
)
def test_an_identifier_of_one_place_needs_no_explanation(store: Store, text: str, key: str) -> None:
    found = resolve(store, text)
    assert key_of(found.place) == key
    assert found.settled_by is None


def test_a_location_indicator_goes_before_everything(store: Store) -> None:
    found = resolve(store, "MMMM")
    assert found.place.name == "Demo With Indicator"
    assert found.settled_by
    assert text(found.settled_by) == (
        "MMMM is read as Demo With Indicator by location indicator. It is also a code of "
        "Demo With GPS Code (ZZ)."
    )


def test_a_gps_code_of_four_letters_counts_as_one_where_none_is(store: Store) -> None:
    assert resolve(store, "OOOO").place.name == "Demo GPS"
    assert resolve(store, "airport:OOOO").place.name == "Demo GPS"


def test_a_gps_code_of_other_shape_does_not(store: Store) -> None:
    assert refusal(store, "1Q").candidates == ("airport:ZZ-0025", "airport:ZZ-0026")


def test_an_open_airport_goes_before_a_closed_one(store: Store) -> None:
    found = resolve(store, "DDD")
    assert found.place.name == "Demo New Field"
    assert found.settled_by
    assert found.settled_by.key == "settled.open"
    assert found.settled_by["place"] == "Demo New Field"
    assert found.settled_by["others"] == message(
        "place", name="Demo Old Field", country="ZZ", more=0
    )
    assert resolve(store, "key:ZZ-0003").place.name == "Demo Old Field"


def test_closed_airports_alone_and_a_navaid_are_refused(store: Store) -> None:
    fault = refusal(store, "RRR", Position(56.5, 10.0))
    assert set(fault.candidates) == {"airport:ZZ-0027", "airport:ZZ-0028", "navaid:RRR"}
    assert refusal(store, "airport:RRR").candidates == ("airport:ZZ-0027", "airport:ZZ-0028")


def test_an_airport_and_a_navaid_are_refused_with_what_to_type(store: Store) -> None:
    fault = refusal(store, "aaa", Position(44.0, -92.0))
    assert fault.candidates == ("airport:AAA", "navaid:AAA")
    assert fault.message == (
        "'AAA' means 2 places; enter the one you want:\n"
        "  airport:AAA  medium airport Demo KAAA, ZZ-D, 44°00.00′N 092°30.00′W, 21.7 NM away\n"
        "  navaid:AAA   VOR-DME Demo AAA, ZZ, 44°01.20′N 092°31.20′W, 22.5 NM away"
    )


def test_without_a_neighbour_no_distance_is_said(store: Store) -> None:
    assert "NM away" not in refusal(store, "aaa").message


def test_candidates_stand_nearest_first(store: Store) -> None:
    assert refusal(store, "BBB", Position(10.0, 19.0)).candidates[0] == "airport:ZZ-0002"
    assert refusal(store, "BBB", Position(44.0, -92.0)).candidates[0] == "airport:KBBB"


def test_without_a_neighbour_the_most_important_candidate_is_first(store: Store) -> None:
    assert refusal(store, "CRW").candidates == (
        "airport:ZZ-0033",
        "airport:ZZ-0032",
        "navaid:CRW",
        "airport:ZZ-0031",  # a heliport
    )


def test_positions_beside_order_the_list_and_choose_nothing(store: Store) -> None:
    far = Position(50.0, -50.0)
    fault = refusal(store, "CRW", None, [far, Position(2.0, 30.5)])
    assert fault.candidates == (
        "airport:ZZ-0031",
        "navaid:CRW",
        "airport:ZZ-0032",
        "airport:ZZ-0033",
    )
    assert "NM away" not in fault.message


def test_a_navaid_of_the_same_letters_is_always_listed(store: Store) -> None:
    fault = refusal(store, "MNY", Position(60.0, 0.0))
    assert len(fault.candidates) == MOST_LISTED
    assert fault.candidates[-1] == "navaid:MNY"
    assert "navaid:MNY" in refusal(store, "MNY").candidates


@pytest.mark.parametrize(
    ("near", "key"),
    [
        (Position(44.0, -92.0), "NNA-NDB-ZZ"),
        (Position(11.0, 21.0), "NNA-NDB-ZY"),
        (Position(-41.0, 171.0), "NNA-VOR-ZX"),
    ],
)
def test_a_near_neighbour_settles_a_navaid_and_says_so(
    store: Store, near: Position, key: str
) -> None:
    for typed in ("NNA", "navaid:nna"):
        found = resolve(store, typed, near)
        assert key_of(found.place) == key
        assert found.settled_by
        assert found.settled_by["distance_nm"] == distance_nm(near, found.place.position)


@pytest.mark.parametrize("near", [None, Position(60.0, 100.0)])
def test_a_far_neighbour_settles_nothing(store: Store, near: Position | None) -> None:
    assert len(refusal(store, "NNA", near).candidates) == 3


def test_two_near_navaids_are_refused(store: Store) -> None:
    """PPA stands twice, 48 NM apart: one is very near, the other not far."""
    fault = refusal(store, "PPA", Position(44.1, -92.59))
    assert fault.candidates == ("navaid:PPA-NDB-ZZ", "navaid:PPA-VOR-ZZ")


def test_a_candidate_that_the_neighbour_settles_needs_no_key(store: Store) -> None:
    assert refusal(store, "SSA", HERE).candidates == (
        "airport:SSA",
        "navaid:SSA",
        "navaid:SSA-NDB-ZY",
    )
    assert refusal(store, "SSA").candidates == (
        "airport:SSA",
        "navaid:SSA-NDB-ZY",
        "navaid:SSA-NDB-ZZ",
    )


def test_every_candidate_leads_to_its_place(store: Store) -> None:
    """Whatever is refused: each text that is offered resolves, to different places."""
    refused = 0
    for code in sorted(store.codes()):
        for near in (None, HERE):
            try:
                resolve(store, code, near)
            except AmbiguousIdentifier as fault:
                refused += 1
                keys = [key_of(resolve(store, text, near).place) for text in fault.candidates]
                assert len(set(keys)) == len(fault.candidates)
    assert refused > 10


def test_airports_whose_every_code_is_anothers_are_told_by_key(store: Store) -> None:
    """GGG is the ident of one and the local code of another, whose ident is its own."""
    assert refusal(store, "GGG").candidates == ("key:GGG", "airport:ZZ-0011")
    assert resolve(store, "key:GGG").place.name == "Demo GGG"


def test_many_places_are_counted_not_listed(store: Store) -> None:
    fault = refusal(store, "VV")
    assert len(fault.candidates) == MOST_LISTED
    assert fault.message.startswith("'VV' means 16 places")
    assert fault.message.endswith("and 6 more; enter a position for one of those")


def test_an_unknown_identifier_has_suggestions(store: Store) -> None:
    fault = unknown(store, "kcbc")
    assert fault.candidates[0] == "KCCC"
    assert fault.message.startswith("no place 'KCBC' in the data; did you mean KCCC")
    assert unknown(store, "airport:KCBC").candidates[0] == "airport:KCCC"


def test_suggestions_keep_to_the_kind_asked_for(store: Store) -> None:
    assert unknown(store, "navaid:QQB").candidates == ("navaid:QQA",)
    assert "airport:QQA" not in unknown(store, "airport:QQB").candidates


def test_near_codes_are_suggested_first(store: Store) -> None:
    assert unknown(store, "ZZ-0008X", Position(44.3, -92.3)).candidates == ("ZZ-0008",)
    near = unknown(store, "MMMX", Position(50.0, 10.0)).candidates
    assert near == ("MMMM",)
    assert unknown(store, "HHX", Position(44.4, -92.4)).candidates == ("HHH",)


def test_nothing_like_it(store: Store) -> None:
    fault = unknown(store, "XXXXXXXX")
    assert fault.message == "no place 'XXXXXXXX' in the data"
    assert fault.candidates == ()


def test_the_other_kind_is_offered(store: Store) -> None:
    fault = unknown(store, "navaid:KAAA")
    assert fault.candidates == ("airport:KAAA",)
    assert fault.said.key == "unknown-identifier.other-kind"
    assert fault.message == "no navaid 'KAAA' in the data; it is Demo KAAA (ZZ): enter airport:KAAA"
    assert unknown(store, "airport:QQA").candidates == ("navaid:QQA",)


@pytest.mark.parametrize("text", ["", "  ", "airport:", "navaid: ", "key:"])
def test_no_identifier_at_all(store: Store, text: str) -> None:
    assert "no identifier given; enter one, such as airport:KBOS" in unknown(store, text).message


@pytest.mark.parametrize(
    "text", ["\udcff", "ﬀ", "东", "KAAA\tairport", "KAAA\x00", "helipad:KAAA", "key:AAA", "A" * 999]
)
def test_odd_texts_are_unknown(store: Store, text: str) -> None:
    assert unknown(store, text).message


def test_a_closed_airport_and_a_country_without_region_are_described() -> None:
    place = Airport(
        *("ZZ-1", "", "", "", "", "closed", "Demo", "", "ZZ", ""),
        position=Position(1.0, 2.0),
        elevation_ft=None,
        time_zone="",
        sources_apart_nm=None,
        position_rule="",
    )
    assert described(place) == "closed airport Demo, ZZ, 01°00.00′N 002°00.00′E"
    assert described(replace(place, kind="seaplane_base"), None).startswith("seaplane base")


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("KJFK", "John F Kennedy International Airport"),
        ("EBBR", "Brussels Airport"),
        ("krst", "Rochester International Airport"),
        ("navaid:ODI", "Nodine"),
    ],
)
def test_real_places(real_store: Store, text: str, name: str) -> None:
    assert resolve(real_store, text).place.name == name


def test_a_real_identifier_of_several_places(real_store: Store) -> None:
    boston = Position(42.4, -71.0)
    fault = refusal(real_store, "BOS", boston)
    assert fault.candidates[:2] == ("airport:KBOS", "navaid:BOS")
    for candidate in fault.candidates:
        resolve(real_store, candidate, boston)
    settled = resolve(real_store, "navaid:DUB", Position(53.0, -6.0))
    assert isinstance(settled.place, Navaid)
    assert settled.place.country == "IE"
    assert settled.settled_by
    next_nm = settled.settled_by["next_nm"]
    assert isinstance(next_nm, float)
    assert next_nm > 3000  # Dubai's


def test_real_codes_are_told_apart_by_what_is_offered(real_store: Store) -> None:
    """A sample of all codes: every refusal offers texts that lead to different places."""
    refused = 0
    for code in sorted(real_store.codes())[::97]:
        try:
            resolve(real_store, code)
        except AmbiguousIdentifier as fault:
            refused += 1
            keys = {key_of(resolve(real_store, text).place) for text in fault.candidates}
            assert len(keys) == len(fault.candidates), code
    assert refused > 20
