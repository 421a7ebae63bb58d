"""Supplies: the time of a count, and what comes and goes between counts."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("counts", schema=None) as batch_op:
        batch_op.add_column(sa.Column("counted_at", sa.Time(), nullable=True))
        batch_op.add_column(
            sa.Column("learns", sa.Boolean(), nullable=False, server_default=sa.true())
        )

    op.create_table(
        "moves",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("supply_id", sa.Integer(), nullable=False),
        sa.Column("amount", sa.Float(), nullable=False),
        sa.Column("kind", sa.String(length=16), nullable=False),
        sa.Column("moved_on", sa.Date(), nullable=False),
        sa.Column("moved_at", sa.Time(), nullable=True),
        sa.Column("tub", sa.Integer(), nullable=True),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.Column("voided_by", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["class_id"], ["classes.id"], name=op.f("fk_moves_class_id_classes")
        ),
        sa.ForeignKeyConstraint(["made_by"], ["entries.id"], name=op.f("fk_moves_made_by_entries")),
        sa.ForeignKeyConstraint(
            ["supply_id"], ["supplies.id"], name=op.f("fk_moves_supply_id_supplies")
        ),
        sa.ForeignKeyConstraint(
            ["voided_by"], ["entries.id"], name=op.f("fk_moves_voided_by_entries")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_moves")),
    )
    with op.batch_alter_table("moves", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_moves_class_id"), ["class_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_moves_made_by"), ["made_by"], unique=False)
        batch_op.create_index(batch_op.f("ix_moves_supply_id"), ["supply_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_moves_voided_by"), ["voided_by"], unique=False)
