"""Jobs, their revisions, and the lines of their logs."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the first tables."""
    op.create_table(
        "jobs",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("stage", sa.Text, nullable=False),
        sa.Column("is_archived", sa.Boolean, nullable=False),
        sa.Column("head", sa.Integer, nullable=False),
        sa.Column("changed_at", sa.Text, nullable=False),
    )
    op.create_table(
        "revisions",
        sa.Column("job", sa.Integer, sa.ForeignKey("jobs.id"), primary_key=True),
        sa.Column("number", sa.Integer, primary_key=True),
        sa.Column("parent", sa.Integer, nullable=True),
        sa.Column("job_text", sa.Text, nullable=False),
        sa.Column("shop_text", sa.Text, nullable=False),
        sa.Column("digest", sa.Text, nullable=False),
        sa.Column("who", sa.Text, nullable=False),
        sa.Column("saved_at", sa.Text, nullable=False),
        sa.Column("engine", sa.Text, nullable=False),
    )
    op.create_table(
        "log_lines",
        sa.Column("job", sa.Integer, sa.ForeignKey("jobs.id"), primary_key=True),
        sa.Column("digest", sa.Text, primary_key=True),
        sa.Column("place", sa.Integer, nullable=False),
        sa.Column("line", sa.Text, nullable=False),
    )


def downgrade() -> None:
    """Refuse: nothing that a carpenter saved is ever dropped."""
    raise NotImplementedError
