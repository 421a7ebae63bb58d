"""Nudges on their way to the platform: a tick looks at every class, and what is due goes out."""

from __future__ import annotations

import logging
from collections.abc import Callable
from datetime import UTC, datetime

from apscheduler.schedulers.asyncio import AsyncIOScheduler
from sqlalchemy.exc import SQLAlchemyError

from bot.classroom.rotation.memo import Plans
from bot.conversation import with_plans
from bot.nudges.speaking import Spell, Spoken, speak_up
from bot.telegram.delivery import Delivery
from bot.telegram.quiet import described
from bot.wording.telegram import NUDGES_TROUBLE
from storage.database import Database, Work
from storage.post import Letter
from storage.records import Class, Member

_LOG = logging.getLogger("tubtally")


class Nudging:
    """Looks at each class when something may be due there, or when the class has changed.

    Members are written to in their private chat, which on this platform has the number of the
    account. Claim, entry and letter are one unit of work.
    """

    def __init__(self, database: Database, delivery: Delivery, now: Callable[[], datetime]) -> None:
        self._database = database
        self._delivery = delivery
        self._now = now
        self._next: dict[int, tuple[int, datetime]] = {}
        self._scheduler: AsyncIOScheduler | None = None

    def start(self, seconds: float) -> None:
        """Look every so many seconds from here on; where it looks already, go on."""
        if self._scheduler is not None:
            return
        scheduler = self._scheduler = AsyncIOScheduler(timezone=UTC)
        # None: a tick that comes late is still a tick. What is late is decided by the nudges.
        scheduler.add_job(
            self._tick,
            "interval",
            seconds=seconds,
            misfire_grace_time=None,
            coalesce=True,
            max_instances=1,
        )
        scheduler.start()

    def stop(self) -> None:
        """Look no more."""
        if self._scheduler is not None:
            self._scheduler.shutdown(wait=False)

    async def _tick(self) -> None:
        try:
            self.look(self._now())
        except SQLAlchemyError as trouble:
            _LOG.warning(NUDGES_TROUBLE, type(trouble).__name__)
        except Exception as fault:  # a mistake of ours; its text may hold names
            _LOG.error(NUDGES_TROUBLE, described(fault))

    def look(self, now: datetime) -> None:
        """Send whatever is due at this moment."""
        with self._database.reading() as work:
            classes = work.register.classes()
        for class_ in classes:
            if self._is_time(class_, now):
                self._speak(class_, now)

    def _is_time(self, class_: Class, now: datetime) -> bool:
        version, at = self._next.get(class_.id, (-1, now))
        return version != class_.version or now >= at

    def _speak(self, class_: Class, now: datetime) -> None:
        def spoken(plans: Plans) -> tuple[Spell, list[Letter]]:
            with self._database.writing() as work:
                spell = speak_up(work, class_.id, now, has_joined, plans)
                return spell, [_letter(work, class_.id, said) for said in spell.spoken]

        spell, letters = with_plans(spoken)
        self._next[class_.id] = class_.version, spell.look_again
        for letter in letters:
            self._delivery.post(letter)


def has_joined(member: Member) -> bool:
    """Whether there is a chat to write to."""
    return member.account is not None


def _letter(work: Work, class_id: int, said: Spoken) -> Letter:
    assert said.member.account is not None
    choices = [(choice.label, choice.send) for choice in said.reply.choices]
    return work.post.send(said.member.account, said.reply.text, choices=choices, class_id=class_id)
