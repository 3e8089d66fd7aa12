"""Where everything is kept: SQLite in one file, or PostgreSQL, through the same queries.

``make_engine`` opens a database, ``migrate`` brings its tables up to date, and
``SqlStore`` is the store the rest of the shell uses. Start reading at ``store``;
``tables`` shows what is kept, ``rows`` how values become rows.
"""

from bot.storage.engine import make_engine
from bot.storage.migrate import migrate, pending
from bot.storage.store import SqlStore

__all__ = ["SqlStore", "make_engine", "migrate", "pending"]
