"""Children who change groups, join, leave, or are kept apart."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

from bot.outcomes import ANSWERED, ASKED, DONE, REFUSED, Outcome, StudentMoved
from bot.requests import (
    KeepApart,
    MoveStudent,
    NewStudent,
    Option,
    Request,
    StudentLeft,
    SwapStudents,
    Who,
)
from bot.skills.planning import replan_today, students_of
from bot.skills.skill import Situation, Skill
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from bot.understanding.spans import spans_of
from storage.records import Group, Membership, Student


def move_student(request: MoveStudent, now: Situation) -> Outcome:
    """Put children into another group, for good or between two days."""
    first = request.first or now.today
    group = now.roster.group[request.group_id]
    students = students_of(now.roster, now.children(request.who, first).all)
    if not students:
        return _told(now, "nobody", (), group, status=REFUSED)
    there = [s for s in students if now.roster.group_on(s.id, first) == group.id]
    moving = [s for s in students if s not in there]
    if not moving:
        return _told(now, "already", students, group, status=ANSWERED)
    for student in moving:
        _join(now, student, group.id, first, request.last)
    return _done(now, "moved", tuple(moving), group, first, request.last)


def _join(now: Situation, student: Student, group_id: int, first: date, last: date | None) -> None:
    held = [m for m in now.roster.memberships if m.student_id == student.id]
    kept = [m for m in held if not _is_stay(m)]
    now.book.join_group(now.entry_id, student.id, group_id, kept, first=first, last=last)


def _is_stay(membership: Membership) -> bool:
    return membership.first is not None and membership.last is not None


def swap_students(request: SwapStudents, now: Situation) -> Outcome:
    """Let two children take each other's place."""
    first = request.first or now.today
    one, other = now.roster.student[request.one], now.roster.student[request.other]
    groups = [now.roster.group_on(s.id, first) for s in (one, other)]
    if None in groups or groups[0] == groups[1]:
        return _told(now, "same_group", (one, other), None, status=ANSWERED)
    for student, group_id in ((one, groups[1]), (other, groups[0])):
        _join(now, student, group_id or 0, first, request.last)
    changes = tuple(
        {"what": "group", "student": s.name, "to": now.roster.group[g or 0].name}
        for s, g in ((one, groups[1]), (other, groups[0]))
    )
    moved, _ = replan_today(now, (one.id, other.id)) if first <= now.today else ((), None)
    told = _told(now, "swapped", (one, other), None, first=first, last=request.last)
    return replace(told, changes=changes, moved=moved)


def _done(
    now: Situation,
    what: str,
    students: tuple[Student, ...],
    group: Group | None,
    first: date,
    last: date | None,
) -> StudentMoved:
    roster = now.book.roster()
    ids = [student.id for student in students]
    moved, _ = replan_today(now, ids) if first <= now.today else ((), None)
    name = group.name if group else ""
    changes = tuple({"what": "group", "student": s.name, "to": name} for s in students)
    size = len(roster.members_of(group.id, first)) if group else 0
    told = _told(now, what, students, group, first=first, last=last)
    return replace(told, changes=changes, size=size, moved=moved)


def _told(
    now: Situation,
    what: str,
    students: tuple[Student, ...],
    group: Group | None,
    *,
    status: str = DONE,
    first: date | None = None,
    last: date | None = None,
) -> StudentMoved:
    return StudentMoved(
        status=status,
        what=what,
        students=students,
        group=group.name if group else "",
        first=first,
        last=last,
        today=now.today,
    )


def new_student(request: NewStudent, now: Situation) -> Outcome:
    """Add a child to the roster; one of that name who left comes back."""
    first = request.first or now.today
    group = now.roster.group.get(request.group_id or 0)
    same = [s for s in now.roster.students if s.name.casefold() == request.called.casefold()]
    present = [s for s in same if s.is_on_roster(first)]
    if present:
        if group is not None:
            return move_student(
                MoveStudent(Who(students=(present[0].id,)), group.id, request.first), now
            )
        return _told(now, "already_here", tuple(present), group, status=ANSWERED)
    if group is None and now.roster.groups:
        told = _told(now, "which_group", (), None, status=ASKED)
        options = tuple(
            Option(f"Group {g.name}", f"new student {request.called} in group {g.name}")
            for g in now.roster.groups
        )
        return replace(told, choices=options, called=request.called)
    if same:
        student_id = same[0].id
        now.book.mark_left(now.entry_id, same[0], None)
    else:
        position = 1 + max((s.position for s in now.roster.students), default=0)
        student_id = now.book.add_student(now.entry_id, request.called, first, position)
    if group is not None:
        held = [m for m in now.roster.memberships if m.student_id == student_id]
        now.book.join_group(now.entry_id, student_id, group.id, held, first=first)
    student = now.book.roster().student[student_id]
    told = _done(now, "new", (student,), group, first, None)
    change = {"what": "student", "student": student.name, "joined": first.isoformat()}
    return replace(told, changes=(change, *(told.changes if group else ())))


def student_left(request: StudentLeft, now: Situation) -> Outcome:
    """Note a child's last day; what is on record of it stays."""
    last = request.last or now.today
    students = students_of(now.roster, now.children(request.who, now.today).all)
    if not students:
        return _told(now, "nobody", (), None, status=REFUSED)
    for student in students:
        now.book.mark_left(now.entry_id, student, last)
    changes = tuple(
        {"what": "student", "student": s.name, "left": last.isoformat()} for s in students
    )
    moved, _ = replan_today(now, ()) if last < now.today else ((), None)
    return replace(_told(now, "left", students, None, last=last), changes=changes, moved=moved)


def keep_apart(request: KeepApart, now: Situation) -> Outcome:
    """Keep two children apart from now on, or no longer."""
    students = students_of(now.roster, now.children(request.who, now.today).all)
    if len(students) != 2:
        return _told(now, "two_needed", students, None, status=REFUSED)
    one, other = students
    known = [p for p in now.roster.apart if {p.student_id, p.other_id} == {one.id, other.id}]
    if bool(known) == request.apart:
        what = "apart_already" if request.apart else "together_already"
        return _told(now, what, students, None, status=ANSWERED)
    if request.apart:
        now.book.keep_apart(now.entry_id, one.id, other.id)
    else:
        now.book.let_together(now.entry_id, [pair.id for pair in known])
    moved, _ = replan_today(now, (one.id, other.id))
    change = {"what": "apart", "student": one.name, "from": other.name, "apart": request.apart}
    told = _told(now, "apart" if request.apart else "together", students, None)
    return replace(told, changes=(change,), moved=moved)


# What is listened for

_HOLDS = frozenset(("if", "maybe", "might", "should", "not", "dont", "cant", "unless", "wants"))


def _is_unsure(clause: Clause) -> bool:
    return clause.is_question or bool(_HOLDS & clause.word_set)


def _hear_move(clause: Clause) -> Request | None:
    who, words = clause.who(), clause.word_set
    if _is_unsure(clause) or clause.bins or who.everyone or not who.students:
        return None
    first, last = _days(clause)
    is_swap = bool({"swap", "switch", "trade", "exchange"} & words)
    if not who.groups and is_swap and len(who.students) == 2:
        return SwapStudents(who.students[0], who.students[1], first, last)
    verbs = {"with", "in", "into", "to", "from", "joins", "join", "joined"} & words
    if not who.groups or not verbs:
        return None
    return MoveStudent(replace(who, groups=()), who.groups[-1], first, last)


def _days(clause: Clause) -> tuple[date | None, date | None]:
    """From when to when: "today" alone is a stay of one day, "from monday" is for good."""
    [span, *_] = spans_of(clause.items, clause.at)
    words = clause.word_set
    is_open = bool({"from", "starting", "now", "beginning", "permanently"} & words)
    if span.first is None:
        return None, span.last
    if span.first == span.last and (is_open or not {"today", "for", "only", "just"} & words):
        later = span.first > clause.at.date() and not {"for", "only", "just"} & words
        return (span.first, None) if is_open or later else (span.first, span.last)
    return span.first, span.last


def _hear_new(clause: Clause) -> Request | None:
    if clause.is_question or clause.bins or clause.who().students:
        return None
    called = _called(clause)
    if not called:
        return None
    [span, *_] = spans_of(clause.items, clause.at)
    groups = clause.who().groups
    return NewStudent(called, groups[0] if groups else None, span.first)


_NEW = re.compile(
    r"\bnew (?:student|kid|child|girl|boy|friend|kiddo|pupil|classmate)s?\b[\s,:]*"
    r"(?:is |named |called |today |starting |joining |- )*(?P<after>[^\W\d_][^,.:;()]*)",
    re.IGNORECASE,
)
_JOINS = re.compile(
    r"^(?:so |and |also |please |add |welcome )*(?P<name>[^\W\d_][\w'’\-. ]*?) "
    r"(?:is new|is joining|joins|joined|just joined|starts|is starting|started|to the roster"
    r"|to the class|to my class|to our class)\b",
    re.IGNORECASE,
)
_ENDS = re.compile(
    r"\s+\b(?:in|to|into|is|joins|joined|joining|starts|started|starting|with|for|and|today|"
    r"tomorrow|from|on|group|g\d|grp|this|next|goes|will|who|put|monday|tuesday|wednesday|"
    r"thursday|friday|are|has)\b.*$",
    re.IGNORECASE,
)


def _called(clause: Clause) -> str:
    """The name of the child who is new, as written."""
    text = " ".join(item.text for item in clause.items)
    found = _NEW.search(text)
    name = found["after"] if found else ""
    if not name:
        joins = _JOINS.search(text)
        name = joins["name"] if joins else ""
    name = _ENDS.sub("", f" {name}").strip(" .,'’-")
    words = name.split()
    if not 0 < len(words) <= 3 or any(word.isdecimal() for word in words):
        return ""
    return " ".join(_capital(word) for word in words) + (
        "." if len(words) > 1 and len(words[-1]) == 1 else ""
    )


def _capital(word: str) -> str:
    return "-".join(part[:1].upper() + part[1:] for part in word.split("-"))


def _hear_left(clause: Clause) -> Request | None:
    who = clause.who()
    if _is_unsure(clause) or clause.bins or not who.students or who.groups or who.everyone:
        return None
    [span, *_] = spans_of(clause.items, clause.at, past="left" in clause.word_set)
    last = span.last or span.first
    return StudentLeft(who, last)


def _hear_apart(clause: Clause) -> Request | None:
    who, words = clause.who(), clause.word_set
    if (
        clause.is_question
        or clause.bins
        or who.groups
        or len(who.students) + len(who.but_students) != 2
    ):
        return None
    everyone = replace(
        who, students=(*who.students, *who.but_students), but_students=(), everyone=False
    )
    again = {"again", "okay", "fine", "ok", "now"} & words and not {
        "not",
        "dont",
        "cant",
        "cannot",
        "apart",
        "separate",
        "never",
        "shouldnt",
    } & words
    return KeepApart(everyone, not again)


MOVE = Skill(
    name="move_student",
    title="Move a child to another group, add one, note who left, keep two apart",
    examples=(
        "move Ruby to group 2",
        "Omar is with group 1 today",
        "new student Zed in group 2",
        "keep Ruby and Omar apart",
    ),
    listeners=(
        Listener(
            (
                "move|put|switch|shift|change|transfer|place|send|stick|swap|assign|moving|"
                "moved|switched|changed ... <who> ... to|in|into|with|from|onto ... <who>",
                "<who> ... move|moves|moved|moving|switches|switched|switching|changed|changes|"
                "goes|transferred|belongs|joins|joined to|into|in|from|with? ... <who>",
                "<who> is|are|will|rotates|works|stays|goes|be ... in|with <who>",
                "<who> is|are|be <who> now|today|<day>|from",
                "<who> in|with <who> <day>|now|today|from|this|for|until|till",
                "<who> joins|join|joined <who>",
                "swap|switch|trade|exchange <who>",
                "swap|switch|trade|exchange <who> and|with|for <who>",
                "add <who> to|in|into <who>",
            ),
            _hear_move,
            asks_of="move_student",
            apart=True,
        ),
        Listener(("^ <who> <day>|now|from|till|until",), _hear_move, asks_of="move_student"),
        Listener(
            (
                "new student|kid|child|girl|boy|friend|kiddo|pupil|classmate",
                "is new",
                "joined|joins|joining the|our|my? class|roster|us",
                "joined|joins|joining the|our|my? <who>",
                "starts|started with us|in",
                "add ... to the|my|our class|roster",
                "welcome ... to the|our class|group",
            ),
            _hear_new,
            rank=2,
            apart=True,
        ),
        Listener(
            (
                "<who> left|leaves|leaving the|our|my|us class|school|us|for",
                "<who> moved|moves|moving away|schools|out",
                "<who> ... last day",
                "last day for|of ... <who>",
                "<who> transferred|withdrew|transferring|withdrawn|unenrolled|withdrawing",
                "<who> is|are not|no longer in|on|with|part ... class|roster|us",
                "<who> isnt|no longer in|on|with ... class|roster|us ... anymore|more?",
                "<who> changed|changing|switched|switching schools|school|class|classes",
                "<who> is|are? leaving the|our|my? class|school|us",
                "<who> ... leaving|leaves for good",
                "take|remove|drop|delete <who> off|from the|my|our class|roster|list",
            ),
            _hear_left,
            asks_of="move_student",
            rank=2,
            apart=True,
        ),
        Listener(
            (
                "keep|put|hold|sit|seat <who> apart|separate|separated|away",
                "<who> apart|separate|separated",
                "separate|split <who>",
                "<who> ... cant|cannot|shouldnt|should|can|not|dont|mustnt ... together|near",
                "dont|not|never put|pair|seat|place|group|mix <who>",
                "<who> must|should|can|may not? be|work|sit|go together",
                "<who> away from <who>",
                "<who> together again|is|are? fine|ok|okay",
                "<who> can be|work|sit|go together|with again|now",
            ),
            _hear_apart,
            asks_of="move_student",
            rank=2,
        ),
    ),
    acts=(
        (MoveStudent, move_student),
        (SwapStudents, swap_students),
        (NewStudent, new_student),
        (StudentLeft, student_left),
        (KeepApart, keep_apart),
    ),
)
