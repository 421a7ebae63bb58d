"""Forecasts and reorder points against published series and reference programs."""

from __future__ import annotations

from decimal import Decimal, localcontext
from math import factorial

import pytest

from bot.classroom.demand import (
    croston,
    poisson_floor,
    poisson_point,
    rate,
    reorder_point,
    smoothed,
    z_of,
)
from bot.classroom.supplies import learned

# NIST/SEMATECH e-Handbook of Statistical Methods, 6.4.3.1 "Single Exponential Smoothing":
# the series, alpha 0.1, the smoothed values S2..S12 as printed (S2 is the first observation).
NIST = (71, 70, 69, 68, 64, 65, 72, 78, 75, 75, 75, 70)
NIST_SMOOTHED = (71, 70.9, 70.71, 70.44, 69.80, 69.32, 69.58, 70.43, 70.88, 71.29, 71.67)

# Hyndman and Athanasopoulos, Forecasting: Principles and Practice, 2nd edition, section 12.2:
# productC, alpha 0.1; demand 2.750 over interval 2.793 gives 0.985.
PRODUCT_C = (
    0, 2, 0, 1, 0, 11, 0, 0, 0, 0, 2, 0, 6, 3, 0, 0, 0, 0, 0, 7, 0, 0, 0, 0, 0, 0, 0, 3, 1, 0, 0, 1,
    0, 1, 0, 0,
)  # fmt: skip

# Poisson reorder points at 90, 95, 98 and 99%: all forty copied from scipy 1.17.1 `poisson.ppf`,
# which is not run here. Run beside our own sum is the definition, to 40 digits.
LEVELS = ("0.90", "0.95", "0.98", "0.99")
POISSON = {
    1: (2, 3, 3, 4), 2: (4, 5, 5, 6), 3: (5, 6, 7, 8), 4: (7, 8, 9, 9), 5: (8, 9, 10, 11),
    6: (9, 10, 12, 12), 8: (12, 13, 14, 15), 10: (14, 15, 17, 18), 15: (20, 22, 23, 25),
    20: (26, 28, 30, 31),
}  # fmt: skip

# Standard normal quantiles: copied from scipy 1.17.1 `norm.ppf`, rounded to three places.
Z = {0.80: 0.842, 0.85: 1.036, 0.90: 1.282, 0.95: 1.645, 0.975: 1.960, 0.98: 2.054, 0.99: 2.326}


@pytest.mark.parametrize("seen", range(1, len(NIST)))
def test_smoothing_is_that_of_the_handbook(seen: int) -> None:
    expected = NIST_SMOOTHED[seen - 1]
    printed = 1 if expected == 70.9 else 2
    assert round(smoothed(NIST[:seen], 0.1), printed) == pytest.approx(expected, abs=0.011)


def test_use_is_learned_by_the_same_smoothing() -> None:
    assert learned(NIST[0], NIST[1:-1], 0.1) == pytest.approx(smoothed(NIST[:-1], 0.1))
    assert learned(71, (), 0.1) == 71


def test_rare_demand_is_forecast_as_in_the_book() -> None:
    assert round(croston(PRODUCT_C, 0.1), 3) == 0.985


def test_rare_demand_is_forecast_by_its_intervals_and_steady_demand_is_not() -> None:
    assert rate(PRODUCT_C, 0.1) == croston(PRODUCT_C, 0.1)
    assert rate(NIST, 0.1) == smoothed(NIST, 0.1)
    assert rate((0, 0, 0)) == 0


@pytest.mark.parametrize("mean", POISSON)
def test_poisson_reorder_points_are_those_of_the_tables(mean: int) -> None:
    found = tuple(poisson_point(mean, float(level)) for level in LEVELS)
    assert found == POISSON[mean]


def chance_of_at_most(demand: int, mean: int) -> Decimal:
    """P(D <= demand) of a Poisson by its definition, to 40 digits."""
    with localcontext(prec=40):
        terms = (Decimal(mean) ** n / factorial(n) for n in range(demand + 1))
        return Decimal(-mean).exp() * sum(terms)


@pytest.mark.parametrize("mean", POISSON)
def test_the_tables_are_the_least_stock_that_covers_so_much(mean: int) -> None:
    for level, stock in zip(LEVELS, POISSON[mean], strict=True):
        assert chance_of_at_most(stock - 1, mean) < Decimal(level) <= chance_of_at_most(stock, mean)


# Cumulative Poisson at mean 5 (scipy 1.17.1 `poisson.cdf`): P(D <= 1) = .0404, P(D <= 2) = .1247.
def test_what_a_poisson_reaches_nineteen_times_in_twenty() -> None:
    assert poisson_floor(5, 0.95) == 2
    assert poisson_floor(0.01, 0.95) == 0


@pytest.mark.parametrize("level", Z)
def test_normal_quantiles(level: float) -> None:
    assert round(z_of(level), 3) == Z[level]


def test_a_reorder_point_with_normal_demand() -> None:
    """Daily demand 5, deviation 2, four days: 20 + 1.645 x 2 x 2 = 26.579 (textbook formula)."""
    assert round(reorder_point(20, 2 * 4**0.5), 3) == 26.579


def test_a_large_poisson_is_near_its_normal() -> None:
    """scipy 1.17.1 `poisson.ppf(0.95, 144)` is 164; the normal gives 163.7. At other levels and
    means above 100 the two may differ, and only this one is checked."""
    assert poisson_point(144) == 164
    assert chance_of_at_most(163, 144) < Decimal("0.95") <= chance_of_at_most(164, 144)
