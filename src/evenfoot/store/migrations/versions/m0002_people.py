"""People, their sessions, pairings of phones, and how often a passphrase was tried."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the tables of people; no table of before is touched."""
    op.create_table(
        "people",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("name_key", sa.Text, nullable=True, unique=True),
        sa.Column("role", sa.Text, nullable=False),
        sa.Column("passphrase_hash", sa.Text, nullable=False),
        sa.Column("is_opener", sa.Boolean, nullable=True, unique=True),
        sa.Column("made_at", sa.Text, nullable=False),
        sa.Column("ended_at", sa.Text, nullable=True),
    )
    op.create_table(
        "sessions",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("digest", sa.Text, nullable=False, unique=True),
        sa.Column("person", sa.Integer, sa.ForeignKey("people.id"), nullable=True),
        sa.Column("phone", sa.Text, nullable=True),
        sa.Column("role", sa.Text, nullable=False),
        sa.Column("made_at", sa.Text, nullable=False),
        sa.Column("seen_at", sa.Text, nullable=False),
        sa.Column("ended_at", sa.Text, nullable=True),
    )
    op.create_table(
        "pairings",
        sa.Column("digest", sa.Text, primary_key=True),
        sa.Column("person", sa.Integer, sa.ForeignKey("people.id"), nullable=True),
        sa.Column("role", sa.Text, nullable=False),
        sa.Column("made_at", sa.Text, nullable=False),
        sa.Column("expires_at", sa.Text, nullable=False),
        sa.Column("used_at", sa.Text, nullable=True),
    )
    op.create_table(
        "tries",
        sa.Column("key", sa.Text, primary_key=True),
        sa.Column("count", sa.Integer, nullable=False),
        sa.Column("since", sa.Text, nullable=False),
    )


def downgrade() -> None:
    """Refuse: nothing that a carpenter saved is ever dropped."""
    raise NotImplementedError
