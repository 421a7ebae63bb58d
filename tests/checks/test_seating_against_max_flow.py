"""The earliest day a bin can go, against maximum flow, and the nine allergens and small parts.

Outside source of the flow: OR-Tools' SimpleMaxFlow. A child is a source of as many visits as are
missing, a child's day lets one through, a rotation as many as there are seats; all have been when
the flow is the sum of the visits.
"""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import date, datetime, time, timedelta

from ortools.graph.python import max_flow

from bot.classroom.days import rotations_left
from bot.classroom.presence import is_away_in
from bot.classroom.readiness import readiness
from storage.records import Away, Roster, Stint
from tests.rosters import make_roster

CLASSES = 60
OPENS = date(2026, 11, 9)
NOW = datetime(2026, 11, 24, 9, 0)


def generated(rng: random.Random) -> tuple[Roster, Stint, dict[int, dict[int, int]]]:
    plain = make_roster()
    stint = Stint(
        500,
        plain.bins[0].id,
        "teal",
        OPENS,
        date(2026, 11, 24) + timedelta(days=rng.randint(0, 10)),
        rng.randint(1, 4),
        rng.randint(1, 3),
    )
    aways = []
    for student in plain.students:
        for n in range(rng.randint(0, 4)):
            day = date(2026, 11, 24) + timedelta(days=rng.randint(0, 9))
            part = time(10, 38) if rng.random() < 0.4 else None
            aways.append(Away(1000 * student.id + n, student.id, day, day, None, part, None))
    tally = {
        500: {s.id: rng.randint(0, stint.visits_each) for s in plain.students if rng.random() < 0.8}
    }
    return replace(plain, aways=tuple(aways), stints=(*plain.stints, stint)), stint, tally


def flow_by(roster: Roster, stint: Stint, missing: dict[int, int], last: date) -> tuple[int, int]:
    """The visits that can have been by the end of a day, and those wanted."""
    flow = max_flow.SimpleMaxFlow()
    slots = rotations_left(roster, NOW, last)
    nodes: dict[object, int] = {"from": 0, "to": 1}

    def node(key: object) -> int:
        return nodes.setdefault(key, len(nodes))

    for day, slot in slots:
        flow.add_arc_with_capacity(node((day, slot.starts)), 1, stint.seats)
    for student, visits in missing.items():
        flow.add_arc_with_capacity(0, node(student), visits)
        for day in dict.fromkeys(day for day, _ in slots):
            flow.add_arc_with_capacity(node(student), node((student, day)), 1)
        for day, slot in slots:
            if not is_away_in(roster, student, day, slot):
                flow.add_arc_with_capacity(node((student, day)), node((day, slot.starts)), 1)
    assert flow.solve(0, 1) == flow.OPTIMAL
    return flow.optimal_flow(), sum(missing.values())


def test_the_earliest_day_is_the_first_on_which_the_flow_reaches_everyone() -> None:
    rng = random.Random(20261124)
    seen = {"day": 0, "never": 0}
    for _ in range(CLASSES):
        roster, stint, tally = generated(rng)
        state = readiness(roster, tally, stint, NOW)
        missing = {s.id: stint.visits_each - tally[500].get(s.id, 0) for s in state.can_come}
        days = [date(2026, 11, 24) + timedelta(days=n) for n in range(20)]
        meant = [day for day in days if stint.closes is not None and day <= stint.closes]
        flows = (day for day in meant if len(set(flow_by(roster, stint, missing, day))) == 1)
        expected = next(flows, None) if missing else NOW.date()
        assert state.earliest == expected
        seen["day" if expected else "never"] += 1
    assert min(seen.values()) >= 10
