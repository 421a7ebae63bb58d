"""How much will be asked for: smoothing, rare demand, and stock that is enough nineteen times in
twenty."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import ceil, exp, sqrt
from statistics import NormalDist

SERVICE = 0.95  # the share of times in which stock is to be enough
SMOOTHING = 0.1  # the share of the newest day in a rate
RARE = 1.32  # days between two days with visits above which demand is rare (see `rate`)
_SMALL = 100.0  # a mean above which a Poisson is as good as normal


def z_of(service: float = SERVICE) -> float:
    """The standard normal quantile: 1.645 for 95%."""
    return NormalDist().inv_cdf(service)


def reorder_point(mean: float, deviation: float, service: float = SERVICE) -> float:
    """Stock at which to order: expected demand over the lead time + z x its deviation."""
    return mean + z_of(service) * deviation


def poisson_point(mean: float, service: float = SERVICE) -> int:
    """The smallest stock that covers a Poisson demand of this mean with this probability."""
    if mean <= 0:
        return 0
    if mean > _SMALL:
        return ceil(reorder_point(mean, sqrt(mean), service))
    stock, chance = 0, exp(-mean)
    covered = chance
    while covered < service:
        stock += 1
        chance *= mean / stock
        covered += chance
    return stock


def poisson_floor(mean: float, service: float = SERVICE) -> int:
    """What a Poisson demand of this mean reaches at least with this probability."""
    if mean > _SMALL:
        return max(0, int(mean - z_of(service) * sqrt(mean)))
    stock, chance = 0, exp(-mean)
    covered = chance
    while covered <= 1 - service:
        stock += 1
        chance *= mean / stock
        covered += chance
    return stock


def smoothed(values: Sequence[float], share: float = SMOOTHING) -> float:
    """Simple exponential smoothing: the level after the last value, begun at the first
    (NIST/SEMATECH e-Handbook 6.4.3.1)."""
    if not values:
        return 0.0
    level = values[0]
    for value in values[1:]:
        level += share * (value - level)
    return level


def croston(values: Sequence[float], share: float = SMOOTHING) -> float:
    """Demand per period where many periods have none: smoothed size over smoothed interval
    (Croston 1972; worked in Hyndman and Athanasopoulos, FPP2, section 12.2)."""
    sizes = [value for value in values if value > 0]
    if not sizes:
        return 0.0
    places = [at for at, value in enumerate(values, start=1) if value > 0]
    gaps = [float(b - a) for a, b in pairwise([0, *places])]
    return smoothed(sizes, share) / smoothed(gaps, share)


def rate(values: Sequence[float], share: float = SMOOTHING) -> float:
    """Demand per period by its own history; Croston's way where demand is rare (periods per period
    with demand above 1.32: Syntetos, Boylan and Croston 2005)."""
    busy = sum(value > 0 for value in values)
    if busy and len(values) / busy > RARE:
        return croston(values, share)
    return smoothed(values, share)


def covering(visits: float, use: float, told: float, *, are_sure: bool) -> float:
    """Stock that is enough for these visits at the service level.

    Visits that are still to come are known in number: each uses what was told, and what was learned
    beyond (or below) that comes as a Poisson. Visits forecast from a rate are a Poisson themselves.
    """
    if visits <= 0:
        return 0.0
    if not are_sure:
        return use * poisson_point(visits)
    if use >= told:
        return told * visits + poisson_point((use - told) * visits)
    return max(use * visits, told * visits - poisson_floor((told - use) * visits))
