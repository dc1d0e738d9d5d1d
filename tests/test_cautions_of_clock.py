"""The cautions of clock, night and daylight: each arises where it must and only there."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest
from cautioned import EVENING, cautions
from flights import TAKE_OFF, plan

from plotter.earth.sun import is_night
from plotter.flight.log import navigation_log
from plotter.flight.plan.values import Limits
from plotter.places.store import Store

MARGIN = {"limits": Limits(daylight_margin_min=120.0)}


@pytest.mark.parametrize(
    ("rank", "code", "changes", "words"),
    [
        (
            "CHECK",
            "departure-offset",
            {"departure": dt.datetime(2026, 12, 4, 17, tzinfo=TAKE_OFF.tzinfo)},
            "typed the departure as 2026-12-04 17:00 UTC-05:00, but the clock at KRST differs "
            "then: take-off is 16:00 CST (22:00Z). If 17:00 is the local time, write "
            "2026-12-04T17:00:00-06:00.",
        ),
        (
            "NOTE",
            "no-time-zone",
            {"route": "KRST 43.9,-91.3"},
            "its times are printed in UTC-05:00, as you typed",
        ),
        ("CHECK", "night", {"departure": EVENING}, "at night, from"),
        ("CHECK", "night-currency", {"departure": EVENING}, "To carry passengers"),
        ("NOTE", "position-lights", {"departure": EVENING}, "between sunset and sunrise"),
        (
            "CHECK",
            "daylight-margin",
            {
                "departure": EVENING - dt.timedelta(hours=2),
                "limits": Limits(daylight_margin_min=60.0),
            },
            "min before sunset",
        ),
        (
            "CHECK",
            "daylight-margin",
            {
                "departure": EVENING - dt.timedelta(hours=1),
                "limits": Limits(daylight_margin_min=30),
            },
            "is after sunset or before sunrise",
        ),
    ],
)
def test_a_caution_arises(
    real_store: Store, rank: str, code: str, changes: dict[str, Any], words: str
) -> None:
    found = cautions(real_store, **changes)[code]
    assert found.rank == rank
    assert words in found.text


@pytest.mark.parametrize(
    ("code", "changes"),
    [
        ("daylight-margin", {"departure": EVENING - dt.timedelta(hours=5), **MARGIN}),
        ("daylight-margin", {"departure": EVENING}),
    ],
)
def test_a_caution_stays_away(real_store: Store, code: str, changes: dict[str, Any]) -> None:
    assert code not in cautions(real_store, **changes)


def test_a_daylight_margin_knows_the_sun_that_does_not_set(real_store: Store) -> None:
    """Longyearbyen: the midnight sun of June keeps every margin, the polar night of December
    none."""
    summer = dt.datetime(2026, 6, 20, 23, tzinfo=dt.UTC)
    winter = dt.datetime(2026, 12, 20, 11, tzinfo=dt.UTC)
    changes = {"route": "ENSB ENAS", "limits": Limits(daylight_margin_min=600.0)}
    assert "daylight-margin" not in cautions(real_store, **changes, departure=summer)
    assert (
        "after sunset or before sunrise"
        in cautions(real_store, **changes, departure=winter)["daylight-margin"].text
    )


def test_a_sunset_after_midnight_by_the_clock_counts_as_the_next(real_store: Store) -> None:
    """Fairbanks, early June: the sun sets after midnight by the clock, so the local day's own
    sunset is that of the evening before."""
    evening = dt.datetime(2026, 6, 10, 22, 0, tzinfo=dt.timezone(dt.timedelta(hours=-8)))
    changes = {"route": "PAFA PAEI", "cruise_altitudes_ft": (2500.0,), "departure": evening}
    own = {"limits": Limits(daylight_margin_min=30.0)}
    assert "daylight-margin" not in cautions(real_store, **changes, **own)
    own = {"limits": Limits(daylight_margin_min=300.0)}
    assert "min before sunset" in cautions(real_store, **changes, **own)["daylight-margin"].text


def test_night_that_falls_on_the_way_names_where(real_store: Store) -> None:
    """The end of civil twilight at Eau Claire is near 21:30 CDT in early July (US Naval
    Observatory's rule: the sun 6° down)."""
    found = cautions(real_store, departure=EVENING)["night"]
    assert found.where == "KDLH"
    assert "take-off" not in found.text
    log = navigation_log(plan(departure=EVENING), real_store)
    dark = [row for row in log.rows if is_night(row.end.position, row.eta)]
    assert f"from {dark[0].end.name}, " in found.text
    assert log.sectors[0].reserve.minutes == 45.0
