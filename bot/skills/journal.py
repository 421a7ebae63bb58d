"""Stepping back and forth, and saying why."""

from __future__ import annotations

from bot.classroom.cautions import kept_from
from bot.classroom.needs import missing_visits
from bot.classroom.restocking import most_urgent_first
from bot.classroom.stints import nearest_stint, stint_changes
from bot.outcomes import (
    ANSWERED,
    DONE,
    REFUSED,
    Explained,
    NudgeExplained,
    Outcome,
    ReadingExplained,
    SteppedBack,
    SupplyExplained,
)
from bot.requests import Redo, Request, Undo, Why, WhySupply
from bot.skills.replaying import built_on
from bot.skills.skill import Situation, Skill
from bot.skills.stocktaking import restock_fact, stocks_of, supply_change, take_stock
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from bot.understanding.senses import Kind
from storage.records import Claim, Entry, Turn


def undo(request: Undo, now: Situation) -> Outcome:
    """Step back the sender's last change, or the entry named by its number."""
    if request.entry_id is None:
        entry = now.book.last_change(now.member.id)
    else:
        entry = now.book.entry(request.entry_id)
    if entry is None:
        reason = "nothing" if request.entry_id is None else "unknown"
        return SteppedBack(status=ANSWERED, entry=None, forward=False, reason=reason)
    if entry.undone_by is not None:
        return SteppedBack(status=ANSWERED, entry=entry, forward=False, reason="already")
    if not entry.effect or entry.kind == "load":
        return SteppedBack(status=REFUSED, entry=entry, forward=False, reason="no_change")
    return _step(entry, now, forward=False)


def redo(request: Redo, now: Situation) -> Outcome:
    """Step forward again what the sender stepped back last."""
    undone = now.book.last_undone(now.member.id)
    if undone is None:
        return SteppedBack(status=ANSWERED, entry=None, forward=True, reason="nothing")
    return _step(undone, now, forward=True)


def _step(entry: Entry, now: Situation, *, forward: bool) -> Outcome:
    original = now.book.undone_through(entry.id) if forward else entry
    touched = {turn.key: turn for turn in now.book.touched(entry.id)}
    before = set(now.book.days_at(touched.values()))
    with now.book.attempt() as attempt:
        journal = now.book.journal(now.entry_id)
        journal.step_back(entry.id)
        journal.mark_undone(entry.id)
        now.book.close_entry(now.entry_id, kind="redo" if forward else "undo")
        standing_on_it = built_on(now.roster, now)
        if standing_on_it:
            attempt.give_up()
    if standing_on_it:
        told = now.book.entries(standing_on_it).values()
        later = tuple(e for e in told if e.id not in (entry.id, now.entry_id))
        return SteppedBack(
            status=REFUSED, entry=original, forward=forward, reason="built_on", built_on=later
        )
    after = set(now.book.days_at(touched.values()))
    supplies = now.book.supplies_touched(entry.id)
    stocks = stocks_of(now.book, now.roster, supplies) if supplies else {}
    return SteppedBack(
        status=DONE,
        changes=(
            *(supply_change(now.roster, stock) for stock in stocks.values()),
            *stint_changes(now.roster, now.book.roster()),
        ),
        added=tuple(t for key, t in touched.items() if key in after - before),
        removed=tuple(t for key, t in touched.items() if key in before - after),
        entry=original or entry,
        forward=forward,
        staying=tuple(t for key, t in touched.items() if key in before & after),
    )


def why(request: Why, now: Situation) -> Outcome:
    """Tell what is on record behind a need, or how the last text was read."""
    if not request.who.students or request.place is None:
        return _why_last(now)
    student = now.roster.student[request.who.students[0]]
    stint = now.stint(request.place, now.today)
    bin_ = now.bin_at(request.place, stint)
    if bin_ is None:
        return _why_last(now)
    stint = stint or nearest_stint(now.roster, bin_.id, now.today)
    stints = [s.id for s in now.roster.stints if s.bin_id == bin_.id]
    claims = now.book.claims(students=(student.id,), stints=stints, voided=True)
    standing = {c.id for c in now.book.claims(students=(student.id,), stints=stints)}
    told = now.book.entries({claim.entry_id for claim in claims})
    tally = now.book.tally([stint.id]) if stint else {}
    return Explained(
        status=ANSWERED,
        student=student,
        bin_=bin_,
        stint=stint,
        standing=tuple((c, told[c.entry_id]) for c in claims if c.id in standing),
        voided=tuple((c, told[c.entry_id]) for c in claims if c.id not in standing),
        missing=missing_visits(tally, stint, student) if stint else 0,
        caution=kept_from(now.roster, student, bin_),
        passed_by=_passed_by(student.id, stints, claims, now),
    )


def _passed_by(
    student_id: int, stints: list[int], own: tuple[Claim, ...], now: Situation
) -> tuple[tuple[Entry, str], ...]:
    """Logs of the child's own group at that bin that did not credit the child."""
    by_entry: dict[int, Turn] = {}
    for claim in now.book.claims(stints=stints):
        same = now.roster.group_on(claim.turn.student_id, claim.turn.day)
        mine = now.roster.group_on(student_id, claim.turn.day)
        if same is not None and same == mine:
            by_entry.setdefault(claim.entry_id, claim.turn)
    for claim in own:
        by_entry.pop(claim.entry_id, None)
    told = now.book.entries(by_entry)
    return tuple(
        (told[entry_id], turn.day.isoformat())
        for entry_id, turn in by_entry.items()
        if told[entry_id].kind != "load"
    )


def _why_last(now: Situation) -> Outcome:
    recent = now.book.recent_entries(now.member.id, 2)
    entry = recent[1] if len(recent) > 1 else None
    if entry is not None and entry.kind == "nudge":
        return NudgeExplained(status=ANSWERED, entry=entry, kind=entry.requests[0])
    taken = entry.result.get("taken", ()) if entry is not None else ()
    return ReadingExplained(
        status=ANSWERED,
        entry=entry,
        taken=tuple((str(text), str(meaning)) for text, meaning in taken),
    )


def why_supply(request: WhySupply, now: Situation) -> Outcome:
    """The arithmetic of each supply named: those that are short first."""
    held = take_stock(now.book, now.roster, now.at, request.supplies)
    short = most_urgent_first(held.lines.values())
    return SupplyExplained(
        status=ANSWERED,
        facts={"restock": [restock_fact(now.roster, line) for line in short]},
        lines=short or tuple(held.lines.values()),
        today=now.today,
    )


def _hear_undo(clause: Clause) -> Request:
    numbers = [i.get(Kind.NUMBER) for i in clause.items]
    named = [int(n.value) for n in numbers if n is not None and isinstance(n.value, int)]
    return Undo(named[0] if named else None)


def _hear_why(clause: Clause) -> Request:
    places = clause.places()
    return Why(clause.who(), places[0] if places else None)


UNDO = Skill(
    name="undo",
    title="Take back your last change",
    examples=("undo",),
    listeners=(
        Listener(
            (
                "undo",
                "^ oops|whoops|oop $",
                "^ go? back $",
                "^ revert",
                "^ scratch|cancel|delete|erase|remove|forget|nix|strike|ignore that|it|this|last $",
                "^ scratch|cancel|delete|erase|remove|forget|nix|ignore|undo the? last|"
                "previous one|log|entry|text|message|thing|turn?",
                "take that|it back",
                "^ nvm|nevermind|oops|no|wait|sorry delete|scratch|cancel|undo|remove|erase "
                "that|it|this",
                "^ delete|cancel|scratch|undo|remove|erase|ignore that|my|the? last "
                "one|log|text|entry",
                "^ forget|drop that $",
                "^ never mind|nevermind that? $",
            ),
            _hear_undo,
        ),
    ),
    acts=((Undo, undo),),
)

REDO = Skill(
    name="redo",
    title="Bring back what you took back",
    examples=("redo",),
    listeners=(Listener(("^ redo", "^ undo the? undo", "put it|that back"), lambda _: Redo()),),
    acts=((Redo, redo),),
)

WHY = Skill(
    name="why",
    title="Ask why: what a need rests on, or how your last text was read",
    examples=("why does Ruby need balance", "why"),
    listeners=(
        Listener(
            (
                "^ why",
                "^ how come",
                "^ explain",
                "^ but|and|so|ok|hey why",
                "why does|is|did|do|was|are|doesnt|isnt|didnt",
                "how did you read",
            ),
            _hear_why,
            asks_of="why",
            rank=2,
        ),
    ),
    acts=((Why, why), (WhySupply, why_supply)),
)
