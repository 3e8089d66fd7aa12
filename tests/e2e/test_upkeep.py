"""Keys and backups by the program's own commands; a wrong key is one clear line and exit 2."""

from pathlib import Path

import pytest

from tests.e2e.program import weeknight

LOGGED = "plates 2x10 2x5 2x2.5 4x1.25\npin 1.25\ncrimp 4x22.5kg ok\n"


@pytest.fixture
def place(tmp_path: Path) -> dict[str, str]:
    """Settings that say where everything is: apart from the one who runs the tests."""
    return {"XDG_CONFIG_HOME": str(tmp_path / "config"), "XDG_DATA_HOME": str(tmp_path / "data")}


def test_backup_rotate_and_restore_by_command(place: dict[str, str], tmp_path: Path) -> None:
    to = str(tmp_path / "copy.bak")
    assert weeknight("chat", typed=LOGGED, **place).returncode == 0
    asked = ("next", "crimp", "--json", "--at", "2126-01-01T20:00:00+01:00")
    before = weeknight(*asked, **place).stdout
    assert "half-crimp" in before
    made = weeknight("backup", to, **place)
    assert made.returncode == 0
    assert str(tmp_path / "config" / "weeknight" / "key") in made.stdout
    assert weeknight("key", "rotate", **place).returncode == 0
    shown = weeknight("key", "show", **place).stdout.splitlines()
    assert len(shown) == 3
    assert shown[2].endswith(": 0 values sealed with it")
    refused = weeknight("restore", to, **place)
    assert refused.returncode == 2
    assert "--replace" in refused.stderr
    assert weeknight("restore", to, "--replace", **place).returncode == 0
    assert weeknight(*asked, **place).stdout == before


def test_start_without_the_right_key_is_one_clear_line(place: dict[str, str]) -> None:
    made = weeknight("key", "new", **place)
    assert weeknight("migrate", **place, WEEKNIGHT_KEY=made.stdout.strip()).returncode == 0
    other = weeknight("key", "new", **place).stdout.strip()
    for key, says in (
        ({}, "WEEKNIGHT_KEY"),
        ({"WEEKNIGHT_KEY": other}, "sealed with key"),
        ({"WEEKNIGHT_KEY": "no key"}, "weeknight key new"),
    ):
        run = weeknight("chat", typed="next\n", **place, **key)
        assert run.returncode == 2
        assert run.stdout == ""
        assert says in run.stderr
        assert len(run.stderr.strip().splitlines()) == 1
        looked = weeknight("doctor", **place, **key)
        assert looked.returncode == 1
        assert says in looked.stdout
