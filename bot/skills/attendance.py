"""Whether, and when, someone has been at a bin."""

from __future__ import annotations

from bot.classroom.coverage import bins_covered, standards_covered, units_covered
from bot.classroom.suggestions import school_year_of
from bot.outcomes import ANSWERED, Attendance, Coverage, Outcome
from bot.requests import Covered, Place, Request, StudentNeeds, WasThere, WhoNeeds
from bot.skills.skill import Situation, Skill
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from storage.records import Claim


def was_there(request: WasThere, now: Situation) -> Outcome:
    """Find the visits asked about, and who of those asked about has none."""
    day = request.when.day
    on = day or now.today
    meant = now.children(request.who, on)
    everyone = not request.who or request.who.everyone
    stints = _stints(request, now)
    claims = now.book.claims(students=None if everyone else meant.all, stints=stints, day=day)
    first = {claim.turn.key: claim for claim in reversed(claims)}
    visits = tuple(sorted(first.values(), key=lambda c: (c.turn.day, c.id)))
    if request.when.starts is not None:
        visits = tuple(v for v in visits if v.turn.rotation == request.when.starts)
    seen = {claim.turn.student_id for claim in visits}
    without = tuple(s for s in now.roster.students if s.id in meant.all and s.id not in seen)
    bins = tuple(b for p in request.places if (b := now.bin_at(p, now.stint(p, on))))
    return Attendance(
        status=ANSWERED,
        facts={"visits": [_fact(now, claim) for claim in visits]},
        visits=visits,
        without=() if everyone else without,
        bins=bins,
        is_yes_or_no=bool(bins and meant.all and not everyone),
        day=day,
        today=now.today,
    )


def covered(request: Covered, now: Situation) -> Outcome:
    """How many children have had each bin (standard, unit) of this school year."""
    had, first = now.had_this_year(now.today), school_year_of(now.today)
    of_what = {"standards": standards_covered, "units": units_covered}.get(
        request.about, bins_covered
    )
    found = of_what(now.roster, had, first, now.today)
    out = {c.name for c in bins_covered(now.roster, had, first, now.today)}
    return Coverage(
        status=ANSWERED,
        facts={"covered": {c.name: c.had for c in found}},
        about=request.about,
        covered=found,
        not_out=tuple(b for b in now.roster.bins if b.name not in out),
    )


def _stints(request: WasThere, now: Situation) -> list[int] | None:
    """Every stint of the bins asked about: "has mia ever been to ramps" looks at last year's
    too."""
    if not request.places:
        return None
    on = request.when.day or now.today
    found = []
    for place in request.places:
        bin_ = now.bin_at(place, now.stint(place, on))
        if bin_ is not None:
            found += [stint.id for stint in now.roster.stints if stint.bin_id == bin_.id]
    return found


def _fact(now: Situation, claim: Claim) -> dict[str, str]:
    turn = claim.turn
    return {
        "student": now.roster.student[turn.student_id].name,
        "bin": now.roster.bin_of(now.roster.stint[turn.stint_id]).name,
        "day": turn.day.isoformat(),
    }


def _hear(clause: Clause) -> Request | None:
    who, places = clause.who(), clause.places()
    if places and not who and any("still" in item.keys for item in clause.items):
        return WhoNeeds(places)  # "which children still have to visit ramps"
    if clause.is_negative and not clause.said_when().day and not _asks_yet(clause, places):
        return StudentNeeds(who, places) if who and not who.everyone else WhoNeeds(places)
    if who.everyone and places:
        return WhoNeeds(places)
    if not who and not places and clause.said_when().day is None:
        return None
    return WasThere(who, places, clause.said_when())


def _asks_yet(clause: Clause, places: tuple[Place, ...]) -> bool:
    """ "has g1 been to blocks yet": a yes or a no, not what they need."""
    words = clause.words
    denied = clause.is_denied or _DENIED & set(words)
    asks = clause.word_set & {"has", "have", "did"}
    return bool(places and "yet" in words and asks and not denied)


_DENIED = {"hasnt", "havent", "didnt", "never", "missing"}


def _hear_covered(clause: Clause) -> Request | None:
    who, words = clause.who(), clause.word_set
    if who and not who.everyone:
        return None
    if {"are", "is", "ready"} & words and not {"covered", "we"} & words:
        return None  # "which bins are done": may they go?
    if clause.bins or clause.said_when().day is not None:
        return None
    standards = {"standard", "standards", "ngss", "ccss", "objectives", "goals"} & words
    units = {"unit", "units", "topics", "topic", "themes"} & words
    return Covered("standards" if standards else "units" if units else "bins")


SKILL = Skill(
    name="was_there",
    title="Ask who was where",
    examples=(
        "did g3 do balance?",
        "where was Ruby yesterday?",
        "who did ramps today?",
        "what has the class covered",
    ),
    listeners=(
        Listener(
            (
                "did|didnt|has|hasnt|have|havent|had|was|wasnt|were|werent|is|isnt|are <who>",
                "who all? did|was|were|went|visited|had|finished|completed|got|done",
                "who has|have ... been|done|finished|visited|had|completed|gone",
                "whos|whove been|done|had|finished|at|visited|gone",
                "which group|groups|kids|children|students ... did|was|were|went|done|"
                "has|have|been|had",
                "where was|were|did|has|have <who>",
                "what|which ... did|has|have|was|were <who> ... do|done|at|visit|"
                "finish|been|go|have|had|today",
                "what did|has|have <who>",
                "when did|was|were|has|have <who>",
                "how many times|visits",
                "ever? been to|at <bin>",
                "<who> did|done|been|finished|visited|went|was|were|at <bin>",
                "<who> ... <bin>",
                "<bin> <who>",
                "did|have|has i|we|you log|logged|record|marked|mark|do|done|put|get ... "
                "<who>|<bin>",
                "how many ... did|went|were|been|has|have|finished|visited ... <bin>",
                "so did|has <who>",
            ),
            _hear,
            questions_only=True,
            asks_of="was_there",
        ),
        Listener(
            (
                "what|which|how|whats|list|show|how|wat|wut ... covered|cover",
                "what|which|wat|wut all? bins|centers|units|unit|standards|standard|topics|"
                "activities|ngss|boxes|have ... covered|done|hit|met|touched|taught|addressed|"
                "finished|had",
                "standards|units|bins|topics|ngss we|weve|the|have|our ... covered|done|hit|met|"
                "touched|taught|addressed|finished",
                "covered so far|year",
                "standards|standard|unit coverage|list|report|covered|progress",
                "coverage",
                "have|did we cover|covered|hit|meet|met ... standards|units",
                "standards so far",
                "what|which bins|centers|boxes|ones? ... havent|not we|had|done|covered",
            ),
            _hear_covered,
            rank=1,
        ),
    ),
    acts=((WasThere, was_there), (Covered, covered)),
)
