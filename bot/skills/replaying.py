"""Putting new words in the place of an entry: what it did is stepped back, the new done, the
difference told."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from bot.classroom.stints import clashes
from bot.outcomes import ANSWERED, ASKED, DONE, LogCorrected, Outcome
from bot.skills.skill import Situation
from storage.records import Entry, Roster


def built_on(before: Roster, now: Situation) -> tuple[int, ...]:
    """The entries that would be left without ground by what was just stepped back: turns at a bin
    that is out no more, or a bin put into a color that is now held by another."""
    clashing = clashes(now.book.roster()) - clashes(before)
    later = now.book.entries_behind(clashing) if clashing else ()
    return tuple(dict.fromkeys((*now.book.entries_at_stints_taken_back(), *later)))


def replay(
    old: Entry, act: Callable[[], Sequence[Outcome]], now: Situation
) -> tuple[Sequence[Outcome], LogCorrected]:
    """Step back `old` in the name of the entry in hand, act, and compare the visits that stand."""
    chain = now.book.wordings(old)
    touched = {turn.key: turn for entry in chain for turn in now.book.touched(entry.id)}
    before = set(now.book.days_at(touched.values()))
    now.book.close_entry(now.entry_id, replaces=old.id)
    journal = now.book.journal(now.entry_id)
    for entry in chain:
        standing = now.book.entry(entry.id)
        if standing is not None and standing.undone_by is None:  # an earlier one may be back
            journal.step_back(entry.id)
            journal.mark_undone(entry.id)
    outcomes = act()
    fresh = {turn.key: turn for turn in now.book.touched(now.entry_id)}
    new = {t.key for o in outcomes for t in o.added}
    touched |= fresh
    after = set(now.book.days_at(touched.values()))
    added = tuple(t for key, t in touched.items() if key in after - before and key in new | after)
    removed = tuple(t for key, t in touched.items() if key in before - after)
    asked = any(outcome.status == ASKED for outcome in outcomes)
    return outcomes, LogCorrected(
        status=ASKED if asked else DONE if added or removed else ANSWERED,
        entry=old,
        added=added,
        removed=removed,
        choices=tuple(choice for outcome in outcomes for choice in outcome.choices),
        said="\n".join(o.said for o in outcomes if o.said) or None,
    )
