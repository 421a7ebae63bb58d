"""The morning summary on request, when it comes, and who wants nudges at all."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, datetime, time, timedelta

from bot.classroom.days import is_hour_allowed, is_school_day, rotations_on, school_day_after
from bot.classroom.stints import out_on
from bot.outcomes import (
    ANSWERED,
    DONE,
    REFUSED,
    DigestMoved,
    MorningDigest,
    NudgesSet,
    Outcome,
    Part,
    TodaysPlan,
)
from bot.outcomes import ToldHow as Told
from bot.requests import Digest, MoveDigest, Request, SayHow, SetNudges
from bot.skills.sections import SECTIONS
from bot.skills.skill import Situation, Skill
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from bot.understanding.senses import Kind
from bot.understanding.until import clock_time, until_when
from storage.classbook import ClassBook

_SNOOZE = timedelta(hours=1)


# What is done


def digest(request: Digest, now: Situation) -> Outcome:
    """Put together what is worth knowing on a school day."""
    seen = now if request.day in (None, now.today) else _on_the_morning_of(request.day, now)
    day, roster = seen.today, seen.roster
    is_on = is_school_day(roster, day)
    parts = [part for section in SECTIONS if (part := section(seen)) is not None] if is_on else []
    if now.entry_id:
        tell_parts(now.book, now.entry_id, parts)
    return MorningDigest(
        status=ANSWERED,
        day=day,
        parts=tuple(parts),
        has_rotations=bool(rotations_on(roster, day)) and bool(out_on(roster, day)),
        next_school_day=None if is_on else school_day_after(roster, day),
    )


def tell_parts(book: ClassBook, entry_id: int, parts: Iterable[Part]) -> None:
    """Keep what a summary tells of a day's rotations, so that it stays as told."""
    for part in parts:
        if isinstance(part, TodaysPlan):
            book.announce(entry_id, part.told)


def _on_the_morning_of(day: date | None, now: Situation) -> Situation:
    at = datetime.combine(day or now.today, time(), tzinfo=now.at.tzinfo)
    return replace(now, at=at)


def set_nudges(request: SetNudges, now: Situation) -> Outcome:
    """Turn the sender's nudges on or off, or hold them till a moment."""
    held = now.book.nudging().get(now.member.id)
    again = _last_nudge(request, now) if request.again else None
    if request.is_answer and again is None:
        return Told(status=ANSWERED, what="until")
    is_so = held is not None and (held.is_on, held.until) == (request.is_on, request.until)
    if is_so and again is None:
        return NudgesSet(
            status=ANSWERED, is_on=request.is_on, until=request.until, again=False, had_it_so=True
        )
    now.book.set_nudging(
        now.entry_id, now.member.id, is_on=request.is_on, until=request.until, again=again
    )
    change = {
        "what": "nudges",
        "member": now.member.name,
        "on": request.is_on,
        "until": request.until.isoformat(timespec="seconds") if request.until else None,
    }
    return NudgesSet(
        status=DONE,
        changes=(change,),
        is_on=request.is_on,
        until=request.until,
        again=again is not None,
    )


def _last_nudge(request: SetNudges, now: Situation) -> int | None:
    """The nudge that may come once more: the sender's last of today, if it has not expired then."""
    sent = [
        nudge
        for nudge in now.book.nudges(now.today)
        if nudge.member_id == now.member.id and nudge.state == "sent"
    ]
    if not sent or request.until is None or sent[-1].expires <= request.until:
        return None
    return sent[-1].id


def move_digest(request: MoveDigest, now: Situation) -> Outcome:
    """Let the morning summary come at another time, within the hours allowed."""
    class_, at = now.roster.class_, request.at
    moved = DigestMoved(status=ANSWERED, at=at, first=class_.quiet_before, last=class_.quiet_after)
    if at is None or not is_hour_allowed(class_, at):
        return replace(moved, status=REFUSED)
    if at == class_.digest_at:
        return moved
    now.book.move_digest(now.entry_id, at)
    change = {"what": "digest", "from": f"{class_.digest_at:%H:%M}", "to": f"{at:%H:%M}"}
    return replace(moved, status=DONE, changes=(change,))


def say_how(request: SayHow, now: Situation) -> Outcome:
    """Tell how to say what changes."""
    return Told(status=ANSWERED, what=request.what)


# What is heard


def _slips(*words: str) -> str:
    """Words, and each with a letter left out, doubled or changed places: how thumbs miss them."""
    found = dict.fromkeys(words)
    for word in words:
        for n in range(1, len(word)) if len(word) > 4 else ():
            found[word[:n] + word[n + 1 :]] = None
            found[word[:n] + word[n] + word[n:]] = None
            found[word[: n - 1] + word[n] + word[n - 1] + word[n + 1 :]] = None
    return "|".join(found)


_NUDGES = _slips("nudges", "nudge", "nudging", "notifications", "notification", "reminders") + (
    "|reminder|messages|texts|alerts|alert|pings|updates|notifs|messaging|texting|pinging"
)
_TELL = "nudge|nuge|text|message|ping|remind|bother|bug|notify|write|alert|pester|disturb"
_TELLING = (
    "nudging|texting|messaging|pinging|reminding|bothering|bugging|notifying|writing|alerting"
)
_SUMMARY = _slips("digest", "summary", "briefing", "rundown", "overview", "roundup") + "|recap"
_MESSAGE = "message|msg|text|update|report|note|list|email|brief|nudge|reminder"
_TILL = "till|til|until|untill|unti|for|over|through"
_HOURS = "5|6|7|8|9|10|11|five|six|seven|eight|nine|ten|half|quarter"


def _hear_digest(clause: Clause) -> Request | None:
    if clause.children or clause.bins:
        return None
    days = [i.sense.value for i in clause.items if i.kind is Kind.DAY and i.sense.value]
    told = days[0] if days else None
    if not isinstance(told, date):
        return Digest()
    return Digest(told) if told >= clause.at.date() else None


def _hear_move(clause: Clause) -> Request | None:
    return None if clause.children or clause.bins else MoveDigest(clock_time(clause))


def _hear_hush(clause: Clause) -> Request | None:
    """ "quiet": till the end of the day, where it says no more."""
    heard = _hear_off(clause)
    if isinstance(heard, SetNudges) and heard.until is None:
        tomorrow = clause.at.date() + timedelta(days=1)
        return SetNudges(
            is_on=False, until=datetime.combine(tomorrow, time(), tzinfo=clause.at.tzinfo)
        )
    return heard


def _hear_off(clause: Clause) -> Request | None:
    words = clause.words
    if clause.children or clause.bins or _only_asks(clause):
        return None
    if _NEGATIONS - {"no"} & set(words) and _OFF_WORDS & set(words):
        return None  # "don't stop the reminders"
    until = until_when(clause)
    if until is None and _TILL_WORDS & set(words):
        return SayHow("until")
    return SetNudges(is_on=False, until=until)


def _hear_snooze(clause: Clause) -> Request | None:
    if clause.children or clause.bins or _only_asks(clause):
        return None
    if _NEGATIONS & clause.word_set:
        return None
    until = until_when(clause) or clause.at + _SNOOZE
    return SetNudges(is_on=False, until=until, again=True)


def _hear_later(clause: Clause) -> Request | None:
    heard = _hear_snooze(clause)
    return replace(heard, is_answer=True) if isinstance(heard, SetNudges) else heard


def _hear_on(clause: Clause) -> Request | None:
    if clause.children or clause.bins or _only_asks(clause):
        return None
    words = clause.word_set
    return None if _NEGATIONS & words else SetNudges(is_on=True)


def _hear_how(what: str, clause: Clause) -> Request | None:
    return None if clause.children or clause.bins else SayHow(what)


def _only_asks(clause: Clause) -> bool:
    """ "are the nudges on?", but not "can you be quiet"."""
    return clause.is_question and " ".join(clause.words[:1]) not in _PLEASE


_PLEASE = ("can", "could", "would", "will", "please", "pls", "mute", "snooze", "unmute", "quiet")
_NEGATIONS = frozenset(("dont", "not", "no", "never", "didnt", "wont"))
_OFF_WORDS = frozenset(("mute", "stop", "silence", "pause", "disable", "quit", "off"))
_TILL_WORDS = frozenset(("till", "til", "until", "untill"))

OFF = (
    f"no more of? the|your|these? {_NUDGES}",
    f"no {_NUDGES} {_TILL}|please|today|<day>|anymore",
    f"stop|quit|pause|mute|silence|disable|cancel|hold all? of? the|your|my|these|those? {_NUDGES}",
    f"stop|quit {_TELLING} me|us",
    f"turn|switch|shut off the|your|my|all|these? {_NUDGES}",
    f"turn|switch|shut the|your|my|all|these? {_NUDGES} off",
    f"{_NUDGES} off",
    f"dont|stop|never {_TELL} me|us",
    f"dont|never {_TELL} me|us ... again|anymore|{_TILL}",
    f"do not {_TELL} me|us",
    f"dont|do not|no longer want|need not? any|the|your|these? more? {_NUDGES}",
)
OFF_ALONE = (
    "^ mute",
    "^ please|pls|can|could|would you? please? mute|pause",
    f"^ please? stop|quit {_TELLING} $",
    f"^ no {_NUDGES} $",
    "^ no need to remind|text|nudge me",
)
HUSH = (
    f"^ {_slips('silence')}|hush|shush|shh|shhh|dnd $",
    f"^ quiet|silence|hush|shush|shh|silent {_TILL}|please|pls|now|mode",
    "^ quiet $",
    f"be|stay|go|keep quiet|silent {_TILL}|please|now",
    "^ please? be|stay|go|keep quiet|silent",
    "^ please|pls|can|could|would you? please? hush|silence|be quiet",
    "^ please? do not disturb",
    "^ please? leave me alone",
    "^ please? leave me in peace",
)
SNOOZE = (
    f"^ {_slips('snooze')}",
    f"^ please|pls|can|could|would you? please? {_slips('snooze')}",
    f"{_slips('snooze')} it|this|that|for|an|till|until",
    "^ please|pls|can|could|would|will? you? please? remind|nudge|ask|ping|text|tell me again? "
    "later|in",
)
LATER = (
    "^ ask|remind again? later $",
    "^ again later|in",
    "^ maybe? later $",
    "^ in an|a|half|10|15|20|30|45|ten|twenty|thirty hour|an|a|min|mins|minutes",
)
ON = (
    f"^ {_slips('unmute')}|unsnooze",
    "^ un mute|silence|snooze",
    f"turn|switch the|your|my|all? {_NUDGES} back? on",
    f"turn|switch on the|your|my|all? {_NUDGES}",
    f"turn|switch on again? the|your|my? {_NUDGES}",
    f"{_NUDGES} back? on",
    f"start|resume|restart|enable|continue the|your|my|with? {_NUDGES}",
    f"start|resume {_TELLING} me? again?",
    f"{_TELL} me again $",
    f"you|u can|may|could {_TELL} me again?",
    f"want|need|like the|your|my? {_NUDGES} back|again",
    "you can|may talk|speak again",
)
DIGEST = (
    f"^ the|my|todays|send|please? {_SUMMARY}",
    f"send|give|show|get|tell|text me|us? the|a|my|todays|this? morning|daily|days? {_SUMMARY}",
    f"morning|daily|todays|<day> {_SUMMARY}|{_MESSAGE}",
    f"send|give|show|get me|us? the|a|my? morning|daily {_SUMMARY}|{_MESSAGE}",
    f"{_SUMMARY} of|for the? day|morning|<day>",
    f"can|could|may i|we have|get|see the|my|a? morning|daily? {_SUMMARY}",
    "what do|should i|we need? to? know <day>|this",
    "what do|should i|we need to know",
    "what ... for <day> in short",
    "brief me",
    "catch me up",
    "fill me in",
    "get me up to speed",
    "whats up <day>",
    "what is up <day>",
    "what does|is <day> look|looking like?",
    "whats <day> look|looking like?",
    "how does|is|hows <day> look|looking",
    "how is|are <day> shaping",
)
MOVE = (
    f"{_SUMMARY} at|to|for|by|around <time>|{_HOURS}",
    f"morning|daily {_MESSAGE}|{_SUMMARY} at|to|for|by|around|is <time>|{_HOURS}",
    f"{_SUMMARY} <time>",
    f"morning|daily {_MESSAGE}|{_SUMMARY} <time>",
    f"{_SUMMARY}|{_MESSAGE} in the morning at <time>|{_HOURS}",
    f"move|change|shift|set|push|make|want|get|send|have me? the|my|your? morning|daily? "
    f"{_SUMMARY} ... to|at|for|by|till|until|be <time>|{_HOURS}",
    f"move|change|shift|set|push|make|want|get|send|have me? the|my|your? morning|daily "
    f"{_MESSAGE} ... to|at|for|by|till|until|be <time>|{_HOURS}",
    f"move|change|set|make the|my|your? morning|daily {_MESSAGE}|{_SUMMARY}",
    f"move|change|set the|my|your? time|hour? of? the? {_SUMMARY}",
    f"morning|daily {_MESSAGE}|{_SUMMARY} ... earlier|later|sooner",
    f"{_SUMMARY} earlier|later|sooner",
)

SKILL = Skill(
    name="digest",
    title="Get the morning summary, or hear less from me",
    examples=(
        "send me the morning summary",
        "morning message at 7:15",
        "quiet till monday",
        "no more nudges",
        "unmute",
    ),
    listeners=(
        Listener(OFF, _hear_off, apart=True),
        Listener(OFF_ALONE, _hear_off),
        Listener(HUSH, _hear_hush),
        Listener(SNOOZE, _hear_snooze),
        Listener(LATER, _hear_later),
        Listener(ON, _hear_on),
        Listener(MOVE, _hear_move, rank=3),
        Listener(DIGEST, _hear_digest, rank=3),
        Listener(
            ("^ someone|somebody is away|out|absent|missing|sick $",),
            lambda clause: _hear_how("away", clause),
        ),
        Listener(("^ change the? plan $",), lambda clause: _hear_how("plan", clause)),
    ),
    acts=(
        (Digest, digest),
        (SetNudges, set_nudges),
        (MoveDigest, move_digest),
        (SayHow, say_how),
    ),
)
