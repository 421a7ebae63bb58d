"""The register: which classes there are, who may text about them, and one-time codes."""

from __future__ import annotations

import hmac
import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy import Connection, Row, bindparam, select

from storage.records import Class, Member
from storage.rosters import class_of
from storage.tables import classes, codes, members, strangers

_ALPHABET = "ABCDEFGHJKMNPQRSTUVWXYZ23456789"  # no letter that looks like a digit
OWNER = "owner"
STRANGER_HOUR = timedelta(hours=1)
MOST_GUESSES = 5  # codes a chat may try within its hour


@dataclass(frozen=True)
class Register:
    """Classes and their members."""

    connection: Connection

    def classes(self) -> tuple[Class, ...]:
        """Every class, in the order they were loaded."""
        rows = self.connection.execute(select(classes).order_by(classes.c.id))
        return tuple(class_of(row) for row in rows)

    def add_class(self, name: str, **settings: object) -> int:
        """A new class with its settings, and its owner as a member without an account yet."""
        row = {"name": name, "version": 0, **settings}
        key = self.connection.execute(classes.insert(), row).inserted_primary_key
        assert key is not None
        self.add_member(int(key[0]), OWNER, role=OWNER)
        return int(key[0])

    def add_member(self, class_id: int, name: str, *, role: str) -> Member:
        """A new member without an account."""
        row = {"class_id": class_id, "name": name, "role": role, "account": None}
        key = self.connection.execute(members.insert(), row).inserted_primary_key
        assert key is not None
        return Member(int(key[0]), class_id, name, role, None)

    def members(self, class_id: int) -> tuple[Member, ...]:
        """The members of a class, the owner first."""
        query = select(members).where(members.c.class_id == class_id).order_by(members.c.id)
        return tuple(Member(**row._mapping) for row in self.connection.execute(query))

    def member(self, class_id: int, name: str) -> Member | None:
        """A member by name, upper and lower case alike."""
        wanted = name.casefold()
        return next((m for m in self.members(class_id) if m.name.casefold() == wanted), None)

    def memberships_of(self, account: int) -> tuple[Member, ...]:
        """The places that a user of the platform holds, one for each class."""
        rows = self.connection.execute(_MEMBERSHIPS, {"of": account})
        return tuple(Member(**row._mapping) for row in rows)

    def new_code(self, member: Member) -> str:
        """A one-time code for a member without an account; it replaces the one before."""
        self.connection.execute(
            codes.delete().where(codes.c.member_id == member.id, codes.c.used_at.is_(None))
        )
        code = "-".join("".join(secrets.choice(_ALPHABET) for _ in range(4)) for _ in range(3))
        self.connection.execute(codes.insert(), {"member_id": member.id, "code": code})
        return code

    def redeem(self, text: str, account: int, now: datetime) -> Member | None:
        """Give the place behind an unused code to this account; None where no code fits.

        Whoever holds a place in that class keeps it, and the code stays good for somebody else.
        """
        said = text.strip().upper().encode()
        unused = self.connection.execute(select(codes).where(codes.c.used_at.is_(None))).all()
        fits = [row for row in unused if hmac.compare_digest(row.code.encode(), said)]
        if not fits:
            return None
        [row] = fits
        place = select(members.c.class_id).where(members.c.id == row.member_id).scalar_subquery()
        query = select(members).where(members.c.account == account, members.c.class_id == place)
        held = self.connection.execute(query).first()
        if held is not None:
            return Member(**held._mapping)
        self.connection.execute(codes.update().where(codes.c.id == row.id), {"used_at": now})
        self.connection.execute(
            members.update().where(members.c.id == row.member_id), {"account": account}
        )
        found = self.connection.execute(select(members).where(members.c.id == row.member_id)).one()
        return Member(**found._mapping)

    def may_guess(self, chat: int, now: datetime) -> bool:
        """Count one more try at a code; False where a chat has had its tries for this hour."""
        known = self._stranger(chat)
        is_new = known is None or known.since is None or known.since + STRANGER_HOUR <= now
        guesses = 1 if is_new else known.guesses + 1  # type: ignore[union-attr]  # not None here
        since = now if is_new else known.since  # type: ignore[union-attr]
        self._note_stranger(chat, known is None, since=since, guesses=guesses)
        return guesses <= MOST_GUESSES

    def may_greet(self, chat: int, now: datetime) -> bool:
        """Whether a stranger's chat is answered now (and from then on not for an hour)."""
        known = self._stranger(chat)
        greeted = None if known is None else known.greeted_at
        if greeted is not None and now < greeted + STRANGER_HOUR:
            return False
        self._note_stranger(chat, known is None, greeted_at=now)
        return True

    def _stranger(self, chat: int) -> Row[tuple[object, ...]] | None:
        return self.connection.execute(select(strangers).where(strangers.c.chat == chat)).first()

    def _note_stranger(self, chat: int, is_new: bool, **values: object) -> None:
        if is_new:
            self.connection.execute(strangers.insert(), {"chat": chat, "guesses": 0, **values})
        else:
            query = strangers.update().where(strangers.c.chat == chat)
            self.connection.execute(query, values)


_MEMBERSHIPS = select(members).where(members.c.account == bindparam("of")).order_by(members.c.id)
