"""What is printed of a log closes: every row across, every column down, for random flights."""

from __future__ import annotations

import datetime as dt
import math
import random
from functools import cache
from typing import NamedTuple

import pytest
from flights import TAKE_OFF, aircraft, plan, wind

from plotter.earth.angles import half_turn
from plotter.flight.aircraft import Airspeed, Cruise, VerticalRate
from plotter.flight.columns import COLUMNS, cell
from plotter.flight.compass import compass_card
from plotter.flight.log import navigation_log
from plotter.flight.log_values import NavigationLog
from plotter.flight.plan.values import LegNotes, Plan, Stop
from plotter.flight.printed import PrintedLog, PrintedRow, printed_log
from plotter.places.store import Store

FLIGHTS = 220
LIKE_A_COMPASS_DEG = 2.0
"""What the printed chain may differ by: no compass is read closer."""
FIELDS = ("KRST", "KLSE", "KEAU", "KDLH", "KONA", "KRGK", "KSTP", "KSGS", "KMSN", "KDSM", "KFSD")


class Flight(NamedTuple):
    log: NavigationLog
    printed: PrintedLog


def random_plan(seed: int) -> Plan:
    dice = random.Random(seed)
    points = dice.sample(FIELDS, dice.randint(2, 5))
    legs = tuple(
        LegNotes(
            number, distance_nm=dice.uniform(20.0, 150.0), variation_deg_east=dice.uniform(-20, 20)
        )
        for number in range(1, len(points))
        if dice.random() < 0.2
    )
    stops = tuple(
        Stop(point, float(dice.randint(5, 90))) for point in points[1:-1] if dice.random() < 0.4
    )
    card = compass_card([(each, (each + dice.uniform(-4, 4)) % 360) for each in range(0, 360, 30)])
    craft = aircraft(
        cruise=Cruise(Airspeed(dice.uniform(85.0, 160.0)), dice.uniform(5.0, 14.0)),
        climb=VerticalRate(dice.uniform(300.0, 900.0), Airspeed(dice.uniform(70.0, 90.0)), 12.0),
        fuel_on_board=dice.uniform(20.0, 53.0),
        compass_card=card,
    )
    altitude_ft = 500.0 * dice.randint(5, 18)
    return plan(
        route=" ".join(points),
        departure=TAKE_OFF + dt.timedelta(seconds=dice.choice((0, 0, dice.uniform(0, 86_400)))),
        cruise_altitudes_ft=(altitude_ft,),
        winds=(wind(dice.uniform(0, 360), dice.uniform(0, 35), altitude_ft),),
        aircraft=craft,
        stops=stops,
        legs=legs,
        every_nm=dice.uniform(4.0, 40.0),
        clock=dice.choice(("local", "utc")),
    )


@cache
def flown(store: Store) -> tuple[Flight, ...]:
    logs = [navigation_log(random_plan(seed), store) for seed in range(FLIGHTS)]
    return tuple(Flight(log, printed_log(log)) for log in logs)


@pytest.fixture(scope="module")
def flights(real_store: Store) -> tuple[Flight, ...]:
    return flown(real_store)


def shown(row: PrintedRow, key: str) -> float:
    """What stands on paper, read back as a person reads it."""
    text = cell(row, key).replace(",", "").replace("−", "-")
    if ":" in text:
        hours, minutes = text.split(":")
        return 60.0 * int(hours) + int(minutes)
    if text[-1:] in "LRWE" and text[:-1]:
        return float(text[:-1].rstrip("°")) * (-1.0 if text[-1] in "LW" else 1.0)
    return float(text.rstrip("°"))


def rows(flights: tuple[Flight, ...]) -> list[PrintedRow]:
    return [row for each in flights for sector in each.printed.sectors for row in sector.rows]


def test_every_row_closes_across(flights: tuple[Flight, ...]) -> None:
    found = rows(flights)
    assert len(found) > 2000
    for row in found:
        tc, wca, var = (
            shown(row, key)
            for key in ("true_course_deg", "wind_correction_angle_deg", "variation_deg_east")
        )
        assert (shown(row, "magnetic_course_deg") - (tc - var)) % 360 == 0
        assert (shown(row, "true_heading_deg") - (tc + wca)) % 360 == 0
        mh = shown(row, "magnetic_heading_deg")
        assert (mh - (shown(row, "true_heading_deg") - var)) % 360 == 0
        dev = shown(row, "compass_card_correction_deg")
        assert (shown(row, "compass_heading_deg") - (mh + dev)) % 360 == 0


def test_deviation_is_read_off_the_card_at_the_printed_heading(flights: tuple[Flight, ...]) -> None:
    for each in flights:
        card = each.log.plan.aircraft.compass_card
        assert card
        for row in rows((each,)):
            at = card.correction_deg(shown(row, "magnetic_heading_deg"))
            assert abs(shown(row, "compass_card_correction_deg") - at) <= 0.5 + 1e-9


def test_every_column_adds_up_to_its_total(flights: tuple[Flight, ...]) -> None:
    for each in flights:
        for sector in each.printed.sectors:
            sums = {
                key: math.fsum(shown(row, key) for row in sector.rows)
                for key in ("distance_nm", "ete_min", "fuel_used")
            }
            assert f"{sums['distance_nm']:.1f}" == f"{sector.distance_nm:.1f}"
            assert sums["ete_min"] == sector.ete_min
            assert f"{sums['fuel_used']:.1f}" == f"{sector.fuel_flown:.1f}"
            parts = math.fsum(float(amount) for _, amount in sector.fuel_parts)
            left = sector.fuel_at_start - parts
            assert left == pytest.approx(shown(sector.rows[-1], "fuel_remaining"))
            assert shown(sector.rows[0], "distance_nm") + shown(
                sector.rows[0], "distance_to_go_nm"
            ) == pytest.approx(sector.distance_nm)


def test_the_clock_runs_through_every_row_and_stop(flights: tuple[Flight, ...]) -> None:
    for each in flights:
        before = None
        for sector, stop in zip(each.printed.sectors, (None, *each.log.plan.stops), strict=False):
            at = sector.rows[0].take_off
            if before is not None and stop is not None:
                # Stops are listed in the order of the route here.
                assert at - before == dt.timedelta(minutes=stop.ground_min)
            for row in sector.rows:
                at += dt.timedelta(minutes=shown(row, "ete_min"))
                assert at == row.eta
                assert abs(at - row.row.eta) <= dt.timedelta(seconds=31)
            before = at


def test_distance_by_groundspeed_is_the_time_within_a_minute(flights: tuple[Flight, ...]) -> None:
    for row in rows(flights):
        worked = round(60.0 * shown(row, "distance_nm") / shown(row, "groundspeed_kt"))
        assert abs(worked - shown(row, "ete_min")) <= 1


def test_the_printed_chain_is_the_unrounded_one_to_two_degrees(flights: tuple[Flight, ...]) -> None:
    found = rows(flights)
    apart = []
    for row in found:
        for key in ("magnetic_course_deg", "magnetic_heading_deg", "compass_heading_deg"):
            value = COLUMNS[key].value(row.row)
            assert isinstance(value, float)
            assert abs(half_turn(shown(row, key) - value)) <= LIKE_A_COMPASS_DEG
        compass = row.row.compass_heading_deg
        apart.append(abs(half_turn(shown(row, "compass_heading_deg") - compass)))
    assert sum(each > 1.0 for each in apart) < 0.15 * len(apart)


def test_distances_and_fuel_lie_within_their_last_place(flights: tuple[Flight, ...]) -> None:
    for row in rows(flights):
        assert abs(shown(row, "distance_nm") - row.row.distance_nm) <= 0.1 + 1e-9
        assert 0.0 <= row.row.fuel_remaining - shown(row, "fuel_remaining") + 1e-6 <= 0.1 + 2e-6
        assert abs(shown(row, "ete_min") - row.row.ete_min) <= 1.02


def test_a_verdict_never_contradicts_what_is_printed(flights: tuple[Flight, ...]) -> None:
    for each in flights:
        for sector in each.printed.sectors:
            found = sector.verdict
            left, reserve = (float(found.words(x)) for x in (found.left, found.reserve))
            assert (left >= reserve) == (sector.sector.margin_fuel >= 0.0)
            assert float(found.words(found.margin)) == pytest.approx(left - reserve)


def test_legs_of_a_plot_are_those_of_its_log(flights: tuple[Flight, ...]) -> None:
    """One pencil line, one course: TC, VAR, MC and NM of a leg that nothing was typed for."""
    for each in flights:
        if each.log.plan.legs:
            continue
        for leg in each.log.plot.route.legs:
            own = [row for row in rows((each,)) if row.row.course.leg.number == leg.number]
            total = math.fsum(shown(row, "distance_nm") for row in own)
            assert f"{total:.1f}" == f"{leg.printed_nm:.1f}"
