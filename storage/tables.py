"""The tables of the class book: SQLAlchemy Core, one vocabulary with the records.

Rows of the trade carry `made_by` (the entry that brought them) and `voided_by` (the entry that took
them back, or None while they stand). Nothing of the trade is deleted but by "forget this student".
"""

from __future__ import annotations

from datetime import UTC, datetime

from sqlalchemy import (
    JSON,
    BigInteger,
    Boolean,
    Column,
    Date,
    DateTime,
    Dialect,
    Float,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    String,
    Table,
    Text,
    Time,
    TypeDecorator,
    UniqueConstraint,
)


class UtcDateTime(TypeDecorator[datetime]):
    """An aware moment, kept in UTC: SQLite forgets zones."""

    impl = DateTime
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Turn an aware moment into naive UTC; a naive one is a mistake of ours."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError("a moment without a zone cannot be stored")
        return value.astimezone(UTC).replace(tzinfo=None)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Give the stored moment its zone back."""
        return None if value is None else value.replace(tzinfo=UTC)


CELL = 1000  # letters that one cell of a class folder may hold

metadata = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s_%(referred_table_name)s",
        "pk": "pk_%(table_name)s",
    }
)

classes = Table(
    "classes",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("name", String(CELL), nullable=False, unique=True),
    Column("time_zone", String(64), nullable=False),
    Column("digest_at", Time, nullable=False),
    Column("quiet_before", Time, nullable=False),
    Column("quiet_after", Time, nullable=False),
    Column("school_days", JSON, nullable=False),
    Column("absence_rate", Float, nullable=False),
    Column("keep_groups", String(16), nullable=False),
    Column("version", Integer, nullable=False, default=0),  # grows when the roster changes
    Column("loaded", JSON),  # the cells of the last folder, to tell what a newer one changes
)

members = Table(
    "members",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("class_id", ForeignKey("classes.id"), nullable=False, index=True),
    Column("name", String(200), nullable=False),
    Column("role", String(16), nullable=False),
    Column("account", BigInteger, index=True),
    UniqueConstraint("class_id", "name"),
)

codes = Table(
    "codes",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("member_id", ForeignKey("members.id"), nullable=False),
    Column("code", String(64), nullable=False, unique=True),
    Column("used_at", UtcDateTime),
)

entries = Table(
    "entries",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("class_id", ForeignKey("classes.id"), nullable=False),
    Column("member_id", ForeignKey("members.id")),
    Column("kind", String(16), nullable=False),  # text, button, edit, file, load, nudge
    Column("key", String(120), unique=True),  # what makes a repeated delivery the same entry
    Column("place", String(80)),  # the chat it came from
    Column("message", String(80)),  # the message in that chat, so that an edit finds it
    Column("at", UtcDateTime, nullable=False),
    Column("received_at", UtcDateTime, nullable=False),
    Column("text", Text, nullable=False),
    Column("said", Text),  # the same in full words, for corrections and for why
    Column("outcome", String(16)),
    Column("requests", JSON),
    Column("reply", Text),
    Column("result", JSON),
    Column("effect", Boolean, nullable=False, default=False),
    Column("undone_by", ForeignKey("entries.id")),
    Column("replaces", ForeignKey("entries.id")),
    Index("ix_entries_stack", "class_id", "member_id", "id"),
    Index("ix_entries_message", "class_id", "place", "message"),
)

# Partial, since most entries stand and a search for those must not go through it.
Index(
    "ix_entries_undone_by",
    entries.c.undone_by,
    sqlite_where=entries.c.undone_by.is_not(None),
    postgresql_where=entries.c.undone_by.is_not(None),
)

changes = Table(
    "changes",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("entry_id", ForeignKey("entries.id"), nullable=False, index=True),
    Column("subject", String(32), nullable=False),
    Column("row_id", Integer, nullable=False),
    Column("before", JSON, nullable=False),
    Column("after", JSON, nullable=False),
    Column("settles", Boolean, nullable=False),  # follows from stepping back; says nothing new
    Index("ix_changes_subject_row", "subject", "row_id"),
)

questions = Table(
    "questions",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("class_id", ForeignKey("classes.id"), nullable=False),
    Column("member_id", ForeignKey("members.id"), nullable=False),
    Column("place", String(80), nullable=False),
    Column("entry_id", ForeignKey("entries.id"), nullable=False),
    Column("choices", JSON, nullable=False),
    Column("frames", JSON, nullable=False),
    Column("closed", Boolean, nullable=False, default=False),
    Index("ix_questions_pending", "member_id", "place", "closed"),
)


def _of_class(name: str, *columns: Column[object] | Index) -> Table:
    """A table of the trade: rows of one class, made by one entry and perhaps voided by another."""
    return Table(
        name,
        metadata,
        Column("id", Integer, primary_key=True),
        Column("class_id", ForeignKey("classes.id"), nullable=False, index=True),
        *columns,
        Column("made_by", ForeignKey("entries.id"), nullable=False, index=True),
        Column("voided_by", ForeignKey("entries.id"), index=True),
    )


groups = _of_class("groups", Column("name", String(CELL), nullable=False))

students = _of_class(
    "students",
    Column("name", String(CELL), nullable=False),
    Column("goes_by", JSON, nullable=False),
    Column("code", String(CELL)),
    Column("avoids", JSON, nullable=False),
    Column("joined", Date),
    Column("left", Date),
    Column("position", Integer, nullable=False),
)

apart = _of_class(
    "apart",
    Column("student_id", ForeignKey("students.id"), nullable=False),
    Column("other_id", ForeignKey("students.id"), nullable=False),
)

memberships = _of_class(
    "memberships",
    Column("student_id", ForeignKey("students.id"), nullable=False),
    Column("group_id", ForeignKey("groups.id"), nullable=False),
    Column("first", Date),
    Column("last", Date),
)

bins = _of_class(
    "bins",
    Column("name", String(CELL), nullable=False),
    Column("also_called", JSON, nullable=False),
    Column("unit", String(CELL)),
    Column("standards", JSON, nullable=False),
    Column("cautions", JSON, nullable=False),
    Column("seats", Integer, nullable=False),
    Column("visits_each", Integer, nullable=False),
)

stints = _of_class(
    "stints",
    Column("bin_id", ForeignKey("bins.id"), nullable=False),
    Column("color", String(CELL), nullable=False),
    Column("opens", Date, nullable=False),
    Column("closes", Date),
    Column("seats", Integer, nullable=False),
    Column("visits_each", Integer, nullable=False),
)

supplies = _of_class(
    "supplies",
    Column("bin_id", ForeignKey("bins.id"), nullable=False),
    Column("item", String(CELL), nullable=False),
    Column("kind", String(16), nullable=False),
    Column("per_visit", Float, nullable=False),
    Column("per_tub", Float),
    Column("pack_size", Float, nullable=False),
    Column("lead_days", Integer, nullable=False),
    Column("contains", JSON, nullable=False),
)

counts = _of_class(
    "counts",
    Column("supply_id", ForeignKey("supplies.id"), nullable=False, index=True),
    Column("on_hand", Float, nullable=False),
    Column("counted_on", Date, nullable=False),
    Column("counted_at", Time),  # None: by the end of that day
    Column("learns", Boolean, nullable=False, default=True),
)

moves = _of_class(
    "moves",
    Column("supply_id", ForeignKey("supplies.id"), nullable=False, index=True),
    Column("amount", Float, nullable=False),
    Column("kind", String(16), nullable=False),  # added, found, lost, wanted
    Column("moved_on", Date, nullable=False),
    Column("moved_at", Time),
    Column("tub", Integer),
)

stations = _of_class(
    "stations",
    Column("name", String(CELL), nullable=False),
    Column("seats", Integer),
)

rotations = _of_class(
    "rotations",
    Column("weekday", Integer, nullable=False),
    Column("starts", Time, nullable=False),
    Column("minutes", Integer, nullable=False),
)

aways = _of_class(
    "aways",
    Column("student_id", ForeignKey("students.id"), nullable=False),
    Column("first", Date),
    Column("last", Date),
    Column("weekday", Integer),
    Column("starts", Time),
    Column("ends", Time),
    Column("reason", String(CELL)),
)

closures = _of_class(
    "closures",
    Column("day", Date, nullable=False),
    Column("reason", String(CELL), nullable=False),
    Column("starts", Time),
    Column("ends", Time),
)

extras = _of_class(
    "extras",
    Column("day", Date, nullable=False),
    Column("starts", Time, nullable=False),
    Column("minutes", Integer, nullable=False),
)

announcements = _of_class(
    "announcements",
    Column("day", Date, nullable=False),
    Column("starts", Time, nullable=False),
    Column("places", JSON, nullable=False),  # [stint or station, its id, [student ids]], in order
    Index("ix_announcements_day", "class_id", "day"),
)

units = _of_class(
    "units",
    Column("name", String(CELL), nullable=False),
    Column("first", Date),
    Column("last", Date),
    Column("standards", JSON, nullable=False),
)

nudging = _of_class(
    "nudging",  # who wants nudges: the newest that stands counts
    Column("member_id", ForeignKey("members.id"), nullable=False),
    Column("is_on", Boolean, nullable=False),
    Column("until", UtcDateTime),  # off till then; empty: till told otherwise
    Column("again", Integer),  # the nudge that is to come once more then
)

claims = Table(
    "claims",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("class_id", ForeignKey("classes.id"), nullable=False),
    Column("student_id", ForeignKey("students.id"), nullable=False),
    Column("stint_id", ForeignKey("stints.id"), nullable=False),
    Column("day", Date, nullable=False),
    Column("rotation", Time),
    Column("made_by", ForeignKey("entries.id"), nullable=False, index=True),
    Column("voided_by", ForeignKey("entries.id")),
    Index("ix_claims_needs", "stint_id", "voided_by", "student_id", "day"),
    Index("ix_claims_student", "student_id", "stint_id", "day"),
    Index("ix_claims_day", "class_id", "day"),
)

# What travels: updates as they came in, replies as they are to go out, who knocks without a code.

updates = Table(
    "updates",
    metadata,
    Column("id", BigInteger, primary_key=True, autoincrement=False),
    Column("raw", Text, nullable=False),  # empty once handled: names are kept in one place only
    Column("received_at", UtcDateTime, nullable=False),
    Column("state", String(8), nullable=False, index=True),  # waiting, handled, dead
    Column("fault", String(200)),
)

outbox = Table(
    "outbox",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("chat", BigInteger, nullable=False),
    Column("class_id", ForeignKey("classes.id")),  # the class a button is read against
    Column("update_id", BigInteger),
    Column("text", Text, nullable=False),
    Column("choices", JSON, nullable=False),  # buttons: [label, text to send], in order
    Column("state", String(8), nullable=False, index=True),  # waiting, sent, failed
    Column("message", BigInteger),
)

# A nudge is claimed by writing its row: at most one of a kind on a day for a member, ever.
nudges = Table(
    "nudges",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("class_id", ForeignKey("classes.id"), nullable=False),
    Column("member_id", ForeignKey("members.id"), nullable=False),
    Column("kind", String(16), nullable=False),
    Column("day", Date, nullable=False),  # in the class's zone
    Column("about", Text, nullable=False),
    Column("levels", JSON, nullable=False),  # how bad each thing was that it told of
    Column("due", UtcDateTime, nullable=False),
    Column("expires", UtcDateTime, nullable=False),
    Column("state", String(8), nullable=False),  # sent, nothing, late, enough, off
    Column("at", UtcDateTime, nullable=False),  # when it was sent last, or passed over
    Column("times", Integer, nullable=False),  # sent, with those asked for once more
    Column("entry_id", ForeignKey("entries.id")),
    UniqueConstraint("class_id", "day", "kind", "member_id"),
)

strangers = Table(
    "strangers",
    metadata,
    Column("chat", BigInteger, primary_key=True, autoincrement=False),
    Column("greeted_at", UtcDateTime),
    Column("since", UtcDateTime),  # when the hour began in which guesses at a code are counted
    Column("guesses", Integer, nullable=False),
)

OF_CLASS: dict[str, Table] = {
    table.name: table
    for table in (
        groups,
        students,
        apart,
        memberships,
        bins,
        stints,
        supplies,
        counts,
        moves,
        stations,
        rotations,
        aways,
        closures,
        extras,
        announcements,
        units,
        nudging,
        claims,
    )
}
