"""The weighing itself, on cases small enough to do by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest

from plotter.chart.weighing import (
    FREEDOM,
    SLIP_RATE,
    Family,
    Sharing,
    log_sum,
    log_t,
    log_weights,
    weigh,
)


def family(code: str, log_p: list[list[float]], sharing: Sharing, prior: float = 1.0) -> Family:
    rows = np.array(log_p)
    return Family(code, prior, sharing, rows * 0.0, rows, log_weights(np.ones(rows.shape[0])))


def shares(families: list[Family], right: list[float]) -> dict[str, float]:
    return {each.code: each.probability for each in weigh(families, np.array(right))}


def test_the_error_curve_is_a_density() -> None:
    z = np.linspace(-200.0, 200.0, 400_001)
    total = float(np.exp(log_t(z, np.full(z.shape, 1.5))).sum()) * (z[1] - z[0])
    assert total == pytest.approx(1.0, abs=1e-6)


def test_the_error_curve_is_students() -> None:
    # Abramowitz and Stegun 26.7: density at nought is Γ(9/2) / (Γ(4) √(8π)).
    at_nought = math.gamma(4.5) / (math.gamma(4.0) * math.sqrt(FREEDOM * math.pi))
    assert math.exp(log_t(np.zeros(1), np.ones(1))[0]) == pytest.approx(at_nought)


def test_logarithms_are_summed_without_overflow() -> None:
    assert float(log_sum(np.array([-1000.0, -1000.0]))) == pytest.approx(-1000.0 + math.log(2.0))


def test_bayes_rule() -> None:
    one = family("one", [[math.log(0.2)]], Sharing.ALIKE, prior=0.3)
    other = family("other", [[math.log(0.1)]], Sharing.ALIKE, prior=0.7)
    found = shares([one, other], [0.0])
    assert found["one"] == pytest.approx(0.06 / 0.13)
    assert sum(found.values()) == pytest.approx(1.0)


def test_what_is_not_known_is_summed_out() -> None:
    sure = family("sure", [[math.log(0.2)]], Sharing.ALIKE)
    vague = family("vague", [[math.log(0.2)], [math.log(0.02)]], Sharing.ALIKE)
    found = shares([sure, vague], [0.0])
    assert found["vague"] == pytest.approx(0.11 / 0.31)


def test_one_measure_for_all_legs_is_not_a_measure_for_each() -> None:
    rows = [[0.0, -50.0], [-50.0, 0.0]]
    alike = family("alike", rows, Sharing.ALIKE)
    each = family("each", rows, Sharing.EACH)
    assert shares([alike, each], [0.0, 0.0])["each"] > 0.999


def test_a_slip_on_some_legs_by_hand() -> None:
    right, slip = np.log([0.5, 0.001]), np.log([0.01, 0.4])
    some = family("some", [slip.tolist()], Sharing.SOME)
    r, s, q = np.exp(right), np.exp(slip), SLIP_RATE
    at_least_one = ((1 - q) * r + q * s).prod() - ((1 - q) * r).prod()
    wanted = at_least_one / (1 - (1 - q) ** 2)
    yardstick = family("yardstick", [[math.log(wanted), 0.0]], Sharing.ALIKE)
    found = shares([some, yardstick], right.tolist())
    assert found["some"] == pytest.approx(0.5)


def test_parts_of_one_explanation_are_added() -> None:
    parts = [family("a", [[0.0]], Sharing.ALIKE, 0.25), family("a", [[0.0]], Sharing.SOME, 0.25)]
    other = family("b", [[0.0]], Sharing.ALIKE, 0.5)
    assert shares([*parts, other], [0.0])["a"] == pytest.approx(0.5)


def test_the_best_case_and_its_leg() -> None:
    slip = family("slip", [[-9.0, -3.0], [-9.0, -1.0]], Sharing.SOME)
    (found,) = weigh([slip], np.array([-1.0, -20.0]))
    assert (found.case, found.leg) == (1, 1)
    assert found.best_log_p == pytest.approx(-2.0)


def test_an_explanation_of_no_weight_is_left_out() -> None:
    found = shares(
        [family("a", [[0.0]], Sharing.ALIKE), family("b", [[0.0]], Sharing.ALIKE, 0.0)], [0.0]
    )
    assert found == {"a": 1.0}
