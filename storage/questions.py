"""Questions that wait for an answer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import bindparam, select

from storage.of_class import OfClass
from storage.records import Question
from storage.tables import questions

_PENDING = (
    select(questions)
    .where(
        questions.c.member_id == bindparam("member_id"),
        questions.c.place == bindparam("place"),
        questions.c.closed.is_(False),
    )
    .order_by(questions.c.id.desc())
    .limit(1)
)


@dataclass(frozen=True)
class Questions(OfClass):
    """What members were asked and have not answered."""

    def ask(
        self,
        entry_id: int,
        member_id: int,
        place: str,
        choices: Sequence[tuple[str, str]],
        frames: Sequence[tuple[str, str, str]] = (),
    ) -> None:
        """Keep a question that waits for an answer of this member in this place."""
        row = {
            "class_id": self.class_id,
            "member_id": member_id,
            "place": place,
            "entry_id": entry_id,
            "choices": [list(choice) for choice in choices],
            "frames": [list(frame) for frame in frames],
            "closed": False,
        }
        self.connection.execute(questions.insert(), row)

    def pending_question(self, member_id: int, place: str) -> Question | None:
        """The newest question that this member has not answered in this place."""
        asked = {"member_id": member_id, "place": place}
        row = self.connection.execute(_PENDING, asked).first()
        if row is None:
            return None
        choices = tuple((label, send) for label, send in row.choices)
        frames = tuple((fills, text, every) for fills, text, every in row.frames)
        return Question(row.id, row.entry_id, choices, frames)

    def close_questions(self, member_id: int, place: str) -> None:
        """Drop whatever was asked: the next message is here."""
        query = questions.update().where(
            questions.c.member_id == member_id,
            questions.c.place == place,
            questions.c.closed.is_(False),
        )
        self.connection.execute(query, {"closed": True})
