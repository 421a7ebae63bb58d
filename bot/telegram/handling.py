"""One update, one unit of work: what it changes, its reply and the note that it was handled are
committed together or not at all, with no await in between."""

from __future__ import annotations

import json
import logging
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy.exc import InterfaceError, OperationalError

from bot.classroom.rotation.memo import Plans
from bot.conversation import Answer, Incoming, take, with_plans
from bot.folder.sent_calendar import LARGEST
from bot.outcomes import ASKED, DONE
from bot.requests import SentFile
from bot.telegram.delivery import Delivery
from bot.telegram.quiet import described
from bot.telegram.strangers import code_in, greet, join
from bot.telegram.updates import Attached, Pressed, Said, heard
from bot.wording.telegram import DEAD, OLD_BUTTON, SORRY
from storage.classbook import ClassBook
from storage.database import Database, Work
from storage.post import Letter
from storage.records import Entry, Member

_LOG = logging.getLogger("tubtally")
_TRANSIENT = (OperationalError, InterfaceError)  # a full disk, a lock: no fault of the update


@dataclass(frozen=True)
class Handling:
    """Handles updates in the order in which they are given to it."""

    database: Database
    delivery: Delivery
    username: str

    def wants(self, update: Mapping[str, Any] | str) -> Attached | None:
        """The file that has to be fetched before an update can be handled: from members, and not
        above the size that is read."""
        try:
            if isinstance(update, str):
                update = json.loads(update)
            said = heard(update, self.username)  # type: ignore[arg-type]  # any other type raises
        except Exception:  # for `handle` to deal with
            return None
        file = said.file if isinstance(said, Said) else None
        if file is None or file.size > LARGEST:
            return None
        assert isinstance(said, Said)
        with self.database.reading() as work:
            return file if work.register.memberships_of(said.account) else None

    def handle(
        self,
        update_id: int,
        update: Mapping[str, Any] | str,
        received: datetime,
        *,
        file: SentFile | None = None,
    ) -> None:
        """Handle one update (as JSON or as what that stands for), with the file that was fetched
        for it; one handled before is left alone.

        Raises only what the database has trouble with; the update then still waits.
        """
        said: Said | Pressed | None = None
        try:
            if isinstance(update, str):
                update = json.loads(update)
            said = heard(update, self.username)  # type: ignore[arg-type]  # any other type raises
            self._carry_out(update_id, said, received, file)
        except _TRANSIENT:
            raise
        except Exception as fault:
            self.bury(update_id, update, fault, received, chat=said.chat if said else None)

    def bury(
        self,
        update_id: int,
        update: object,
        fault: Exception,
        received: datetime,
        *,
        chat: int | None = None,
    ) -> None:
        """Keep an update that nothing can be made of, and say sorry where it is known to whom."""
        raw = update if isinstance(update, str) else json.dumps(update)
        with self.database.writing() as work:
            is_new = work.post.mark_dead(update_id, raw, described(fault), received)
            letter = work.post.send(chat, SORRY, update_id=update_id) if is_new and chat else None
        if is_new:
            _LOG.error(DEAD, update_id, described(fault))
        if letter is not None:
            self.delivery.post(letter)

    def _carry_out(
        self,
        update_id: int,
        said: Said | Pressed | None,
        now: datetime,
        file: SentFile | None,
    ) -> None:
        marks = self.delivery.marks()

        def handled(plans: Plans) -> tuple[Letter | None, str | None]:
            with self.database.writing() as work:
                work.post.mark(marks)
                if not work.post.mark_handled(update_id, now):
                    return None, None
                if isinstance(said, Said):
                    return _answer(work, said, now, update_id, plans, file), None
                return _press(work, said, now, update_id, plans) if said else (None, None)

        letter, notice = with_plans(handled)
        self.delivery.marked(marks)
        if letter is not None:
            self.delivery.post(letter)
        if isinstance(said, Pressed):
            self.delivery.answer_press(said.query, notice)


def _answer(
    work: Work,
    said: Said,
    now: datetime,
    update_id: int,
    plans: Plans,
    file: SentFile | None,
) -> Letter | None:
    code = code_in(said)
    if code is not None and (letter := join(work, said, code, now, update_id)) is not None:
        return letter
    places = work.register.memberships_of(said.account)
    if not places:
        return greet(work, said.chat, now, update_id)
    place, message = f"telegram:{said.chat}", str(said.message_id)
    member = _meant(work, places, said, place, message)
    incoming = Incoming(
        said.text,
        said.at,
        now,
        kind=said.kind,
        place=place,
        # With the message, since update ids may begin anew.
        key=f"update:{update_id}:{said.chat}:{message}",
        message=message,
        private=said.private,
        file=file or _not_fetched(said),
    )
    answer = take(work.book(member.class_id), member, incoming, plans)
    return _send(work, member, answer, said, update_id)


def _not_fetched(said: Said) -> SentFile | None:
    """A file that was left where it is, being too big."""
    return SentFile(said.file.name, trouble="too_big") if said.file is not None else None


def _meant(work: Work, places: tuple[Member, ...], said: Said, place: str, message: str) -> Member:
    """The newest place a sender holds; for an edit, the one in which the message was read."""
    if said.kind == "edit" and len(places) > 1:
        for member in places:
            if work.book(member.class_id).entry_of_message(place, message) is not None:
                return member
    return places[-1]


def _press(
    work: Work, pressed: Pressed, now: datetime, update_id: int, plans: Plans
) -> tuple[Letter | None, str | None]:
    """The reply to a press, and what is shown at once where the button means nothing any more."""
    places = work.register.memberships_of(pressed.account)
    if not places:
        return greet(work, pressed.chat, now, update_id), None
    found = work.post.pressed(pressed.button, pressed.chat)
    member = next((m for m in places if found is not None and m.class_id == found[1]), None)
    if found is None or member is None:
        return None, OLD_BUTTON
    book = work.book(member.class_id)
    incoming = Incoming(
        found[0],
        now,  # a press carries no time of its own
        now,
        kind="button",
        place=f"telegram:{pressed.chat}",
        key=_press_key(book, pressed),
        private=pressed.private,
    )
    return _send(work, member, take(book, member, incoming, plans), pressed, update_id), None


def _press_key(book: ClassBook, pressed: Pressed) -> str:
    """One key for every press of a button, so that it acts once; the next in line where acting
    again is what is wanted: the press before only told something, or what it did was taken back."""
    first = key = f"press:{pressed.chat}:{pressed.button}"
    before = book.entry_by_key(key)
    while before is not None and not _stands(before):
        key = f"{first}:{before.id}"
        before = book.entry_by_key(key)
    return key


def _stands(before: Entry) -> bool:
    return before.outcome in (DONE, ASKED) and before.undone_by is None


def _send(
    work: Work, member: Member, answer: Answer, said: Said | Pressed, update_id: int
) -> Letter:
    choices = [(choice.label, choice.send) for choice in answer.reply.choices]
    return work.post.send(
        said.chat,
        answer.reply.text,
        choices=choices,
        class_id=member.class_id,
        update_id=update_id,
    )
