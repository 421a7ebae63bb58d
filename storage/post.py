"""The post: updates kept before they are acknowledged, replies kept until they are sent."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection, func, select

from storage.tables import buttons, outbox, updates


@dataclass(frozen=True, slots=True)
class Letter:
    """A reply on its way out; `buttons` are (row id, label) in order."""

    id: int
    chat: int
    kind: str
    text: str
    buttons: tuple[tuple[int, str], ...]
    notice_for: str | None


@dataclass(frozen=True)
class Post:
    """Durable intake and outbox."""

    connection: Connection

    def keep(self, raw: Sequence[tuple[int, str]], now: datetime) -> None:
        """Store updates as they came; one that is known already is left as it is."""
        ids = [update_id for update_id, _ in raw]
        known = set(self.connection.scalars(select(updates.c.id).where(updates.c.id.in_(ids))))
        fresh = [
            {"id": update_id, "raw": text, "received_at": now, "state": "waiting"}
            for update_id, text in dict(raw).items()
            if update_id not in known
        ]
        if fresh:
            self.connection.execute(updates.insert(), fresh)

    def waiting(self) -> tuple[tuple[int, str, datetime], ...]:
        """Updates that were kept and not yet handled, oldest first: id, raw, received at."""
        query = (
            select(updates.c.id, updates.c.raw, updates.c.received_at)
            .where(updates.c.state == "waiting")
            .order_by(updates.c.id)
        )
        return tuple((row.id, row.raw, row.received_at) for row in self.connection.execute(query))

    def is_waiting(self, update_id: int) -> bool:
        """Whether an update still has to be handled."""
        query = select(updates.c.state).where(updates.c.id == update_id)
        return self.connection.execute(query).scalar() == "waiting"

    def mark_handled(self, update_id: int) -> None:
        """The effects of this update are in the same unit of work."""
        query = updates.update().where(updates.c.id == update_id)
        self.connection.execute(query, {"state": "handled"})

    def mark_dead(self, update_id: int, fault: str) -> None:
        """Keep an update that nothing can be made of, with the kind of fault."""
        query = updates.update().where(updates.c.id == update_id)
        self.connection.execute(query, {"state": "dead", "fault": fault})

    def dead(self) -> tuple[tuple[int, str], ...]:
        """The updates nothing could be made of: id and kind of fault."""
        query = select(updates.c.id, updates.c.fault).where(updates.c.state == "dead")
        return tuple((row.id, row.fault) for row in self.connection.execute(query))

    def next_offset(self) -> int | None:
        """The offset to ask for next: one above the highest update kept; None at the start."""
        highest = self.connection.execute(select(func.max(updates.c.id))).scalar()
        return None if highest is None else highest + 1

    def send(
        self,
        chat: int,
        text: str,
        *,
        choices: Sequence[tuple[str, str]] = (),
        update_id: int | None = None,
        kind: str = "message",
        notice_for: str | None = None,
    ) -> Letter:
        """Put a reply into the outbox, its choices as (label, text to send) pairs."""
        row: dict[str, object] = {
            "chat": chat,
            "update_id": update_id,
            "kind": kind,
            "text": text,
            "buttons": [],
            "notice_for": notice_for,
            "state": "waiting",
        }
        key = self.connection.execute(outbox.insert(), row).inserted_primary_key
        assert key is not None
        letter_id = int(key[0])
        made = tuple((self._button(letter_id, *choice), choice[0]) for choice in choices)
        if made:
            self.connection.execute(
                outbox.update().where(outbox.c.id == letter_id), {"buttons": made}
            )
        return Letter(letter_id, chat, kind, text, made, notice_for)

    def _button(self, letter_id: int, label: str, send: str) -> int:
        row = {"outbox_id": letter_id, "label": label, "send": send}
        key = self.connection.execute(buttons.insert(), row).inserted_primary_key
        assert key is not None
        return int(key[0])

    def unsent(self) -> tuple[Letter, ...]:
        """Replies that have not been sent, oldest first."""
        query = select(outbox).where(outbox.c.state == "waiting").order_by(outbox.c.id)
        return tuple(
            Letter(
                row.id,
                row.chat,
                row.kind,
                row.text,
                tuple((button, label) for button, label in row.buttons),
                row.notice_for,
            )
            for row in self.connection.execute(query)
        )

    def mark_sent(self, letter_id: int, message: int | None) -> None:
        """The platform has taken this reply."""
        query = outbox.update().where(outbox.c.id == letter_id)
        self.connection.execute(query, {"state": "sent", "message": message})

    def mark_failed(self, letter_id: int) -> None:
        """The platform refuses this reply for good (a chat that blocked the bot, say)."""
        query = outbox.update().where(outbox.c.id == letter_id)
        self.connection.execute(query, {"state": "failed"})

    def pressed(self, button_id: int, chat: int) -> str | None:
        """The text behind a button, where it was sent to this chat."""
        query = (
            select(buttons.c.send)
            .join(outbox, outbox.c.id == buttons.c.outbox_id)
            .where(buttons.c.id == button_id, outbox.c.chat == chat)
        )
        return self.connection.execute(query).scalar()
