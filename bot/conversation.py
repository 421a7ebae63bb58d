"""The trip of a message: into the journal, read, acted on, worded, and answered in one unit of
work."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from typing import TypeVar

from bot.classroom.rotation.memo import PlanFirst, Plans
from bot.folder.sent_calendar import is_calendar
from bot.outcomes import (
    ANSWERED,
    ASKED,
    DONE,
    REFUSED,
    LogCorrected,
    Outcome,
    Question,
    Smiled,
    Unclear,
)
from bot.requests import (
    Ask,
    LogVisits,
    NoteAway,
    NoteBack,
    Option,
    ReadCalendar,
    Request,
    SentFile,
    Smalltalk,
)
from bot.skills import SKILLS, THEMES
from bot.skills.replaying import built_on, replay
from bot.skills.skill import Act, Situation
from bot.understanding.answers import agreed, choice_meant, filled
from bot.understanding.asking_back import Heard
from bot.understanding.clause import Last
from bot.understanding.event_choices import EVENTS, events_picked, request_of
from bot.understanding.reading import Reading, read
from bot.understanding.senses import Kind
from bot.wording import word
from bot.wording.voice import Reply, Voice, fitted
from storage.classbook import ClassBook
from storage.records import Entry, Member, Roster, Turn

Result = TypeVar("Result")

UNCLEAR = "unclear"
LONGEST_TEXT = 4096
_MOST_ROUNDS = 6  # of planning for one message
_MOST_ASKED = 3  # questions in one reply
_CORRECTABLE = timedelta(minutes=30)  # how long "oops, that was group 4" means the last log
_ACTS: Mapping[type[Request], Act] = {kind: act for skill in SKILLS for kind, act in skill.acts}
_LISTENERS = tuple(listener for skill in SKILLS for listener in skill.listeners)
_HELP = tuple(
    (theme, skill.title, skill.examples) for theme, skills in THEMES.items() for skill in skills
)
_OFFERS = tuple(
    skill.examples[0] for skill in SKILLS if skill.name in ("log_visits", "who_needs", "help")
)


@dataclass(frozen=True, slots=True)
class Incoming:
    """One thing that came in: a text, the text behind a button, an edit, a file, or no text at
    all."""

    text: str
    at: datetime  # the time stamped on it, aware
    received_at: datetime
    kind: str = "text"  # text, button, edit, file, sticker, other
    place: str = "say"  # the chat
    key: str | None = None  # the same for every delivery of the same thing
    message: str | None = None  # the message within its chat, so that an edit finds it
    private: bool = True  # nobody but the member reads along
    file: SentFile | None = None  # the text is its caption then


@dataclass(frozen=True, slots=True)
class Answer:
    """What came of an incoming, for people and for programs."""

    entry_id: int
    at: datetime
    text: str
    outcome: str
    requests: tuple[str, ...]
    reply: Reply
    result: Mapping[str, object] = field(default_factory=dict)


def with_plans(act: Callable[[Plans], Result]) -> Result:
    """Carry out a unit of work that may need plans: each is made outside of it, and the unit begun
    anew; what changed meanwhile is another plan. After a few rounds it plans where it stands."""
    plans = Plans(at_once=False)
    for _ in range(_MOST_ROUNDS):
        try:
            return act(plans)
        except PlanFirst as lacking:
            lacking.make()
    plans.at_once = True
    return act(plans)


def take(book: ClassBook, member: Member, incoming: Incoming, plans: Plans | None = None) -> Answer:
    """Take one incoming of a member; everything it brings about is in the book's unit of work.

    Raises PlanFirst, where `plans` says so, for a plan that is to be made outside of it.

    The same delivery again changes nothing and is answered as before.
    """
    before = book.entry_by_key(incoming.key) if incoming.key else None
    if before is not None:
        return _as_before(before, book)
    roster = book.roster()
    old = _edited(book, incoming)
    text = _storable(_text_of(incoming))
    entry_id = book.open_entry(
        kind=incoming.kind,
        text=text,
        at=incoming.at,
        received_at=incoming.received_at,
        member_id=member.id,
        key=incoming.key,
        place=incoming.place,
        message=incoming.message,
        replaces=old.id if old else None,
    )
    now = Situation(
        book,
        roster,
        entry_id,
        member,
        incoming.at.astimezone(roster.class_.zone),
        _HELP,
        plans or Plans(),
    )
    reading = _read(text, incoming, now)
    outcomes = _act(reading, now) if old is None else _act_again(old, reading, now)
    return _close(outcomes, reading, incoming, now, text)


# Reading


def _read(text: str, incoming: Incoming, now: Situation) -> Reading | str:
    """The reading of a text, or the kind of thing it is where there is nothing to read."""
    if incoming.file is not None:
        return _read_file(incoming.file, incoming, now)
    if incoming.kind in ("sticker", "other"):
        return incoming.kind
    if not text.strip():
        return "empty"
    if len(text) > LONGEST_TEXT:
        return "long"
    chosen = _chosen(text, incoming, now) or text
    picks = request_of(chosen)
    if picks is not None:
        return Reading((), Heard([picks]))
    return read(chosen, now.roster, now.at, _LISTENERS, lambda: _last(incoming, now))


def _read_file(file: SentFile, incoming: Incoming, now: Situation) -> Reading | str:
    """A calendar, whatever its caption says; of other files nothing is known but that."""
    if not is_calendar(file.name, file.content):
        return "other"
    now.book.close_questions(now.member.id, incoming.place)
    return Reading((), Heard([ReadCalendar(file)]))


def _text_of(incoming: Incoming) -> str:
    """What was said, with the name of a file that came with it: "our calendar [district.ics]"."""
    if incoming.file is None:
        return incoming.text
    return " ".join(filter(None, (incoming.text.strip(), f"[{incoming.file.name}]")))


def _last(incoming: Incoming, now: Situation) -> Last | None:
    """The log that a correction may mean: the sender's last change, if it is minutes old."""
    entry = None if incoming.kind == "edit" else now.book.last_change(now.member.id)
    if entry is None or not entry.said or not timedelta(0) <= now.at - entry.at <= _CORRECTABLE:
        return None
    heard = read(entry.said, now.roster, entry.at.astimezone(now.at.tzinfo), _LISTENERS).heard
    logs = tuple(request for request in heard.requests if isinstance(request, LogVisits))
    return Last(entry.id, logs) if logs else None


def _chosen(text: str, incoming: Incoming, now: Situation) -> str | None:
    """The full text behind an answer to a pending question; any other text drops the question."""
    pending = now.book.pending_question(now.member.id, incoming.place)
    if pending is None:
        return None
    now.book.close_questions(now.member.id, incoming.place)
    if any(fills == EVENTS for fills, *_ in pending.frames):
        picked = events_picked(text, pending)
        is_meant = picked is not None and (
            picked.is_sure or not read(text, now.roster, now.at, _LISTENERS).heard
        )
        return picked.text if picked is not None and is_meant else None
    index = choice_meant(text, [label for label, _ in pending.choices])
    index = agreed(text, pending.choices) if index is None else index
    if index is not None:
        return pending.choices[index][1]
    return filled(text, pending, now.roster, now.at)


def _edited(book: ClassBook, incoming: Incoming) -> Entry | None:
    """The entry whose message was edited."""
    if incoming.kind != "edit" or incoming.message is None:
        return None
    return book.entry_of_message(incoming.place, incoming.message)


# Acting

# "g3 did balance but theo is out": that he is away counts before what his group did.
_FIRST = (NoteAway, NoteBack)


def _act(reading: Reading | str, now: Situation) -> list[Outcome]:
    if isinstance(reading, str):
        return [Unclear(status=UNCLEAR, kind=reading)]
    requests = list(dict.fromkeys(reading.heard.requests))
    told = {
        request: _ACTS[type(request)](request, _as_it_stands(now))
        for request in sorted(requests, key=lambda request: type(request) not in _FIRST)
    }
    outcomes = [told[request] for request in requests]
    outcomes += [_question(ask) for ask in list(dict.fromkeys(reading.heard.asks))[:_MOST_ASKED]]
    if any(not isinstance(outcome, Smiled) for outcome in outcomes):
        outcomes = [outcome for outcome in outcomes if not isinstance(outcome, Smiled)]
    return outcomes or [Unclear(status=UNCLEAR, offers=_OFFERS)]


def _as_it_stands(now: Situation) -> Situation:
    """The situation after what the same text has changed so far: "swap pink to gears now, g1
    gears"."""
    return replace(now, roster=now.book.roster())


def _question(ask: Ask) -> Outcome:
    frames = (ask.frame,) if ask.frame is not None else ()
    return Question(status=ASKED, choices=ask.options, frames=frames, ask=ask)


def _act_again(old: Entry, reading: Reading | str, now: Situation) -> list[Outcome]:
    """An edit: what the old wording did is stepped back, the new wording acted on, and the
    difference told. A new wording that cannot be read leaves the old one standing."""
    if isinstance(reading, str) or not reading.heard:
        return [LogCorrected(status=UNCLEAR, entry=old, kept=True)]
    with now.book.attempt() as attempt:
        outcomes, change = replay(old, lambda: _act(reading, now), now)
        if built_on(now.roster, now):
            attempt.give_up()  # turns were logged since at a bin that the old wording put out
            return [LogCorrected(status=REFUSED, entry=old, built_on=True)]
    by_itself = any(o.status != DONE or o.changes for o in outcomes)
    if not change.added and not change.removed and by_itself:
        return list(outcomes)
    return [change, *(o for o in outcomes if o.status == ASKED or not (o.added or o.removed))]


# Answering


def _close(
    outcomes: Sequence[Outcome],
    reading: Reading | str,
    incoming: Incoming,
    now: Situation,
    text: str,
) -> Answer:
    now = replace(now, roster=_roster_to_tell(now))
    voice = Voice(now.roster, _spoken(reading, incoming))
    replies = [word(outcome, voice, now.entry_id) for outcome in outcomes]
    choices = tuple(dict.fromkeys(choice for reply in replies for choice in reply.choices))
    pending = [c for outcome in outcomes for c in outcome.choices if voice.may_say(c.label, c.send)]
    frames = [(f.fills, f.text, f.everyone) for o in outcomes for f in o.frames]
    if pending or frames:
        choices = tuple(dict.fromkeys(pending))
        labels = [(choice.label, choice.send) for choice in choices]
        now.book.ask(now.entry_id, now.member.id, incoming.place, labels, frames)
    reply = Reply(
        fitted("\n".join(dict.fromkeys(reply.text for reply in replies))),
        choices,
        tuple(path for reply in replies for path in reply.attachments),
    )
    outcome, requests = _overall(outcomes), _names(reading)
    result = _result(outcomes, reading, now, choices)
    said = "\n".join(o.said for o in outcomes if o.said) or None
    changed = any(o.added or o.removed or o.changes or o.claims for o in outcomes)
    stepping = any(name in ("undo", "redo") for name in requests)
    now.book.close_entry(
        now.entry_id,
        outcome=outcome,
        requests=list(requests),
        reply=reply.text,
        said=said,
        result=result,
        effect=changed and not stepping,
    )
    return Answer(now.entry_id, now.at, text, outcome, requests, reply, result)


def _roster_to_tell(now: Situation) -> Roster:
    """The class as it stands, with the stints that were taken back: they are still spoken of."""
    after = now.book.roster()
    gone = tuple(stint for stint in now.roster.stints if stint.id not in after.stint)
    return replace(after, stints=(*after.stints, *gone)) if gone else after


def _overall(outcomes: Sequence[Outcome]) -> str:
    """The first that holds: asked, done, refused, answered, unclear."""
    if any(o.status == ASKED for o in outcomes):
        return ASKED
    if any(o.added or o.removed or o.changes for o in outcomes):
        return DONE
    statuses = {outcome.status for outcome in outcomes}
    return next((s for s in (DONE, REFUSED, ANSWERED) if s in statuses), UNCLEAR)


def _names(reading: Reading | str) -> tuple[str, ...]:
    if isinstance(reading, str):
        return ()
    names = [request.name for request in reading.heard.requests]
    names += [ask.request for ask in reading.heard.asks]
    if any(name != Smalltalk.name for name in names):
        names = [name for name in names if name != Smalltalk.name]
    return tuple(dict.fromkeys(names))


def _result(
    outcomes: Sequence[Outcome],
    reading: Reading | str,
    now: Situation,
    choices: Sequence[Option],
) -> dict[str, object]:
    facts: dict[str, object] = {}
    for outcome in outcomes:
        for name, value in outcome.facts.items():
            held = facts.get(name)
            if isinstance(held, dict) and isinstance(value, dict):
                facts[name] = {**held, **value}
            elif isinstance(held, list) and isinstance(value, list):
                facts[name] = held + value
            else:
                facts[name] = value
    return {
        "choices": [{"label": choice.label, "send": choice.send} for choice in choices],
        "visits_added": [_visit(t, now.roster) for o in outcomes for t in o.added],
        "visits_removed": [_visit(t, now.roster) for o in outcomes for t in o.removed],
        "changes": [dict(change) for o in outcomes for change in o.changes],
        "facts": facts,
        "taken": _taken(reading),
    }


def _visit(turn: Turn, roster: Roster) -> dict[str, str]:
    return {
        "student": roster.student[turn.student_id].name,
        "bin": roster.bin_of(roster.stint[turn.stint_id]).name,
        "day": turn.day.isoformat(),
    }


def _taken(reading: Reading | str) -> list[list[str]]:
    """How the stretches of the text that name something were taken, for why."""
    if isinstance(reading, str):
        return []
    told = (
        Kind.GROUP,
        Kind.STUDENT,
        Kind.BIN,
        Kind.COLOR,
        Kind.DAY,
        Kind.TIME,
        Kind.EXCEPT,
        Kind.UNKNOWN,
    )
    return [[item.text, item.kind.value] for item in reading.items if item.kind in told]


def _spoken(reading: Reading | str, incoming: Incoming) -> frozenset[int] | None:
    """The children a reply may name: all in a private chat, those named in the text elsewhere."""
    if incoming.private:
        return None
    items = () if isinstance(reading, str) else reading.items
    return frozenset(i for item in items if item.kind is Kind.STUDENT for i in item.sense.ids)


def _as_before(entry: Entry, book: ClassBook) -> Answer:
    told = entry.result.get("choices", ())
    choices = tuple(Option(c["label"], c["send"]) for c in told)
    zone = book.roster().class_.zone
    return Answer(
        entry.id,
        entry.at.astimezone(zone),
        entry.text,
        entry.outcome or UNCLEAR,
        entry.requests,
        Reply(entry.reply or "", choices),
        entry.result,
    )


def _storable(text: str) -> str:
    """The text without what no database keeps: NUL, and halves of surrogate pairs."""
    return text.replace("\x00", "").encode("utf-8", "replace").decode("utf-8")
