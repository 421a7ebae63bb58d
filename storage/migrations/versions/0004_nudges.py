"""Nudges: what was said unasked, and who wants none."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "nudging",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("member_id", sa.Integer(), nullable=False),
        sa.Column("is_on", sa.Boolean(), nullable=False),
        sa.Column("until", sa.DateTime(), nullable=True),
        sa.Column("again", sa.Integer(), nullable=True),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("voided_by", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_nudging_class_id_classes")
        ),
        sa.ForeignKeyConstraint(
            ["made_by"], ["entries.id"], name=op.f("fk_nudging_made_by_entries")
        ),
        sa.ForeignKeyConstraint(
            ["member_id"], ["members.id"], name=op.f("fk_nudging_member_id_members")
        ),
        sa.ForeignKeyConstraint(
            ["voided_by"], ["entries.id"], name=op.f("fk_nudging_voided_by_entries")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_nudging")),
    )
    with op.batch_alter_table("nudging", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_nudging_class_id"), ["class_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_nudging_made_by"), ["made_by"], unique=False)
        batch_op.create_index(batch_op.f("ix_nudging_voided_by"), ["voided_by"], unique=False)

    op.create_table(
        "nudges",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("member_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(length=16), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("about", sa.Text(), nullable=False),
        sa.Column("levels", sa.JSON(), nullable=False),
        sa.Column("due", sa.DateTime(), nullable=False),
        sa.Column("expires", sa.DateTime(), nullable=False),
        sa.Column("state", sa.String(length=8), nullable=False),
        sa.Column("at", sa.DateTime(), nullable=False),
        sa.Column("times", sa.Integer(), nullable=False),
        sa.Column("entry_id", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_nudges_class_id_classes")
        ),
        sa.ForeignKeyConstraint(
            ["entry_id"], ["entries.id"], name=op.f("fk_nudges_entry_id_entries")
        ),
        sa.ForeignKeyConstraint(
            ["member_id"], ["members.id"], name=op.f("fk_nudges_member_id_members")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_nudges")),
        sa.UniqueConstraint(
            "class_id",
            "day",
            "kind",
            "member_id",
            name=op.f("uq_nudges_class_id_day_kind_member_id"),
        ),
    )
