"""Who still needs a bin, and what a child still needs."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from bot.classroom.cautions import kept_from
from bot.classroom.days import rotations_left
from bot.classroom.needs import Tally, missing_visits, needs_of, stints_needed
from bot.classroom.presence import aways_on
from bot.classroom.stints import out_on
from bot.outcomes import ANSWERED, REFUSED, ChildrenNeed, Outcome, WhoIsLeft
from bot.requests import Place, Request, StudentNeeds, WhoNeeds
from bot.skills.skill import Situation, Skill
from bot.understanding.clause import Clause
from bot.understanding.needing import asks_what_is_left, asks_who_is_left, is_remark_before
from bot.understanding.reading import Listener
from bot.understanding.senses import Kind
from storage.records import Bin, Stint, Student


def who_needs(request: WhoNeeds, now: Situation) -> Outcome:
    """List who still needs each bin asked about, or every bin that is out."""
    stints, not_out, no_color = _stints_asked(request, now)
    outs = out_on(now.roster, now.today)
    tally = now.book.tally({s.id for s in (*outs, *stints)})
    found = tuple(needs_of(now.roster, tally, stint, now.at) for stint in stints)
    if request.among:
        meant = now.children(request.among, now.today).all
        found = tuple(
            replace(n, students=tuple(s for s in n.students if s.id in meant)) for n in found
        )
    left = tuple(
        None if s.closes is None else len(rotations_left(now.roster, now.at, s.closes))
        for s in stints
    )
    away = {
        student.id: tuple(aways_on(now.roster, student.id, now.today))
        for n in found
        for student in n.students
    }
    facts = {now.roster.bin_of(n.stint).name: [s.name for s in n.students] for n in found}
    return WhoIsLeft(
        status=ANSWERED if found or not (not_out or no_color) else REFUSED,
        facts={"needs": facts},
        needs=found,
        rotations_left=left,
        away={
            n: tuple(now.roster.student[n] for _ in held[:1]) for n, held in away.items() if held
        },
        today=now.today,
        not_out=not_out,
        no_such_color=no_color,
    )


def _stints_asked(
    request: WhoNeeds, now: Situation
) -> tuple[tuple[Stint, ...], tuple[tuple[Bin, Stint | None], ...], tuple[str, ...]]:
    if not request.places:
        return out_on(now.roster, now.today), (), ()
    return now.stints_asked(request.places, closed_too=True)


def student_needs(request: StudentNeeds, now: Situation) -> Outcome:
    """List what each child asked about still needs."""
    meant = now.children(request.who, now.today)
    students = [s for s in now.roster.students if s.id in meant.all]
    asked = tuple(s for place in request.places if (s := now.stint(place, now.today)))
    outs = out_on(now.roster, now.today)
    tally = now.book.tally({s.id for s in outs})
    children = tuple((student, _needed(student, asked, tally, now)) for student in students)
    facts: dict[str, list[str]] = {}
    for stint in asked or outs:
        names = [s.name for s, needs in children if any(stint is needed for needed, _ in needs)]
        if names or asked:
            facts[now.roster.bin_of(stint).name] = names
    return ChildrenNeed(
        status=ANSWERED if students else REFUSED,
        facts={"needs": facts},
        children=children,
        only=asked,
        kept_from=tuple(
            (student, now.roster.bin_of(stint))
            for student in students
            for stint in asked or outs
            if kept_from(now.roster, student, now.roster.bin_of(stint))
            and missing_visits(tally, stint, student)
        ),
        today=now.today,
        label=_label(request, now),
    )


def _needed(
    student: Student, asked: tuple[Stint, ...], tally: Tally, now: Situation
) -> tuple[tuple[Stint, int], ...]:
    needs = stints_needed(now.roster, tally, student, now.today)
    chosen = [(s, n) for s, n in needs if not asked or s in asked]
    return tuple(sorted(chosen, key=lambda pair: pair[0].closes or now.today + timedelta(9999)))


def _label(request: StudentNeeds, now: Situation) -> str | None:
    who = request.who
    if len(who.groups) == 1 and not who.students and not who.everyone:
        return now.roster.group[who.groups[0]].name
    return None


def _hear_who(clause: Clause) -> Request:
    places = clause.places()
    if not places:
        places = clause.spoken_of or _of_last_log(clause)  # "g3 did ramps, who is left?"
    among = clause.who()
    if among.everyone:
        among = replace(among, everyone=False)
    return WhoNeeds(places, among)


def _of_last_log(clause: Clause) -> tuple[Place, ...]:
    """ "who still needs it", right after a log."""
    says_it = any(item.keys[:1] in (("it",), ("that",)) for item in clause.items)
    if clause.last is None or not says_it:
        return ()
    return tuple(dict.fromkeys(log.place for log in clause.last.logs))


def _hear_child(clause: Clause) -> Request | None:
    who = clause.who()
    if not who:
        return None
    if who.everyone:
        return WhoNeeds(clause.places())
    return StudentNeeds(who, clause.places())


def _hear_bare(clause: Clause) -> Request | None:
    """ "balance?" asks who needs it, "mia?" what she needs."""
    if any(item.kind is Kind.UNKNOWN for item in clause.items):
        return None
    if clause.children and not clause.bins:
        return _hear_child(clause)
    return WhoNeeds(clause.places()) if clause.bins and not clause.children else None


WHO = Skill(
    name="who_needs",
    title="Ask who still needs a bin",
    examples=("who still needs balance", "who's left on pink", "who hasn't done ramps"),
    listeners=(
        Listener(
            (
                "who ... needs|need|left|missing|remaining|remains|hasnt|havent|didnt|"
                "isnt|wasnt|not",
                "whos|whose|whod|whove ... left|missing|remaining|not|need|needs|hasnt|yet",
                "who has|have|is|are|did not|never|yet|left",
                "who still",
                "who should|shall|can|do|must ... go|come|be|visit|sent|send to|at|on|in? <bin>",
                "who do|should|can|must i|we",
                "which|what of ... need|needs|left|missing|hasnt|havent",
                "who else",
                "<bin> who next|left|else?",
                "kids|children|names|list|students of? ... w/o|without|not <bin>",
                "how many more|kids|children|students? need|needs|left|have|havent|hasnt|are|still",
                "who|whos next for|at|on|in",
                "anyone|anybody|somebody|someone left|still|need|needs|missing|"
                "remaining|hasnt|havent",
                "which|what kids|children|students|kid|child|student|names|friends|"
                "ones ... still|need|needs|left|missing|remaining|hasnt|havent|not",
                "how many|howmany ... left|need|needs|remaining|missing|to go|hasnt|havent",
                "whats|what is left for|on|in|at|with <bin>",
                "has|have|did everyone|everybody",
                "^ so|and|ok|hey|wait? is|are everyone|everybody|all done|finished|through",
                "<bin> who",
                "left|remaining for|on|at|in <bin>",
                "still need|needs ^? <bin>",
                "need|needs <bin> still",
                "^ whats|what is? left|remaining",
                "how many have|has|havent|hasnt|didnt|need|are|is|left",
                "are|is we|they|you all? done|finished|through",
                "<bin> status|stragglers|leftovers|list|left|progress",
                "status|names|list|stragglers|leftovers|progress for|of|on|at? <bin>",
                "how are we doing",
                "list|show|give|tell me? ... need|needs|left|missing|remaining",
                "^ so|ok|and? what|whats|which bins|bin|centers|ones? do|are|is|have? we|i|they? "
                "not|still|arent|isnt|havent ... done|finished|do",
                "how far|close ... <bin>|we|along",
                "percent|percentage|fraction ... <bin>|done",
                "^ status|progress $",
                "who|whos is|are? all? caught up",
            ),
            _hear_who,
        ),
        Listener((), _hear_who, rank=2, notices=asks_who_is_left, takes_in=is_remark_before),
        Listener(
            ("^ <bin> $", "^ what|how about <bin> $", "^ and <bin> $"),
            _hear_bare,
            questions_only=True,
        ),
    ),
    acts=((WhoNeeds, who_needs),),
)

CHILD = Skill(
    name="student_needs",
    title="Ask what a child or a group still needs",
    examples=("what does Ruby still need", "what's left for group 3"),
    listeners=(
        Listener(
            (
                "what|which|wat|wut|where ... does|do|is|are|has|have|did|hasnt|havent "
                "<who> ... need|needs|left|missing|remaining|not|still|to",
                "what|which|where ... hasnt|havent|didnt <who>",
                "what|which ... <who> need|needs|still|missing|left",
                "whats|what left|missing|remaining|next? for|with <who>",
                "whats|what is? <who> missing|left|need|needs",
                "what|which is|are left|missing|remaining for|with <who>",
                "does|do <who> still? need|needs",
                "<who> still need|needs",
                "<who> need|needs what|which",
                "<who> what|which they|he|she? ... must|still|need|needs|have|has|left|missing",
                "what|whats <who> still|got",
                "is|are <who> all? done|finished|through|thru with|w? everything|all",
                "<who> need|needs <bin>",
                "^ <who> need|needs $",
                "needs|needed|need of|for|by <who>",
                "<who> whats|what ... missing|need|needs|left",
                "<who> bins? left|list|status|progress",
                "show|list <who>",
                "bins|what <who> hasnt|havent|has not",
                "on <who> list",
                "how is|are|s <who> doing",
                "what bins|centers|bin|boxes ... <who>",
                "is|are <who> all? done|finished with|through? everything|all",
                "is|are <who> all? caught up",
                "show|list|give ... left|need|needs ... <who>",
            ),
            _hear_child,
            asks_of="student_needs",
        ),
        Listener((), _hear_child, asks_of="student_needs", rank=1, notices=asks_what_is_left),
        Listener(
            ("^ <who> $", "^ what|how about <who> $", "^ and <who> $"),
            _hear_bare,
            questions_only=True,
            asks_of="student_needs",
        ),
    ),
    acts=((StudentNeeds, student_needs),),
)
