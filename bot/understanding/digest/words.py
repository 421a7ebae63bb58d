"""Words for nudges and for what the bot does when it speaks up; slips of them."""

from __future__ import annotations

from bot.understanding.clause import Clause
from bot.understanding.senses import Kind


def slips(*words: str) -> str:
    """Words, and each with a letter left out, doubled or changed places: how thumbs miss them."""
    found = dict.fromkeys(words)
    for word in words:
        for n in range(1, len(word)) if len(word) > 4 else ():
            found[word[:n] + word[n + 1 :]] = None
            found[word[:n] + word[n] + word[n:]] = None
            found[word[: n - 1] + word[n] + word[n - 1] + word[n + 1 :]] = None
    return "|".join(found)


NUDGES = slips("nudges", "nudge", "nudging", "notifications", "notification", "reminders") + (
    "|reminder|messages|texts|alerts|alert|pings|updates|notifs|messaging|texting|pinging|message|text"
)
SUMMARY = slips("digest", "summary", "briefing", "rundown", "overview", "roundup") + "|recap"
TELL = "nudge|nuge|text|message|ping|remind|bother|bug|notify|write|alert|pester|disturb"
TELLING = "nudging|texting|messaging|pinging|reminding|bothering|bugging|notifying|writing|alerting"
TILL = "till|til|until|untill|unti|for|over|through"
PLEASE = ("can", "could", "would", "will", "please", "pls", "mute", "snooze", "unmute", "quiet")
NEGATIONS = frozenset(("dont", "not", "no", "never", "didnt", "wont"))


def names_children(clause: Clause) -> bool:
    """Whether children are named; "the rest of the day" names none."""
    spell = bool(clause.word_set & {"day", "week", "morning", "afternoon"})
    return any(item.kind is not Kind.REST or not spell for item in clause.children)


def only_asks(clause: Clause) -> bool:
    """ "are the nudges on?", but not "can you be quiet"."""
    return clause.is_question and " ".join(clause.words[:1]) not in PLEASE
