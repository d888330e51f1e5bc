"""The tables of the store: jobs, their revisions, the lines of their logs; people, their sessions and pairings."""

from __future__ import annotations

import sqlalchemy as sa

metadata = sa.MetaData(
    naming_convention={
        "ix": "ix_%(column_0_label)s",
        "uq": "uq_%(table_name)s_%(column_0_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s",
        "pk": "pk_%(table_name)s",
    }
)

LARGEST = 2**31 - 1
"""The largest number that a row can have, on both databases."""

jobs = sa.Table(
    "jobs",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("name", sa.Text, nullable=False),
    sa.Column("stage", sa.Text, nullable=False),
    sa.Column("is_archived", sa.Boolean, nullable=False),
    sa.Column("head", sa.Integer, nullable=False),
    sa.Column("changed_at", sa.Text, nullable=False),
)
"""One row for each job; ``head`` is the number of the revision that stands now."""

revisions = sa.Table(
    "revisions",
    metadata,
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
"""Every text that a job ever had. Rows are only added; undo moves the head."""

log_lines = sa.Table(
    "log_lines",
    metadata,
    sa.Column("job", sa.Integer, sa.ForeignKey("jobs.id"), primary_key=True),
    sa.Column("digest", sa.Text, primary_key=True),
    sa.Column("place", sa.Integer, nullable=False),
    sa.Column("line", sa.Text, nullable=False),
)
"""Lines of site logs. A line is a fact: the same line twice is one, and none is ever changed or taken away."""

people = sa.Table(
    "people",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("name", sa.Text, nullable=False),
    sa.Column("name_key", sa.Text, nullable=True, unique=True),
    sa.Column("role", sa.Text, nullable=False),
    sa.Column("passphrase_hash", sa.Text, nullable=False),
    sa.Column("is_opener", sa.Boolean, nullable=True, unique=True),
    sa.Column("made_at", sa.Text, nullable=False),
    sa.Column("ended_at", sa.Text, nullable=True),
)
"""One row for each person, kept when they leave; then ``name_key``, which nobody else may have, is let go.

``is_opener`` is true for who came first and empty for all others, so that of two who open at once one is refused.
"""

sessions = sa.Table(
    "sessions",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("digest", sa.Text, nullable=False, unique=True),
    sa.Column("person", sa.Integer, sa.ForeignKey("people.id"), nullable=True),
    sa.Column("phone", sa.Text, nullable=True),
    sa.Column("role", sa.Text, nullable=False),
    sa.Column("made_at", sa.Text, nullable=False),
    sa.Column("seen_at", sa.Text, nullable=False),
    sa.Column("ended_at", sa.Text, nullable=True),
)
"""Who is signed in, and which phones are paired. ``digest`` is of the token, which is kept nowhere but with its holder.

``role`` is the most that the holder may do by this session.
"""

pairings = sa.Table(
    "pairings",
    metadata,
    sa.Column("digest", sa.Text, primary_key=True),
    sa.Column("person", sa.Integer, sa.ForeignKey("people.id"), nullable=True),
    sa.Column("role", sa.Text, nullable=False),
    sa.Column("made_at", sa.Text, nullable=False),
    sa.Column("expires_at", sa.Text, nullable=False),
    sa.Column("used_at", sa.Text, nullable=True),
)
"""Tokens by which one phone may pair, once and soon."""

tries = sa.Table(
    "tries",
    metadata,
    sa.Column("key", sa.Text, primary_key=True),
    sa.Column("count", sa.Integer, nullable=False),
    sa.Column("since", sa.Text, nullable=False),
)
"""How often something was tried since when, such as a passphrase for one name from one address."""
