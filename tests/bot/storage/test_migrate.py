"""Bringing databases up to date from within the program."""

import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from alembic.config import Config
from alembic.script import ScriptDirectory
from sqlalchemy import Engine, text

from bot.errors import BadSettings
from bot.storage import migrate, pending
from bot.storage.migrate import migrations_folder


def test_pending_until_migrated(bare_engine: Engine) -> None:
    lacking = pending(bare_engine)
    assert lacking[0] == "0001"
    assert migrate(bare_engine) == lacking
    assert pending(bare_engine) == ()
    assert migrate(bare_engine) == ()


def test_pending_ends_where_alembic_sees_the_head(bare_engine: Engine) -> None:
    config = Config()
    config.set_main_option("script_location", str(migrations_folder()))
    assert pending(bare_engine)[-1] == ScriptDirectory.from_config(config).get_current_head()


def test_migrate_several_at_once_is_done_once(bare_engine: Engine) -> None:
    with ThreadPoolExecutor(3) as pool:
        done = [f.result() for f in [pool.submit(migrate, bare_engine) for _ in range(3)]]
    assert len([applied for applied in done if applied]) == 1


def test_migrate_url_of_a_file(tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path / 'with 100% name.db'}"
    assert migrate(url)
    assert migrate(url) == ()


def test_migrate_database_of_a_newer_program_is_refused(bare_engine: Engine) -> None:
    migrate(bare_engine)
    with bare_engine.begin() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    with pytest.raises(BadSettings, match="9999"):
        migrate(bare_engine)


def test_migrate_nothing_to_do_does_not_load_alembic(tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path / 'a.db'}"
    migrate(url)
    code = (
        "import sys; from bot.storage import migrate; "
        f"assert migrate({url!r}) == (); sys.exit('alembic' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], check=False, cwd=Path(__file__).parents[3])
    assert done.returncode == 0
