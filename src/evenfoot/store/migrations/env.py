"""Runs the numbered migrations over a connection that the store hands in."""

from alembic import context

from evenfoot.store.schema import metadata

connection = context.config.attributes["connection"]
context.configure(connection=connection, target_metadata=metadata, render_as_batch=True)
with context.begin_transaction():
    context.run_migrations()
