"""Children who change groups, join, leave, or are kept apart."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from bot.outcomes import ANSWERED, ASKED, DONE, REFUSED, Outcome, StudentMoved
from bot.requests import KeepApart, MoveStudent, NewStudent, Option, StudentLeft, SwapStudents, Who
from bot.skills.planning import replan_today, students_of
from bot.skills.skill import Situation, Skill
from bot.understanding.moves.groups import ASKED_MOVE, TOLD_IN_SHORT, TOLD_MOVE
from bot.understanding.moves.keeping_apart import TOLD_APART
from bot.understanding.moves.leavers import TOLD_LEFT
from bot.understanding.moves.newcomers import TOLD_NEW
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
        TOLD_MOVE,
        ASKED_MOVE,
        TOLD_IN_SHORT,
        TOLD_NEW,
        TOLD_LEFT,
        TOLD_APART,
    ),
    acts=(
        (MoveStudent, move_student),
        (SwapStudents, swap_students),
        (NewStudent, new_student),
        (StudentLeft, student_left),
        (KeepApart, keep_apart),
    ),
)
