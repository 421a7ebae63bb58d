"""Requests in full words read again as the same request, whatever was asked for."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.requests import LogVisits, Place, RemoveVisits, When, Who
from bot.understanding.canonical import log_in_full, removal_in_full
from tests.checks.test_names_with_typos import random_roster
from tests.rosters import NOW, OPENS, make_roster, read_in

_PLAIN = make_roster()
_ROSTERS = (_PLAIN, *(random_roster(seed) for seed in range(8)))
_DAYS = st.dates(OPENS, date(2026, 11, 24))
_TIMES = st.none() | st.sampled_from([time(10, 15), time(10, 40), time(13, 5)])


@st.composite
def _whos(draw: st.DrawFn) -> Who:
    """Some groups and children, or everyone; some of those left out."""
    ids = st.lists(st.integers(1, 24), unique=True, max_size=4).map(tuple)
    groups = st.lists(st.integers(1, 6), unique=True, max_size=3).map(tuple)
    everyone = draw(st.booleans())
    if everyone:
        return Who(everyone=True, but_groups=draw(groups), but_students=draw(ids))
    who = Who(groups=draw(groups), students=draw(ids))
    if not who:
        who = Who(students=(draw(st.integers(1, 24)),))
    if not who.groups:
        return who
    left_out = tuple(i for i in draw(ids) if i not in who.students)
    return Who(who.groups, who.students, but_students=left_out)


_PLACES = st.one_of(
    st.integers(1, 12).map(lambda number: Place(bin_id=number)),
    st.sampled_from([stint.color for stint in _PLAIN.stints]).map(lambda c: Place(color=c)),
)
_WHENS = st.builds(When, day=_DAYS, starts=_TIMES)


@settings(max_examples=400)
@given(who=_whos(), place=_PLACES, when=_WHENS, number=st.integers(0, len(_ROSTERS) - 1))
def test_a_log_in_full_reads_as_the_same_log(
    who: Who, place: Place, when: When, number: int
) -> None:
    roster = _ROSTERS[number]
    log = LogVisits(who, place, when)
    heard = read_in(roster, log_in_full(log, roster)).heard
    assert (heard.requests, heard.asks) == ([log], [])


def _is_read_again(removal: RemoveVisits, number: int) -> bool:
    """A removal said in full is sure: it is what a button sends."""
    roster = _ROSTERS[number]
    heard = read_in(roster, removal_in_full(removal, roster)).heard
    return heard.asks == [] and [
        (type(r), getattr(r, "who", None), getattr(r, "place", None), getattr(r, "when", None))
        for r in heard.requests
    ] == [(RemoveVisits, removal.who, removal.place, removal.when)]


@settings(max_examples=200)
@given(who=_whos(), place=_PLACES, day=_DAYS, number=st.integers(0, len(_ROSTERS) - 1))
def test_a_removal_in_full_reads_as_the_same_removal(
    who: Who, place: Place, day: date, number: int
) -> None:
    plain = replace(who, but_groups=(), but_students=())
    assert _is_read_again(RemoveVisits(plain, place, When(day)), number)


@pytest.mark.parametrize("who", [Who((3,), but_students=(11,)), Who((), (), True, (2,), (1,))])
def test_a_removal_with_children_left_out_reads_as_the_same(who: Who) -> None:
    assert _is_read_again(RemoveVisits(who, Place(1), When(NOW.date())), 0)


@pytest.mark.parametrize(
    "who",
    [
        Who((3,)),
        Who((), (1,)),
        Who((), (), True),
        Who((3,), (1,)),
    ],
)
def test_a_removal_from_every_bin_reads_as_the_same(who: Who) -> None:
    assert _is_read_again(RemoveVisits(who, None, When(NOW.date())), 0)


@pytest.mark.parametrize("slot", [1, 2])
def test_a_rotation_by_its_number_reads_as_that_rotation(slot: int) -> None:
    log = LogVisits(Who(groups=(3,)), Place(1), When(NOW.date(), slot=slot))
    assert read_in(_PLAIN, log_in_full(log, _PLAIN)).heard.requests == [log]
