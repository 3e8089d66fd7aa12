"""The migrations make exactly the tables the program expects, and can be taken back."""

from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path

import pytest
from alembic import command
from alembic.config import Config
from alembic.script import ScriptDirectory
from alembic.util import CommandError
from sqlalchemy import Engine, inspect

from bot.ports import Chat, Outgoing
from bot.storage import SqlStore, make_engine, migrate
from bot.storage.migrate import migrations_folder, schema_change
from core.facts import BodyWeighed, Entry

NOW = datetime(2026, 3, 2, 18, 30, tzinfo=UTC)
TABLES = {"athlete", "fact", "inbox", "outbox", "due", "lease", "sealing", "account", "chat_turn"}
TABLES |= {"alembic_version"}


@pytest.fixture
def config() -> Config:
    config = Config()
    config.set_main_option("script_location", str(migrations_folder()))
    return config


def run(engine: Engine, config: Config, act: str, *revision: str) -> None:
    with schema_change(engine) as connection:
        config.attributes["connection"] = connection
        getattr(command, act)(config, *revision)


def test_upgrade_then_check_finds_no_difference(bare_engine: Engine, config: Config) -> None:
    migrate(bare_engine)
    assert set(inspect(bare_engine).get_table_names()) == TABLES
    run(bare_engine, config, "check")


def tables_of(engine: Engine) -> dict[str, list[str]]:
    """Each table and index with the lines that made it; constraints may come in any order."""
    query = "SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL"
    with engine.connect() as connection:
        rows = connection.exec_driver_sql(query).all()
    # A table that was copied and renamed has its name in quotation marks.
    bare = {name: sql.replace('"', "").splitlines() for name, sql in rows}
    made = {name: sorted(line.strip(" \t,") for line in lines) for name, lines in bare.items()}
    return {name: lines for name, lines in made.items() if name != "alembic_version"}


def test_database_in_memory_has_the_tables_that_migrations_make(
    tmp_path: Path, config: Config
) -> None:
    in_memory, in_file = make_engine("sqlite://"), make_engine(f"sqlite:///{tmp_path / 'a.db'}")
    assert migrate(in_memory) == migrate(in_file)
    assert tables_of(in_memory) == tables_of(in_file)
    assert len(tables_of(in_file)) > len(TABLES)
    assert migrate(in_memory) == ()
    run(in_memory, config, "check")
    for engine in (in_memory, in_file):
        engine.dispose()


def test_check_would_find_a_difference(bare_engine: Engine, config: Config) -> None:
    migrate(bare_engine)
    with bare_engine.begin() as connection:
        connection.exec_driver_sql("DROP INDEX ix_due_moment")
    with pytest.raises(CommandError, match="ix_due_moment"):
        run(bare_engine, config, "check")


def test_upgrade_downgrade_upgrade(bare_engine: Engine, config: Config) -> None:
    migrate(bare_engine)
    run(bare_engine, config, "downgrade", "base")
    assert set(inspect(bare_engine).get_table_names()) == {"alembic_version"}
    migrate(bare_engine)
    run(bare_engine, config, "check")


def test_upgraded_database_holds_data_and_references(bare_engine: Engine) -> None:
    migrate(bare_engine)
    store = SqlStore(bare_engine)
    entry = Entry(1, 1, NOW, date(2026, 3, 2), BodyWeighed(Decimal("70.2")))
    with store.work() as work:
        mine = work.open(Chat("terminal", 1), at=NOW).athlete_id
        work.append(mine, [entry])
        work.queue(mine, [Outgoing("answer", "noted")], at=NOW)
    with store.read() as work:
        assert work.load_id(mine).entries == (entry,)


def test_revisions_are_numbered_in_one_line(config: Config) -> None:
    script = ScriptDirectory.from_config(config)
    revisions = [revision.revision for revision in script.walk_revisions()]
    assert sorted(revisions, reverse=True) == revisions
    assert len(script.get_heads()) == 1
    for revision in script.walk_revisions():
        assert Path(revision.path).name.startswith(f"{revision.revision}_")
