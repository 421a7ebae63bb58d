"""Several things told of one supply in a breath: "almost gone, 3 left", "2 tore, tossed them"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.understanding.asking_back import Heard
from bot.understanding.supplies.told import Told

_LESS = ("lost", "discarded")


def joined(told: Sequence[Told | Heard]) -> list[Told | Heard]:
    """The same with what belongs together told once."""
    out: list[Told | Heard] = []
    for one in told:
        before = _before(one, out) if isinstance(one, Told) else None
        if before is None or not isinstance(one, Told):
            out.append(one)
            continue
        at = next(n for n, other in enumerate(out) if other is before)
        out[at : at + 1] = _of_two(before, one)
    return out


def _before(one: Told, told: Sequence[Told | Heard]) -> Told | None:
    """What was told of the same supply, where this goes on with it."""
    for other in reversed(told):
        if isinstance(other, Told) and other.is_of_same(one):
            goes_on = one.part.refers or None in (one.number, other.number)
            return other if goes_on or one.kind == "counted" else None
    return None


def _of_two(first: Told, second: Told) -> list[Told]:
    """What stands of two things told of one supply: a count says all, a number more than none."""
    kinds = (first.kind, second.kind)
    if second.kind == "out" or (second.kind == "counted" and second.number is not None):
        again = first.kind == "counted" and first.number not in (None, second.number)
        return [replace(second, kind="unclear") if again else second]
    if first.kind in ("wanted", "bare"):
        return [second]
    if second.kind == "wanted":
        return [first]
    if all(kind in _LESS for kind in kinds):
        return [_one_loss(first, second)]
    if first.kind == "counted":
        return [replace(first, kind="unclear")]  # "we have 5, two of them are cracked"
    if first.kind == "lost" and second.kind == "found" and second.number is None:
        return []  # "but we got them back"
    if first.number is None and second.number is not None:
        return [second]
    return [first] if second.number is None else [first, second]


def _one_loss(first: Told, second: Told) -> Told:
    """ "2 tore, threw them out": the same two."""
    if second.number is None:
        return first
    if first.number in (None, second.number):
        return second
    return replace(second, kind="unclear")
