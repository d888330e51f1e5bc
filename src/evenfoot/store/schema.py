"""The tables of the store: jobs, their revisions, and the lines of their logs."""

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
