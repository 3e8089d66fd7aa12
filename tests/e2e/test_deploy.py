"""What the files in deploy/ and the README say of settings is what the program knows."""

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from bot.settings import Settings

TOP = Path(__file__).parents[2]
DEPLOYED = ("deploy/Containerfile", "deploy/weeknight.service", "deploy/compose.yaml")
SETTING = re.compile(r"WEEKNIGHT_([A-Z_]*[A-Z])")
KNOWN = {name.upper() for name, f in Settings.model_fields.items() if not f.validation_alias}
OTHERS = {"VENV"}  # of the scripts in deploy/


def named_in(file: str) -> set[str]:
    return set(SETTING.findall((TOP / file).read_text(encoding="utf-8"))) - OTHERS


@pytest.mark.parametrize("file", [*DEPLOYED, "README.md"])
def test_settings_that_are_named_exist(file: str) -> None:
    names = named_in(file)
    assert len(names) > 1
    assert names <= KNOWN


def test_stopping_is_given_longer_than_the_program_takes() -> None:
    # The program ends by itself within 10 s.
    service = (TOP / "deploy/weeknight.service").read_text(encoding="utf-8")
    compose = (TOP / "deploy/compose.yaml").read_text(encoding="utf-8")
    given = [*re.findall(r"TimeoutStopSec=(\d+)", service)]
    given += re.findall(r"stop_grace_period: (\d+)s", compose)
    assert len(given) == 2
    assert all(int(seconds) > 10 for seconds in given)


@pytest.mark.skipif(shutil.which("systemd-analyze") is None, reason="systemd is not here")
def test_service_file_is_understood_by_systemd(tmp_path: Path) -> None:
    program = "/opt/weeknight/bin/weeknight"
    text = (TOP / "deploy/weeknight.service").read_text(encoding="utf-8")
    assert program in text
    copy = tmp_path / "weeknight.service"
    copy.write_text(text.replace(program, "/bin/true"), encoding="utf-8")
    run = subprocess.run(
        ["systemd-analyze", "verify", "--man=no", str(copy)],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert (run.returncode, run.stderr) == (0, "")
