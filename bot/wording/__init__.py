"""Every text people read, by subject. WORDS is the one table: outcome type -> its words."""

from collections.abc import Callable
from typing import Any

from bot import outcomes
from bot.outcomes import Outcome
from bot.wording import (
    attendance,
    aways,
    calendar,
    closing,
    journal,
    moves,
    needs,
    nudges,
    plans,
    questions,
    schedule,
    supplies,
    swap_checks,
    swaps,
    talk,
    visits,
)
from bot.wording.voice import Reply, Voice

Words = Callable[[Any, Voice, int], Reply]

WORDS: dict[type[Outcome], Words] = {
    outcomes.VisitsLogged: visits.visits_logged,
    outcomes.NotLogged: visits.not_logged,
    outcomes.HeldBack: visits.held_back,
    outcomes.WhichDay: visits.which_day,
    outcomes.VisitsRemoved: visits.visits_removed,
    outcomes.SteppedBack: journal.stepped_back,
    outcomes.LogCorrected: journal.log_corrected,
    outcomes.Explained: journal.explained,
    outcomes.ReadingExplained: journal.reading_explained,
    outcomes.WhoIsLeft: needs.who_is_left,
    outcomes.ChildrenNeed: needs.children_need,
    outcomes.Attendance: attendance.attendance,
    outcomes.PlanShown: plans.plan_shown,
    outcomes.FinishForeseen: plans.finish_foreseen,
    outcomes.LoggedAsPlanned: plans.logged_as_planned,
    outcomes.AwayNoted: aways.away_noted,
    outcomes.AwayTold: aways.away_told,
    outcomes.StudentMoved: moves.student_moved,
    outcomes.ScheduleChanged: schedule.schedule_changed,
    outcomes.CalendarRead: calendar.calendar_read,
    outcomes.EventsOffered: calendar.events_offered,
    outcomes.CalendarTaken: calendar.calendar_taken,
    outcomes.SupplyReported: supplies.supply_reported,
    outcomes.SupplyHeld: supplies.supply_held,
    outcomes.RestockList: supplies.restock_list,
    outcomes.SupplyExplained: supplies.supply_explained,
    outcomes.Coverage: attendance.coverage,
    outcomes.SwapChecked: swap_checks.swap_checked,
    outcomes.NextSuggested: swap_checks.next_suggested,
    outcomes.Swapped: swaps.swapped,
    outcomes.NotSwapped: swaps.not_swapped,
    outcomes.SwapAsked: swaps.swap_asked,
    outcomes.ClosingMoved: closing.closing_moved,
    outcomes.ClosingStays: closing.closing_stays,
    outcomes.MorningDigest: nudges.morning_digest,
    outcomes.AtRisk: nudges.at_risk,
    outcomes.NothingLogged: nudges.nothing_logged,
    outcomes.ShortSupplies: nudges.short_supplies,
    outcomes.NextWeek: nudges.next_week,
    outcomes.NudgesSet: nudges.nudges_set,
    outcomes.DigestMoved: nudges.digest_moved,
    outcomes.NudgeExplained: nudges.nudge_explained,
    outcomes.ToldHow: nudges.told_how,
    outcomes.Question: questions.question,
    outcomes.Helped: talk.helped,
    outcomes.Smiled: talk.smiled,
    outcomes.Unclear: talk.unclear,
}


def word(outcome: Outcome, voice: Voice, entry_id: int) -> Reply:
    """The reply for an outcome; `entry_id` is the entry that an Undo button takes back."""
    return WORDS[type(outcome)](outcome, voice, entry_id)
