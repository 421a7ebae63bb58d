"""Children who are away, and back: noted, told, and what that changes today."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta

from bot.classroom.days import (
    is_before_first_rotation,
    is_school_day,
    nth_rotation,
    rotation_end,
    rotations_on,
    school_days,
)
from bot.classroom.presence import aways_on, covers_day, is_away_in
from bot.outcomes import ANSWERED, ASKED, DONE, REFUSED, AwayNoted, AwayTold, Outcome, Unplanned
from bot.requests import (
    Ask,
    NoteAway,
    NoteBack,
    Option,
    Place,
    RemoveVisits,
    Request,
    Span,
    When,
    Who,
    WhoIsAway,
)
from bot.skills.planning import Planned, replan_today, students_of
from bot.skills.skill import Situation, Skill
from bot.understanding.asking_back import Heard
from bot.understanding.canonical import removal_in_full
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from bot.understanding.senses import Kind
from bot.understanding.spans import spans_of
from storage.records import Away, Claim, Student

_MOST_DAYS = 10  # days shown when asked who is away


def note_away(request: NoteAway, now: Situation) -> Outcome:
    """Note that children are away, and say what that changes today.

    What is on record of them meanwhile is asked about, or taken back where the text corrects it.
    """
    spans = tuple(_from_today(span, now.today) for span in request.spans)
    first = min((s.first for s in spans if s.first is not None), default=now.today)
    meant = now.children(request.who, first)
    students = students_of(now.roster, meant.all)
    trouble = _trouble(spans, now)
    if trouble or not students:
        return AwayNoted(
            status=REFUSED,
            students=students,
            today=now.today,
            reason=trouble or "nobody",
            not_on_roster=meant.not_on_roster,
        )
    new: list[tuple[Student, Span]] = []
    already = []
    for student in students:
        for span in _joined(spans):
            if _is_known(now, student, span):
                already.append(student)
            else:
                new.append((student, span))
    aways = tuple(away for student, span in new for away in _as_aways(student, span, request, now))
    for away in aways:
        now.book.add_away(
            now.entry_id,
            away.student_id,
            first=away.first,
            last=away.last,
            weekday=away.weekday,
            starts=away.starts,
            ends=away.ends,
            reason=away.reason,
        )
    logged = _logged_meanwhile(now, aways)
    removed = logged if request.corrects else ()
    now.book.take_back(now.entry_id, removed)
    moved, planned = replan_today(now, _touched_today(now, aways))
    asked = () if request.corrects else tuple(logged)
    return AwayNoted(
        students=students,
        today=now.today,
        status=ASKED if asked else DONE if aways or removed else ANSWERED,
        removed=tuple({claim.turn.key: claim.turn for claim in removed}.values()),
        changes=tuple(_change(now, away) for away in aways),
        choices=_take_back(asked, now),
        aways=aways,
        already=tuple(dict.fromkeys(already)),
        moved=moved,
        at_risk=_at_risk(planned, students),
        logged=tuple(
            (
                now.roster.student[c.turn.student_id],
                now.roster.stint[c.turn.stint_id],
                c.turn.rotation,
            )
            for c in asked
        ),
        not_on_roster=meant.not_on_roster,
    )


def _joined(spans: Sequence[Span]) -> list[Span]:
    """ "today and tomorrow" is one away."""
    joined: list[Span] = []
    for span in spans:
        before = joined[-1] if joined else None
        follows = (
            before is not None
            and before.last is not None
            and span.first == before.last + timedelta(days=1)
            and replace(before, first=span.first, last=span.last) == span
        )
        if follows and before is not None:
            joined[-1] = replace(before, last=span.last)
        else:
            joined.append(span)
    return joined


def _from_today(span: Span, today: date) -> Span:
    """A span without a day is of today; a weekday again and again begins today."""
    if span.weekday is not None:
        return Span(today, None, span.weekday, span.starts, span.ends, span.slots)
    if not span.names_day:
        return Span(today, today, None, span.starts, span.ends, span.slots)
    return span


def _trouble(spans: Sequence[Span], now: Situation) -> str:
    for span in spans:
        if span.first is not None and span.last is not None and span.last < span.first:
            return "backwards"
        if span.starts is not None and span.ends is not None and span.ends <= span.starts:
            return "backwards"
    days = [
        day
        for span in spans
        for day in school_days(
            now.roster, span.first or now.today, span.last or now.today + timedelta(days=60)
        )
        if span.weekday is None or day.weekday() == span.weekday
    ]
    return "" if days else "no_school"


def _is_known(now: Situation, student: Student, span: Span) -> bool:
    """Whether an away that covers all of this is on record."""
    if span.slots:
        return False
    return any(
        (away.first is None or (span.first is not None and away.first <= span.first))
        and (away.last is None or (span.last is not None and span.last <= away.last))
        and (away.weekday is None or away.weekday == span.weekday or _is_one_day(span, away))
        and (away.starts is None or (span.starts is not None and away.starts <= span.starts))
        and (away.ends is None or (span.ends is not None and span.ends <= away.ends))
        for away in now.roster.aways_of.get(student.id, ())
    )


def _is_one_day(span: Span, away: Away) -> bool:
    return span.first is not None and span.first == span.last and covers_day(away, span.first)


def _as_aways(student: Student, span: Span, request: NoteAway, now: Situation) -> Iterable[Away]:
    parts: list[tuple[time | None, time | None]] = [(span.starts, span.ends)]
    if span.slots:
        rotations = rotations_on(now.roster, span.first or now.today)
        chosen = (nth_rotation(rotations, number) for number in span.slots)
        parts = [(r.starts, rotation_end(r)) for r in chosen if r is not None] or parts
    for starts, ends in parts:
        yield Away(
            0, student.id, span.first, span.last, span.weekday, starts, ends, request.reason or None
        )


def _logged_meanwhile(now: Situation, aways: Sequence[Away]) -> list[Claim]:
    """What is on record of these children in the rotations they are said to have missed."""
    roster = now.book.roster()
    days = {
        day
        for away in aways
        for day in (now.today, away.first)
        if day is not None and day <= now.today and covers_day(away, day)
    }
    found = []
    for day in sorted(days):
        ids = {away.student_id for away in aways if covers_day(away, day)}
        slots = {rotation.starts: rotation for rotation in rotations_on(roster, day)}
        for claim in now.book.claims(students=ids, day=day):
            slot = slots.get(claim.turn.rotation) if claim.turn.rotation else None
            whole = any(
                a.starts is None and a.ends is None
                for a in aways
                if a.student_id == claim.turn.student_id and covers_day(a, day)
            )
            if whole or (slot and is_away_in(roster, claim.turn.student_id, day, slot)):
                found.append(claim)
    return found


def _take_back(claims: Sequence[Claim], now: Situation) -> tuple[Option, ...]:
    options = []
    for claim in {claim.turn.key: claim for claim in claims}.values():
        stint = now.roster.stint[claim.turn.stint_id]
        child = now.roster.student[claim.turn.student_id]
        removal = RemoveVisits(
            Who(students=(child.id,)), Place(bin_id=stint.bin_id), When(claim.turn.day)
        )
        label = f"Take {child.name} off {now.roster.bin_of(stint).name}"
        options.append(Option(label, removal_in_full(removal, now.roster)))
    return (*options, Option("Keep it", "no")) if options else ()


def _touched_today(now: Situation, aways: Sequence[Away]) -> frozenset[int]:
    return frozenset(a.student_id for a in aways if covers_day(a, now.today))


def _at_risk(planned: Planned | None, students: Sequence[Student]) -> tuple[Unplanned, ...]:
    if planned is None:
        return ()
    ids = {student.id for student in students}
    return tuple(unmet for unmet in planned.unmet if unmet.student.id in ids)


def _change(now: Situation, away: Away, what: str = "away") -> dict[str, object]:
    change: dict[str, object] = {
        "what": what,
        "student": now.roster.student[away.student_id].name,
        "from": away.first.isoformat() if away.first else None,
        "to": away.last.isoformat() if away.last else None,
    }
    if away.weekday is not None:
        change["weekday"] = away.weekday
    if away.starts is not None:
        change["starts"] = f"{away.starts:%H:%M}"
    if away.ends is not None:
        change["ends"] = f"{away.ends:%H:%M}"
    return change


def note_back(request: NoteBack, now: Situation) -> Outcome:
    """Note that children are here again: from now, from a day on, or all along."""
    day = request.day or now.today
    students = students_of(now.roster, now.children(request.who, day).all)
    changed: list[Away] = []
    already = []
    for student in students:
        mine = [a for a in aways_on(now.roster, student.id, day) if a.weekday is None]
        if not mine:
            already.append(student)
        for away in mine:
            changed.append(_shorten(away, day, request, now))
    moved, planned = replan_today(now, {away.student_id for away in changed})
    return AwayNoted(
        students=students,
        today=now.today,
        status=DONE if changed else ANSWERED,
        changes=tuple(_change(now, away, "back") for away in changed),
        aways=tuple(changed),
        back=True,
        already=tuple(already),
        moved=moved,
        at_risk=_at_risk(planned, students),
    )


def _shorten(away: Away, day: date, request: NoteBack, now: Situation) -> Away:
    """End an away where the child is here again, and give what is left of it."""
    ends = _since(request, day, now)
    eve = day - timedelta(days=1)
    runs_before = away.first is None or away.first < day
    now.book.end_away(now.entry_id, away, eve if runs_before else None)
    if ends is not None and (away.starts is None or away.starts < ends):
        now.book.add_away(
            now.entry_id, away.student_id, first=day, last=day, starts=away.starts, ends=ends
        )
    return Away(away.id, away.student_id, day, day, None, None, ends)


def _since(request: NoteBack, day: date, now: Situation) -> time | None:
    """From what time on the child is here: as said, or since now where rotations have run."""
    if request.starts is not None:
        return request.starts
    is_today = day == now.today and not request.after_all
    if is_today and not is_before_first_rotation(now.roster, now.at):
        return now.at.time().replace(second=0, microsecond=0)
    return None


def who_is_away(request: WhoIsAway, now: Situation) -> Outcome:
    """Tell who is away on a day, or on each of several."""
    first = request.day or now.today
    last = request.last or first
    days = [first + timedelta(days=n) for n in range(min((last - first).days + 1, _MOST_DAYS))]
    open_days = [day for day in days if is_school_day(now.roster, day)]
    asked = students_of(now.roster, now.children(request.who, first).all)
    told = []
    for day in open_days:
        students = [s for s in now.roster.present_roster(day) if not asked or s in asked]
        gone = [(s, aways_on(now.roster, s.id, day)) for s in students]
        told.append((day, tuple((s, aways) for s, aways in gone if aways)))
    facts = {day.isoformat(): [s.name for s, _ in gone] for day, gone in told}
    return AwayTold(
        status=ANSWERED,
        facts={"away": facts},
        days=tuple(told),
        asked=asked,
        today=now.today,
    )


# What is listened for

_PAST = frozenset(("was", "were", "been", "yesterday"))
_LEAVES = frozenset(("leaves", "leaving", "leave", "left", "goes", "going", "went", "sent", "gets"))
_COMES = frozenset(("late", "tardy", "arrives", "arriving", "arrive", "comes", "coming", "in"))
_CORRECTS = frozenset(("actually", "oops", "whoops", "wait", "correction", "sorry", "scratch"))
_LEFT = frozenset(("went", "sent", "picked", "left", "leaving"))
_SHORT = (
    "speech", "ot", "pt", "nurse", "dentist", "doctor", "therapy", "counselor", "appointment",
    "reading", "resource", "office",
)  # fmt: skip
_WHOLE_GROUP = frozenset(("absent", "away", "sick", "trip"))
_REASONS = (
    "sick", "ill", "fever", "flu", "speech", "ot", "pt", "nurse", "dentist", "doctor", "therapy",
    "counselor", "trip", "vacation", "appointment", "reading", "resource", "office",
)  # fmt: skip


def _hear_away(clause: Clause) -> Heard | Request | None:
    who = clause.who()
    words = clause.word_set
    if who.everyone:
        who = Who(who.but_groups, who.but_students)
    if not who or clause.bins or clause.is_question:
        return None
    groups = (item for item in clause.children if item.kind is Kind.GROUP)
    if who.students and all(item.can_be(Kind.NUMBER) for item in groups):
        who = replace(who, groups=())  # "felix is here by 1"
    if _is_out_of_it(clause):
        return None
    if who.groups and not words & _WHOLE_GROUP:
        return None
    if _is_denied(clause) or any(item.can_be(Kind.DOUBT) for item in clause.items):
        return None
    spans = spans_of(clause.items, clause.at, past=bool(_PAST & words))
    ask = _ask_when(clause, words) if not any(span.is_part for span in spans) else None
    if ask is not None:
        return Heard(asks=[ask])
    spans = tuple(_as_said(span, words, clause.at) for span in spans)
    reason = next((word for word in _REASONS if word in words), "")
    if reason in _SHORT and not any(span.names_day or span.is_part for span in spans):
        return None  # "ava has a dentist appt": when?
    return NoteAway(who, spans, reason, bool(_CORRECTS & words))


def _is_out_of_it(clause: Clause) -> bool:
    """ "out of control", "sick of it": not away."""
    words = clause.words
    return any(
        first in ("out", "sick") and link == "of" and what not in _OUT_OF
        for first, link, what in zip(words, words[1:], words[2:], strict=False)
    )


_OUT_OF = ("school", "town", "class", "the", "state", "country", "office", "my", "our")


def _is_denied(clause: Clause) -> bool:
    """ "not absent", "isn't out", "if theo is out"."""
    for item in clause.items:
        words = set(item.keys)
        if item.can_be(Kind.IF) and not words & {"until", "till", "til", "once"}:
            return True
        if words & {"not", "isnt", "arent", "wasnt", "werent"}:
            said = clause.outline
            return not any(
                p in said
                for p in (
                    "not here",
                    "isnt here",
                    "arent here",
                    "wasnt here",
                    "not in",
                    "werent here",
                    "not at school",
                    "not coming",
                    "isnt coming",
                    "isnt in",
                    "not be",
                    "wasnt in",
                    "arent coming",
                    "arent in",
                )
            )
    return False


def _as_said(span: Span, words: frozenset[str], at: datetime) -> Span:
    """ "leaves at 10:30" is away from then on, "late till 10" or "in at 10" until then; "went home"
    is away from now on."""
    starts, ends = span.starts, span.ends
    if starts is not None and ends is None and words & _COMES and not words & _LEAVES:
        starts, ends = None, starts
    if words & _LEFT and not (span.is_part or span.names_day):
        starts = at.time().replace(second=0, microsecond=0, tzinfo=None)
    return replace(span, starts=starts, ends=ends)


def _ask_when(clause: Clause, words: frozenset[str]) -> Ask | None:
    """ "leaves early", "comes late": when? The rotations of that day are offered."""
    late = bool(words & {"late", "tardy"})
    if not (late or ("early" in words and words & _LEAVES)):
        return None
    [span, *_] = spans_of(clause.items, clause.at)
    day = span.first or clause.at.date()
    text = " ".join(item.text for item in clause.items if item.kind is not Kind.MARK)
    link = "until" if late else "at"
    options = tuple(
        Option(f"{rotation.starts:%H:%M}", f"{text} {link} {rotation.starts:%H:%M}")
        for rotation in rotations_on(clause.roster, day)
    )
    return Ask("when", "Until when?" if late else "From when on?", options, NoteAway.name)


def _hear_back(clause: Clause) -> Request | None:
    who, words = clause.who(), clause.word_set
    if who.groups or words & {"put", "move", "switch"}:
        return None
    denies = words & {"isnt", "arent", "wasnt", "werent", "not"} and words & {*_GONE.split("|")}
    denied = _is_denied(clause) and not denies
    if not who or who.everyone or clause.bins or clause.is_question or denied:
        return None
    [span, *_] = spans_of(clause.items, clause.at)
    day = span.first or span.last
    after_all = "after" in words or "actually" in words or bool(denies)
    return NoteBack(who, day, span.starts, after_all)


def _hear_who_away(clause: Clause) -> Request | None:
    if clause.bins:
        return None
    spans = spans_of(clause.items, clause.at, past=bool(_PAST & clause.word_set))
    who = clause.who()
    if who.everyone:
        who = Who()
    return WhoIsAway(spans[0].first, spans[-1].last, who)


_GONE = "out|absent|away|sick|gone|home|ill|unwell|hospital|vacation|holiday|traveling"
_AT = "speech|ot|pt|nurse|office|dentist|doctor|doctors|therapy|counselor|resource|reading|ell|esl"

AWAY = Skill(
    name="away",
    title="Note who is away, leaves early, comes late or is back",
    examples=("Ruby is out today", "Omar leaves at 10:30", "Mateo is away till friday"),
    listeners=(
        Listener(
            (
                "<who> is|are|was|were|will|be|s|stays|staying|still|called|has|have|being ... "
                f"{_GONE}",
                f"<who> {_GONE}",
                f"<who> all|both|also|too? {_GONE}",
                f"<who> <day>|<time> {_GONE}",
                f"^ {_GONE} <day>|is|are? <who> $",
                f"mark|put|note|count <who> as? {_GONE}",
                f"{_GONE} <day>|is|are|include|includes? <who>",
                "<who> isnt|arent|wasnt|werent|not here|coming|in|at",
                "<who> is|are|was|were|will not be? here|coming|in|at",
                "<who> wont|cant|cannot|not be|come|make|coming ... "
                "here|in|school|class|it|today|<day>|until|till|there",
                "<who> will not be|come|make ... here|in|school|class|it|today|<day>|until|till",
                "<who> went|go|goes|going|sent|gone home",
                "<who> was|were|got|is|are|being|will|be sent home",
                "<who> has|have|had|having a|an|the? ... fever|flu|covid|cold|strep|pox|lice|"
                "appointment|appt|dentist|doctor|doctors|therapy|speech|ot|pt",
                "<who> leaves|leaving|leave|left|goes|going|heads|pulled|out ... "
                "at|early|<time>|before|after|from|home|now",
                "<who> is|are|will|has|have|needs ... leave|leaving ... "
                "at|early|<time>|before|after",
                "<who> gets|getting|got|is|being|be|will picked|getting up|picked",
                "<who> is|are|will|was|be|running|comes|coming|came|arrives|arriving ... "
                "late|tardy",
                "<who> late|tardy",
                "<who> arrives|arriving|comes|coming|in|here at|<time>|late|around|after",
                f"<who> is|are|will|has|have|be|going|goes ... at|in|with|to|for the? {_AT}",
                f"<who> at|in|with|to|has|have the? {_AT}",
                "no <who> <day>",
                "no <who> today|tomorrow",
                "<who> no show",
                "<who> has|have|taking|takes the? day|week off",
                "<who> <day> off $",
                "<who> is|are off $",
                "<who> on|taking a? vacation|holiday|trip|leave",
                "everyone|all|everybody ... here|present except|but|minus <who>",
                "<who> is|are? here|present except|but|minus|besides <who>",
                "<who> except|but|minus <who> is|are here|present",
                "missing <who> <day>|today",
                "^ missing <who> $",
            ),
            _hear_away,
            asks_of="away",
            rank=1,
            apart=True,
        ),
        Listener(
            (
                "<who> is|are|s|came|comes|coming|was|got|will|be ... back",
                "<who> back|returned|returns|arrived",
                "<who> is|are|was|were just|now|finally? here",
                "<who> just|finally? arrived|showed|got|came here|in|up|back",
                "<who> here now|today|after|again|<day>",
                "<who> is|are|was|were not|isnt|arent|wasnt absent|away|out|sick|gone",
                "<who> isnt|arent|wasnt absent|away|out|sick|gone",
                "^ <who> is|are? here $",
                "<who> made it in|after",
            ),
            _hear_back,
            asks_of="away",
            rank=2,
            apart=True,
        ),
    ),
    acts=((NoteAway, note_away), (NoteBack, note_back)),
)

WHO_IS_AWAY = Skill(
    name="who_is_away",
    title="Ask who is away",
    examples=("who is away today?", "who's out on friday?"),
    listeners=(
        Listener(
            (
                f"who|whos|whose|whod|whoever ... {_GONE}",
                "who isnt|arent|wasnt|not here|in",
                "who ... not|isnt|wont here|coming|in",
                f"anyone|anybody|someone|somebody|any ... {_GONE}",
                f"is|are|was|were|will|isnt|arent <who> ... {_GONE}|here|in|present",
                f"how many ... {_GONE}",
                "absences|absentees|attendance|absence",
                "who|whos ... leaves|leaving|late|leave|pulled|tardy",
                "who|whos ... here",
                f"{_GONE} list",
                "is|are everyone|everybody here|in|present",
            ),
            _hear_who_away,
            questions_only=True,
            asks_of="who_is_away",
            rank=1,
        ),
        Listener(
            (
                "^ absences|absentees|attendance|absence",
                "^ whos|who out|away|absent|gone|here $",
            ),
            _hear_who_away,
            rank=1,
        ),
    ),
    acts=((WhoIsAway, who_is_away),),
)
