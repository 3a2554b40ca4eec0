"""Takes a database from whatever version made it to this one."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import Connection, inspect, text

from bot.storage import trouble

if TYPE_CHECKING:
    from alembic.config import Config

HEAD = "0005"
"""The newest step; a database that has taken it needs none."""
_TURN = 2026_08_03  # any number, the same in every worker: one migrates, the others wait and find it done


def upgrade(connection: Connection) -> None:
    """Take every missing step, within the open transaction. Raises DatabaseTroubleError for a newer one."""
    if connection.dialect.name == "postgresql":
        connection.execute(text("SELECT pg_advisory_xact_lock(:turn)"), {"turn": _TURN})
    taken = version(connection)
    if taken == HEAD:
        return
    # Alembic takes a while to load: only when there is a step to take.
    from alembic import command

    config = configuration(connection)
    if taken is not None:
        _refuse_newer(connection, config, taken)
    command.upgrade(config, "head")


def check(connection: Connection) -> None:
    """Take no step. Raises DatabaseTroubleError for a database that has not taken exactly those of this version."""
    taken = version(connection)
    if taken is None:
        raise trouble.sentence(connection.engine.url, trouble.NO_BOOKS)
    if taken != HEAD:
        _refuse_newer(connection, configuration(connection), taken)
        raise trouble.sentence(connection.engine.url, trouble.OLDER)


def _refuse_newer(connection: Connection, config: Config, taken: str) -> None:
    from alembic.script import ScriptDirectory

    steps = {step.revision for step in ScriptDirectory.from_config(config).walk_revisions()}
    if taken not in steps:
        raise trouble.sentence(connection.engine.url, trouble.NEWER)


def version(connection: Connection) -> str | None:
    """The newest step that the database has taken; None for an empty one."""
    if not inspect(connection).has_table("alembic_version"):
        return None
    taken: str | None = connection.execute(text("SELECT version_num FROM alembic_version")).scalar()
    return taken


def configuration(connection: Connection) -> Config:
    """Alembic's settings for this connection, without a file."""
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(Path(__file__).parent / "migrations").replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    config.attributes["connection"] = connection
    return config
