"""How Alembic reaches the database and the tables.

The program hands over a connection (see ``bot.storage.migrate``). On the command
line say which database: ``alembic -x url=sqlite:///weeknight.db current``.
"""

from alembic import context
from alembic.util import CommandError
from sqlalchemy import Connection
from sqlmodel import SQLModel

import bot.storage.tables  # noqa: F401  (fills the metadata)
from bot.storage.engine import make_engine
from bot.storage.migrate import schema_change


def run(connection: Connection) -> None:
    """Run the migrations in the transaction that is open."""
    context.configure(
        connection=connection, target_metadata=SQLModel.metadata, render_as_batch=True
    )
    with context.begin_transaction():
        context.run_migrations()


def run_from_command_line() -> None:
    """Open the database named by ``-x url=…``."""
    url = context.get_x_argument(as_dictionary=True).get("url")
    if not isinstance(url, str):
        raise CommandError("say which database: alembic -x url=sqlite:///file.db …")
    engine = make_engine(url)
    try:
        with schema_change(engine) as connection:
            run(connection)
    finally:
        engine.dispose()


given = context.config.attributes.get("connection")
if given is None:
    run_from_command_line()
else:
    run(given)
