"""What Alembic runs for every step: it works on the connection handed in, within its transaction."""

from __future__ import annotations

from alembic import context

from bot.storage.tables import groups

context.configure(
    connection=context.config.attributes["connection"], target_metadata=groups.metadata, render_as_batch=True
)
with context.begin_transaction():
    context.run_migrations()
