"""The class book: classes, rosters, visits, the journal, the post."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "classes",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(length=1000), nullable=False),
        sa.Column("time_zone", sa.String(length=64), nullable=False),
        sa.Column("digest_at", sa.Time(), nullable=False),
        sa.Column("quiet_before", sa.Time(), nullable=False),
        sa.Column("quiet_after", sa.Time(), nullable=False),
        sa.Column("school_days", sa.JSON(), nullable=False),
        sa.Column("absence_rate", sa.Float(), nullable=False),
        sa.Column("keep_groups", sa.String(length=16), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("loaded", sa.JSON(), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_classes")),
        sa.UniqueConstraint("name", name=op.f("uq_classes_name")),
    )
    op.create_table(
        "outbox",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("chat", sa.BigInteger(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=True),
        sa.Column("update_id", sa.BigInteger(), nullable=True),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("choices", sa.JSON(), nullable=False),
        sa.Column("state", sa.String(length=8), nullable=False),
        sa.Column("message", sa.BigInteger(), nullable=True),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_outbox_class_id_classes")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_outbox")),
    )
    with op.batch_alter_table("outbox", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_outbox_state"), ["state"], unique=False)

    op.create_table(
        "updates",
        sa.Column("id", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("raw", sa.Text(), nullable=False),
        sa.Column("received_at", sa.DateTime(), nullable=False),
        sa.Column("state", sa.String(length=8), nullable=False),
        sa.Column("fault", sa.String(length=200), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_updates")),
    )
    with op.batch_alter_table("updates", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_updates_state"), ["state"], unique=False)

    op.create_table(
        "strangers",
        sa.Column("chat", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("greeted_at", sa.DateTime(), nullable=True),
        sa.Column("since", sa.DateTime(), nullable=True),
        sa.Column("guesses", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("chat", name=op.f("pk_strangers")),
    )
    op.create_table(
        "members",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(length=200), nullable=False),
        sa.Column("role", sa.String(length=16), nullable=False),
        sa.Column("account", sa.BigInteger(), nullable=True),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_members_class_id_classes")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_members")),
        sa.UniqueConstraint("class_id", "name", name=op.f("uq_members_class_id_name")),
    )
    with op.batch_alter_table("members", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_members_account"), ["account"], unique=False)
        batch_op.create_index(batch_op.f("ix_members_class_id"), ["class_id"], unique=False)

    op.create_table(
        "codes",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("member_id", sa.Integer(), nullable=False),
        sa.Column("code", sa.String(length=64), nullable=False),
        sa.Column("used_at", sa.DateTime(), nullable=True),
        sa.ForeignKeyConstraint(
            ["member_id"], ["members.id"], name=op.f("fk_codes_member_id_members")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_codes")),
        sa.UniqueConstraint("code", name=op.f("uq_codes_code")),
    )
    op.create_table(
        "entries",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("member_id", sa.Integer(), nullable=True),
        sa.Column("kind", sa.String(length=16), nullable=False),
        sa.Column("key", sa.String(length=120), nullable=True),
        sa.Column("place", sa.String(length=80), nullable=True),
        sa.Column("message", sa.String(length=80), nullable=True),
        sa.Column("at", sa.DateTime(), nullable=False),
        sa.Column("received_at", sa.DateTime(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("said", sa.Text(), nullable=True),
        sa.Column("outcome", sa.String(length=16), nullable=True),
        sa.Column("requests", sa.JSON(), nullable=True),
        sa.Column("reply", sa.Text(), nullable=True),
        sa.Column("result", sa.JSON(), nullable=True),
        sa.Column("effect", sa.Boolean(), nullable=False),
        sa.Column("undone_by", sa.Integer(), nullable=True),
        sa.Column("replaces", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_entries_class_id_classes")
        ),
        sa.ForeignKeyConstraint(
            ["member_id"], ["members.id"], name=op.f("fk_entries_member_id_members")
        ),
        sa.ForeignKeyConstraint(
            ["replaces"], ["entries.id"], name=op.f("fk_entries_replaces_entries")
        ),
        sa.ForeignKeyConstraint(
            ["undone_by"], ["entries.id"], name=op.f("fk_entries_undone_by_entries")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_entries")),
        sa.UniqueConstraint("key", name=op.f("uq_entries_key")),
    )
    with op.batch_alter_table("entries", schema=None) as batch_op:
        batch_op.create_index("ix_entries_message", ["class_id", "place", "message"], unique=False)
        batch_op.create_index("ix_entries_stack", ["class_id", "member_id", "id"], unique=False)
        batch_op.create_index(
            "ix_entries_undone_by",
            ["undone_by"],
            unique=False,
            sqlite_where=sa.text("undone_by IS NOT NULL"),
            postgresql_where=sa.text("undone_by IS NOT NULL"),
        )

    op.create_table(
        "bins",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(length=1000), nullable=False),
        sa.Column("also_called", sa.JSON(), nullable=False),
        sa.Column("unit", sa.String(length=1000), nullable=True),
        sa.Column("standards", sa.JSON(), nullable=False),
        sa.Column("cautions", sa.JSON(), nullable=False),
        sa.Column("seats", sa.Integer(), nullable=False),
        sa.Column("visits_each", sa.Integer(), nullable=False),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("voided_by", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_bins_class_id_classes")
        ),
        sa.ForeignKeyConstraint(["made_by"], ["entries.id"], name=op.f("fk_bins_made_by_entries")),
        sa.ForeignKeyConstraint(
            ["voided_by"], ["entries.id"], name=op.f("fk_bins_voided_by_entries")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_bins")),
    )
    with op.batch_alter_table("bins", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_bins_class_id"), ["class_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_bins_made_by"), ["made_by"], unique=False)
        batch_op.create_index(batch_op.f("ix_bins_voided_by"), ["voided_by"], unique=False)

    op.create_table(
        "changes",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("entry_id", sa.Integer(), nullable=False),
        sa.Column("subject", sa.String(length=32), nullable=False),
        sa.Column("row_id", sa.Integer(), nullable=False),
        sa.Column("before", sa.JSON(), nullable=False),
        sa.Column("after", sa.JSON(), nullable=False),
        sa.Column("settles", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(
            ["entry_id"], ["entries.id"], name=op.f("fk_changes_entry_id_entries")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_changes")),
    )
    with op.batch_alter_table("changes", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_changes_entry_id"), ["entry_id"], unique=False)
        batch_op.create_index("ix_changes_subject_row", ["subject", "row_id"], unique=False)

    op.create_table(
        "closures",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("reason", sa.String(length=1000), nullable=False),
        sa.Column("starts", sa.Time(), nullable=True),
        sa.Column("ends", sa.Time(), nullable=True),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("voided_by", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_closures_class_id_classes")
        ),
        sa.ForeignKeyConstraint(
            ["made_by"], ["entries.id"], name=op.f("fk_closures_made_by_entries")
        ),
        sa.ForeignKeyConstraint(
            ["voided_by"], ["entries.id"], name=op.f("fk_closures_voided_by_entries")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_closures")),
    )
    with op.batch_alter_table("closures", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_closures_class_id"), ["class_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_closures_made_by"), ["made_by"], unique=False)
        batch_op.create_index(batch_op.f("ix_closures_voided_by"), ["voided_by"], unique=False)

    op.create_table(
        "groups",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(length=1000), nullable=False),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("voided_by", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_groups_class_id_classes")
        ),
        sa.ForeignKeyConstraint(
            ["made_by"], ["entries.id"], name=op.f("fk_groups_made_by_entries")
        ),
        sa.ForeignKeyConstraint(
            ["voided_by"], ["entries.id"], name=op.f("fk_groups_voided_by_entries")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_groups")),
    )
    with op.batch_alter_table("groups", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_groups_class_id"), ["class_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_groups_made_by"), ["made_by"], unique=False)
        batch_op.create_index(batch_op.f("ix_groups_voided_by"), ["voided_by"], unique=False)

    op.create_table(
        "questions",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("member_id", sa.Integer(), nullable=False),
        sa.Column("place", sa.String(length=80), nullable=False),
        sa.Column("entry_id", sa.Integer(), nullable=False),
        sa.Column("choices", sa.JSON(), nullable=False),
        sa.Column("frames", sa.JSON(), nullable=False),
        sa.Column("closed", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_questions_class_id_classes")
        ),
        sa.ForeignKeyConstraint(
            ["entry_id"], ["entries.id"], name=op.f("fk_questions_entry_id_entries")
        ),
        sa.ForeignKeyConstraint(
            ["member_id"], ["members.id"], name=op.f("fk_questions_member_id_members")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_questions")),
    )
    with op.batch_alter_table("questions", schema=None) as batch_op:
        batch_op.create_index(
            "ix_questions_pending", ["member_id", "place", "closed"], unique=False
        )

    op.create_table(
        "rotations",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("weekday", sa.Integer(), nullable=False),
        sa.Column("starts", sa.Time(), nullable=False),
        sa.Column("minutes", sa.Integer(), nullable=False),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("voided_by", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_rotations_class_id_classes")
        ),
        sa.ForeignKeyConstraint(
            ["made_by"], ["entries.id"], name=op.f("fk_rotations_made_by_entries")
        ),
        sa.ForeignKeyConstraint(
            ["voided_by"], ["entries.id"], name=op.f("fk_rotations_voided_by_entries")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_rotations")),
    )
    with op.batch_alter_table("rotations", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_rotations_class_id"), ["class_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_rotations_made_by"), ["made_by"], unique=False)
        batch_op.create_index(batch_op.f("ix_rotations_voided_by"), ["voided_by"], unique=False)

    op.create_table(
        "stations",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(length=1000), nullable=False),
        sa.Column("seats", sa.Integer(), nullable=True),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("voided_by", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_stations_class_id_classes")
        ),
        sa.ForeignKeyConstraint(
            ["made_by"], ["entries.id"], name=op.f("fk_stations_made_by_entries")
        ),
        sa.ForeignKeyConstraint(
            ["voided_by"], ["entries.id"], name=op.f("fk_stations_voided_by_entries")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stations")),
    )
    with op.batch_alter_table("stations", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_stations_class_id"), ["class_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_stations_made_by"), ["made_by"], unique=False)
        batch_op.create_index(batch_op.f("ix_stations_voided_by"), ["voided_by"], unique=False)

    op.create_table(
        "students",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(length=1000), nullable=False),
        sa.Column("goes_by", sa.JSON(), nullable=False),
        sa.Column("code", sa.String(length=1000), nullable=True),
        sa.Column("avoids", sa.JSON(), nullable=False),
        sa.Column("joined", sa.Date(), nullable=True),
        sa.Column("left", sa.Date(), nullable=True),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("voided_by", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_students_class_id_classes")
        ),
        sa.ForeignKeyConstraint(
            ["made_by"], ["entries.id"], name=op.f("fk_students_made_by_entries")
        ),
        sa.ForeignKeyConstraint(
            ["voided_by"], ["entries.id"], name=op.f("fk_students_voided_by_entries")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_students")),
    )
    with op.batch_alter_table("students", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_students_class_id"), ["class_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_students_made_by"), ["made_by"], unique=False)
        batch_op.create_index(batch_op.f("ix_students_voided_by"), ["voided_by"], unique=False)

    op.create_table(
        "units",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(length=1000), nullable=False),
        sa.Column("first", sa.Date(), nullable=True),
        sa.Column("last", sa.Date(), nullable=True),
        sa.Column("standards", sa.JSON(), nullable=False),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("voided_by", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_units_class_id_classes")
        ),
        sa.ForeignKeyConstraint(["made_by"], ["entries.id"], name=op.f("fk_units_made_by_entries")),
        sa.ForeignKeyConstraint(
            ["voided_by"], ["entries.id"], name=op.f("fk_units_voided_by_entries")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_units")),
    )
    with op.batch_alter_table("units", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_units_class_id"), ["class_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_units_made_by"), ["made_by"], unique=False)
        batch_op.create_index(batch_op.f("ix_units_voided_by"), ["voided_by"], unique=False)

    op.create_table(
        "apart",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("student_id", sa.Integer(), nullable=False),
        sa.Column("other_id", sa.Integer(), nullable=False),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("voided_by", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_apart_class_id_classes")
        ),
        sa.ForeignKeyConstraint(["made_by"], ["entries.id"], name=op.f("fk_apart_made_by_entries")),
        sa.ForeignKeyConstraint(
            ["other_id"], ["students.id"], name=op.f("fk_apart_other_id_students")
        ),
        sa.ForeignKeyConstraint(
            ["student_id"], ["students.id"], name=op.f("fk_apart_student_id_students")
        ),
        sa.ForeignKeyConstraint(
            ["voided_by"], ["entries.id"], name=op.f("fk_apart_voided_by_entries")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_apart")),
    )
    with op.batch_alter_table("apart", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_apart_class_id"), ["class_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_apart_made_by"), ["made_by"], unique=False)
        batch_op.create_index(batch_op.f("ix_apart_voided_by"), ["voided_by"], unique=False)

    op.create_table(
        "aways",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("student_id", sa.Integer(), nullable=False),
        sa.Column("first", sa.Date(), nullable=True),
        sa.Column("last", sa.Date(), nullable=True),
        sa.Column("weekday", sa.Integer(), nullable=True),
        sa.Column("starts", sa.Time(), nullable=True),
        sa.Column("ends", sa.Time(), nullable=True),
        sa.Column("reason", sa.String(length=1000), nullable=True),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("voided_by", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_aways_class_id_classes")
        ),
        sa.ForeignKeyConstraint(["made_by"], ["entries.id"], name=op.f("fk_aways_made_by_entries")),
        sa.ForeignKeyConstraint(
            ["student_id"], ["students.id"], name=op.f("fk_aways_student_id_students")
        ),
        sa.ForeignKeyConstraint(
            ["voided_by"], ["entries.id"], name=op.f("fk_aways_voided_by_entries")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_aways")),
    )
    with op.batch_alter_table("aways", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_aways_class_id"), ["class_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_aways_made_by"), ["made_by"], unique=False)
        batch_op.create_index(batch_op.f("ix_aways_voided_by"), ["voided_by"], unique=False)

    op.create_table(
        "memberships",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("student_id", sa.Integer(), nullable=False),
        sa.Column("group_id", sa.Integer(), nullable=False),
        sa.Column("first", sa.Date(), nullable=True),
        sa.Column("last", sa.Date(), nullable=True),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("voided_by", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_memberships_class_id_classes")
        ),
        sa.ForeignKeyConstraint(
            ["group_id"], ["groups.id"], name=op.f("fk_memberships_group_id_groups")
        ),
        sa.ForeignKeyConstraint(
            ["made_by"], ["entries.id"], name=op.f("fk_memberships_made_by_entries")
        ),
        sa.ForeignKeyConstraint(
            ["student_id"], ["students.id"], name=op.f("fk_memberships_student_id_students")
        ),
        sa.ForeignKeyConstraint(
            ["voided_by"], ["entries.id"], name=op.f("fk_memberships_voided_by_entries")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_memberships")),
    )
    with op.batch_alter_table("memberships", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_memberships_class_id"), ["class_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_memberships_made_by"), ["made_by"], unique=False)
        batch_op.create_index(batch_op.f("ix_memberships_voided_by"), ["voided_by"], unique=False)

    op.create_table(
        "stints",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("bin_id", sa.Integer(), nullable=False),
        sa.Column("color", sa.String(length=1000), nullable=False),
        sa.Column("opens", sa.Date(), nullable=False),
        sa.Column("closes", sa.Date(), nullable=True),
        sa.Column("seats", sa.Integer(), nullable=False),
        sa.Column("visits_each", sa.Integer(), nullable=False),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("voided_by", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(["bin_id"], ["bins.id"], name=op.f("fk_stints_bin_id_bins")),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_stints_class_id_classes")
        ),
        sa.ForeignKeyConstraint(
            ["made_by"], ["entries.id"], name=op.f("fk_stints_made_by_entries")
        ),
        sa.ForeignKeyConstraint(
            ["voided_by"], ["entries.id"], name=op.f("fk_stints_voided_by_entries")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stints")),
    )
    with op.batch_alter_table("stints", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_stints_class_id"), ["class_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_stints_made_by"), ["made_by"], unique=False)
        batch_op.create_index(batch_op.f("ix_stints_voided_by"), ["voided_by"], unique=False)

    op.create_table(
        "supplies",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("bin_id", sa.Integer(), nullable=False),
        sa.Column("item", sa.String(length=1000), nullable=False),
        sa.Column("kind", sa.String(length=16), nullable=False),
        sa.Column("per_visit", sa.Float(), nullable=False),
        sa.Column("per_tub", sa.Float(), nullable=True),
        sa.Column("pack_size", sa.Float(), nullable=False),
        sa.Column("lead_days", sa.Integer(), nullable=False),
        sa.Column("contains", sa.JSON(), nullable=False),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("voided_by", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(["bin_id"], ["bins.id"], name=op.f("fk_supplies_bin_id_bins")),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_supplies_class_id_classes")
        ),
        sa.ForeignKeyConstraint(
            ["made_by"], ["entries.id"], name=op.f("fk_supplies_made_by_entries")
        ),
        sa.ForeignKeyConstraint(
            ["voided_by"], ["entries.id"], name=op.f("fk_supplies_voided_by_entries")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_supplies")),
    )
    with op.batch_alter_table("supplies", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_supplies_class_id"), ["class_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_supplies_made_by"), ["made_by"], unique=False)
        batch_op.create_index(batch_op.f("ix_supplies_voided_by"), ["voided_by"], unique=False)

    op.create_table(
        "claims",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("student_id", sa.Integer(), nullable=False),
        sa.Column("stint_id", sa.Integer(), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("rotation", sa.Time(), nullable=True),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("voided_by", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_claims_class_id_classes")
        ),
        sa.ForeignKeyConstraint(
            ["made_by"], ["entries.id"], name=op.f("fk_claims_made_by_entries")
        ),
        sa.ForeignKeyConstraint(
            ["stint_id"], ["stints.id"], name=op.f("fk_claims_stint_id_stints")
        ),
        sa.ForeignKeyConstraint(
            ["student_id"], ["students.id"], name=op.f("fk_claims_student_id_students")
        ),
        sa.ForeignKeyConstraint(
            ["voided_by"], ["entries.id"], name=op.f("fk_claims_voided_by_entries")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_claims")),
    )
    with op.batch_alter_table("claims", schema=None) as batch_op:
        batch_op.create_index("ix_claims_day", ["class_id", "day"], unique=False)
        batch_op.create_index(batch_op.f("ix_claims_made_by"), ["made_by"], unique=False)
        batch_op.create_index(
            "ix_claims_needs", ["stint_id", "voided_by", "student_id", "day"], unique=False
        )
        batch_op.create_index("ix_claims_student", ["student_id", "stint_id", "day"], unique=False)

    op.create_table(
        "counts",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("supply_id", sa.Integer(), nullable=False),
        sa.Column("on_hand", sa.Float(), nullable=False),
        sa.Column("counted_on", sa.Date(), nullable=False),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("voided_by", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_counts_class_id_classes")
        ),
        sa.ForeignKeyConstraint(
            ["made_by"], ["entries.id"], name=op.f("fk_counts_made_by_entries")
        ),
        sa.ForeignKeyConstraint(
            ["supply_id"], ["supplies.id"], name=op.f("fk_counts_supply_id_supplies")
        ),
        sa.ForeignKeyConstraint(
            ["voided_by"], ["entries.id"], name=op.f("fk_counts_voided_by_entries")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_counts")),
    )
    with op.batch_alter_table("counts", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_counts_class_id"), ["class_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_counts_made_by"), ["made_by"], unique=False)
        batch_op.create_index(batch_op.f("ix_counts_supply_id"), ["supply_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_counts_voided_by"), ["voided_by"], unique=False)
