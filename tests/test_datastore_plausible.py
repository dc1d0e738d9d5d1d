"""Newer airports and beacons are refused where they are not the successors of those in use."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from small_tables import Row, airport, navaid

from plotter.datastore.comparing import check_airports, check_figures, check_navaids, check_size
from plotter.errors import RefreshFault

FIELDS = [airport(f"K{n:03}", 30.0 + n / 10, -90.0) for n in range(100)]
BEACONS = [navaid(f"B{n:02}-VOR-ZZ", 30.0 + n / 10, -90.0, f"{n / 10}") for n in range(100)]
Turn = Callable[[Row], Row]


def changed(rows: list[Row], count: int, turn: Turn) -> list[Row]:
    return [*map(turn, rows[:count]), *rows[count:]]


def moved(column: int, by: float) -> Turn:
    return lambda row: (*row[:column], repr(float(row[column]) + by), *row[column + 1 :])


def declination(make: Callable[[float], str]) -> Turn:
    return lambda row: (*row[:9], make(float(row[9])), *row[10:])


# 0.1° of latitude are 6 NM, 0.01° are 0.6 NM.
@pytest.mark.parametrize(
    ("count", "by", "is_refused"), [(5, 0.1, False), (6, 0.1, True), (100, 0.01, False)]
)
def test_places_that_moved_by_more_than_a_mile(count: int, by: float, is_refused: bool) -> None:
    fields, beacons = (
        changed(rows, count, moved(column, by)) for rows, column in ((FIELDS, 10), (BEACONS, 4))
    )
    if not is_refused:
        check_airports(FIELDS, fields)
        check_navaids(BEACONS, beacons)
        return
    with pytest.raises(RefreshFault, match=r"^6 airports would move by more than 1 NM"):
        check_airports(FIELDS, fields)
    with pytest.raises(RefreshFault, match=r"^6 beacons would move by more than 1 NM"):
        check_navaids(BEACONS, beacons)


def test_places_that_are_gone() -> None:
    check_airports(FIELDS, FIELDS[5:])
    with pytest.raises(RefreshFault, match=r"^only 94 of the 100 airports in use"):
        check_airports(FIELDS, FIELDS[6:])
    check_navaids(BEACONS, BEACONS[10:])
    with pytest.raises(RefreshFault, match=r"^only 89 of the 100 beacons in use"):
        check_navaids(BEACONS, BEACONS[11:])
    for rows in (90, 150):
        check_size("navaids", rows, 100)
    for rows in (89, 151):
        with pytest.raises(RefreshFault, match=f"navaids would have {rows} rows instead of 100"):
            check_size("navaids", rows, 100)


@pytest.mark.parametrize(
    ("count", "turn", "is_refused"),
    [
        (5, declination(lambda value: f"{value + 9}"), False),
        (6, declination(lambda value: f"{value + 9}"), True),
        (100, declination(lambda value: f"{value + 2}"), False),
        (100, declination(lambda value: f"{value + 2.1:.1f}"), True),
        (5, declination(lambda _: ""), False),
        (6, declination(lambda _: ""), True),
        (100, declination(lambda value: f"{-value}"), True),  # 4.0 for 2.0 and so on
    ],
)
def test_declinations_that_turned(count: int, turn: Turn, is_refused: bool) -> None:
    newer = changed(BEACONS, count, turn)
    if is_refused:
        with pytest.raises(RefreshFault, match=r"the declination of \d+ beacons would change"):
            check_navaids(BEACONS, newer)
    else:
        check_navaids(BEACONS, newer)


def test_a_declination_that_was_not_in_the_data_may_come() -> None:
    without = [(*row[:9], "", *row[10:]) for row in BEACONS]
    check_navaids(without, BEACONS)


def test_a_declination_is_an_angle() -> None:
    check_navaids([navaid("A-VOR-ZZ", 80.0, 0.0, "179.5")], [navaid("A-VOR-ZZ", 80.0, 0.0, "-180")])


def test_two_of_one_name_may_exchange_their_numbers() -> None:
    near, far = (navaid("BBB-VOR-ZZ", *where, "1") for where in ((44.0, -92.0), (10.0, 20.0)))
    check_navaids([near, far], [("BBB-VOR-ZZ", *far[1:]), ("BBB-VOR-ZZ-2", *near[1:])])


STRIPS: list[Row] = [
    (f"K{n:03}", "13", "31", f"{3000 + n}", "75", "asphalt", "1", "0", "134.0", "314.0")
    for n in range(100)
]
RADIOS: list[Row] = [(f"K{n:03}", "CTAF", "", f"{118 + n / 40}") for n in range(100)]
HIGH = [(*row[:12], f"{800 + n}", *row[13:]) for n, row in enumerate(FIELDS)]
WORLD = {"airports": HIGH, "runways": STRIPS, "frequencies": RADIOS, "navaids": BEACONS}


@pytest.mark.parametrize(
    ("table", "column", "turn", "words"),
    [
        ("airports", 12, lambda feet: feet * 0.3048, "elevations of airports"),
        ("runways", 3, lambda feet: feet * 0.3048, "lengths of runways"),
        ("runways", 8, lambda degrees: (degrees + 180) % 360, "headings of runways"),
        ("frequencies", 3, lambda mhz: mhz * 1000, "frequencies of airports"),
        ("navaids", 7, lambda khz: khz / 1000, "frequencies of beacons"),
    ],
)
def test_a_unit_or_column_exchanged(
    table: str, column: int, turn: Callable[[float], float], words: str
) -> None:
    def other(row: Row) -> Row:
        return (*row[:column], f"{turn(float(row[column])):.3f}", *row[column + 1 :])

    def gone(row: Row) -> Row:
        return (*row[:column], "", *row[column + 1 :])

    for change in (other, gone):
        check_figures(WORLD, WORLD | {table: changed(WORLD[table], 50, change)})
        with pytest.raises(RefreshFault, match=f"^51 of 100 {words} would be other figures"):
            check_figures(WORLD, WORLD | {table: changed(WORLD[table], 51, change)})


def test_figures_that_are_polished_or_come_are_no_fault() -> None:
    polished = [
        (*row[:3], f"{float(row[3]) * 1.05:.0f}", *row[4:8], "136", "316") for row in STRIPS
    ]
    check_figures(WORLD, WORLD | {"runways": polished})
    without = [(*row[:3], "", *row[4:]) for row in STRIPS]
    check_figures(WORLD | {"runways": without}, WORLD)
