"""Chart scales against the figure the FAA prints for them."""

from __future__ import annotations

import pytest

from plotter.chart.scales import SCALES, SECTIONAL, TERMINAL, WORLD, scale_named
from plotter.errors import InputError


def test_a_sectional_has_six_point_eight_six_nautical_miles_to_the_inch() -> None:
    # FAA Aeronautical Chart Users' Guide: 1:500,000 is 6.86 NM to the inch.
    assert 25.4 / SECTIONAL.mm_per_nm == pytest.approx(6.86, abs=0.005)


def test_each_scale_is_twice_the_next() -> None:
    assert TERMINAL.mm_per_nm == 2 * SECTIONAL.mm_per_nm == 4 * WORLD.mm_per_nm


@pytest.mark.parametrize("name", SCALES)
def test_a_scale_answers_to_its_name(name: str) -> None:
    assert scale_named(f" {name.upper()} ").name == name


def test_another_name_is_answered_with_the_names_there_are() -> None:
    with pytest.raises(InputError, match="sectional, terminal, world") as caught:
        scale_named("sectionl")
    assert caught.value.code == "chart"
