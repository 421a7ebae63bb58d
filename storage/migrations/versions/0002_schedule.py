"""Extra rotations, and what was told of a day's rotations."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "announcements",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("starts", sa.Time(), nullable=False),
        sa.Column("places", sa.JSON(), nullable=False),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("voided_by", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_announcements_class_id_classes")
        ),
        sa.ForeignKeyConstraint(
            ["made_by"], ["entries.id"], name=op.f("fk_announcements_made_by_entries")
        ),
        sa.ForeignKeyConstraint(
            ["voided_by"], ["entries.id"], name=op.f("fk_announcements_voided_by_entries")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_announcements")),
    )
    with op.batch_alter_table("announcements", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_announcements_class_id"), ["class_id"], unique=False)
        batch_op.create_index("ix_announcements_day", ["class_id", "day"], unique=False)
        batch_op.create_index(batch_op.f("ix_announcements_made_by"), ["made_by"], unique=False)
        batch_op.create_index(batch_op.f("ix_announcements_voided_by"), ["voided_by"], unique=False)

    op.create_table(
        "extras",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("starts", sa.Time(), nullable=False),
        sa.Column("minutes", sa.Integer(), nullable=False),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("voided_by", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_extras_class_id_classes")
        ),
        sa.ForeignKeyConstraint(
            ["made_by"], ["entries.id"], name=op.f("fk_extras_made_by_entries")
        ),
        sa.ForeignKeyConstraint(
            ["voided_by"], ["entries.id"], name=op.f("fk_extras_voided_by_entries")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_extras")),
    )
    with op.batch_alter_table("extras", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_extras_class_id"), ["class_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_extras_made_by"), ["made_by"], unique=False)
        batch_op.create_index(batch_op.f("ix_extras_voided_by"), ["voided_by"], unique=False)
