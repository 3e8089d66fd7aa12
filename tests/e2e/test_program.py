"""The commands of the program, run as people and other programs run them."""

import json
from pathlib import Path

import pytest

from tests.e2e.program import weeknight

SCENARIOS = Path(__file__).parents[1] / "scenarios"


def test_parse_prints_the_contracts_json() -> None:
    run = weeknight("parse", typed="crimp 4x22kg ok\n")
    one = {
        "side": "both",
        "load_kg": 22.0,
        "band": None,
        "reps": None,
        "hold_s": None,
        "effort": "ok",
        "rpe": None,
        "left": None,
    }
    assert run.returncode == 0
    assert json.loads(run.stdout) == {
        "text": "crimp 4x22kg ok",
        "acts": [
            {
                "act": "log",
                "exercise": "half-crimp",
                "sets": [one] * 4,
                "edge_mm": None,
                "note": None,
            }
        ],
        "misread": None,
    }


def test_parse_answers_every_line_in_order_and_splits_at_written_line_breaks() -> None:
    run = weeknight("parse", typed="ok\n\nplank 3x15\\ncrimp 22\nxyzzy\n")
    rows = [json.loads(line) for line in run.stdout.splitlines()]
    assert [len(r["acts"]) for r in rows] == [1, 0, 2, 0]
    assert [r["misread"] is None for r in rows] == [True, False, True, False]
    assert rows[2]["text"] == "plank 3x15\ncrimp 22"


def test_parse_takes_units_moment_and_zone() -> None:
    at = "2026-12-01T18:00:00+01:00"
    run = weeknight(
        "parse",
        "--units",
        "lb",
        "--at",
        at,
        "--tz",
        "Europe/Oslo",
        typed="crimp 45\nmove thu 20:30\n",
    )
    log, move = (json.loads(line) for line in run.stdout.splitlines())
    assert log["acts"][0]["sets"][0]["load_kg"] == 20.412  # 45 lb = 20.41165665 kg, to the gram
    assert move["acts"] == [{"act": "move", "to": "2026-12-03T20:30"}]


@pytest.mark.parametrize(
    "words", [("--units", "stone"), ("--tz", "Europe/Atlantis"), ("--at", "soon"), ("--colour",)]
)
def test_parse_refuses_a_broken_invocation_with_exit_2(words: tuple[str, ...]) -> None:
    run = weeknight("parse", *words, typed="ok\n")
    assert run.returncode == 2
    assert run.stdout == ""
    assert "Traceback" not in run.stderr


def test_replay_then_next_follow_from_the_log(tmp_path: Path) -> None:
    db = f"sqlite:///{tmp_path / 'w.db'}"
    file = tmp_path / "one.txt"
    file.write_text(
        "zone: Europe/Oslo\nfrom: 2026-12-01 18:00\n\n"
        "2026-12-01 18:00 > plates 2x10 2x5 2x2.5 4x1.25\n"
        "2026-12-01 18:00 > pin 1.25kg\n"
        "2026-12-01 20:35 > crimp 4x22.5kg ok\n",
        encoding="utf-8",
    )
    assert weeknight("replay", str(file), "--db", db).returncode == 0
    run = weeknight("next", "crimp", "--json", "--at", "2026-12-03T20:00:00+01:00", "--db", db)
    targets = json.loads(run.stdout)
    # By hand: the next load, 23.75 kg, is 5.6 % up; so a second longer at the same load.
    assert [(t["side"], t["load_kg"], t["hold_s"], t["change"]) for t in targets] == [
        ("left", 22.5, 11, "longer"),
        ("right", 22.5, 11, "longer"),
    ]
    for target in targets:
        assert sum(target["plates_kg"]) + target["pin_kg"] == target["load_kg"]
        assert any("Tue 1 Dec" in r["text"] for r in target["reasons"])


def test_replay_check_exits_1_with_a_diff(tmp_path: Path) -> None:
    good = SCENARIOS / "at-the-wall.txt"
    assert weeknight("replay", str(good), "--check").returncode == 0
    bad = tmp_path / "bad.txt"
    bad.write_text(
        good.read_text(encoding="utf-8").replace("Wall today", "Wall never"), encoding="utf-8"
    )
    run = weeknight("replay", str(bad), "--check")
    assert run.returncode == 1
    assert any(line.startswith("-") and "Wall never" in line for line in run.stdout.splitlines())
    assert any(line.startswith("+") and "Wall today" in line for line in run.stdout.splitlines())


def test_replay_output_is_a_scenario_that_checks(tmp_path: Path) -> None:
    printed = weeknight("replay", str(SCENARIOS / "failed-week.txt")).stdout
    copy = tmp_path / "copy.txt"
    copy.write_text(printed, encoding="utf-8")
    assert weeknight("replay", str(copy), "--check").returncode == 0


def test_replay_names_the_line_of_a_malformed_scenario(tmp_path: Path) -> None:
    file = tmp_path / "odd.txt"
    file.write_text("zone: Europe/Oslo\nfrom: 2026-12-01 18:00\n\nhello\n", encoding="utf-8")
    run = weeknight("replay", str(file))
    assert run.returncode == 2
    assert "line 4" in run.stderr


def test_next_for_nobody_yet_names_no_made_up_load(tmp_path: Path) -> None:
    run = weeknight("next", "--json", "--db", f"sqlite:///{tmp_path / 'new.db'}")
    assert run.returncode == 0
    assert all(t["pin_kg"] is None for t in json.loads(run.stdout))


def test_next_refuses_an_unknown_exercise(tmp_path: Path) -> None:
    run = weeknight("next", "juggling", "--db", f"sqlite:///{tmp_path / 'new.db'}")
    assert run.returncode == 2
    assert "juggling" in run.stderr
    assert "half-crimp" in run.stderr


def test_chat_greets_cautions_and_asks_its_first_question(tmp_path: Path) -> None:
    db = f"sqlite:///{tmp_path / 'chat.db'}"
    run = weeknight("chat", "--db", db, typed="kg\n21:15\n")
    assert run.returncode == 0
    assert "not medical advice" in run.stdout
    assert "Kilograms or pounds?" in run.stdout
    again = weeknight("chat", "--db", db, typed="next\n")
    assert "not medical advice" not in again.stdout


def test_chat_logs_and_says_what_to_load_next(tmp_path: Path) -> None:
    db = f"sqlite:///{tmp_path / 'chat.db'}"
    typed = "plates 2x10 2x5 2x2.5 4x1.25\npin 1.25\ncrimp 4x22.5kg ok\n"
    run = weeknight("chat", "--db", db, typed=typed)
    assert "4 × 22.5 kg × 10 s a hand ok" in run.stdout
    assert "Next time" in run.stdout


@pytest.mark.parametrize(
    ("words", "environment", "names"),
    [
        (("serve",), {}, "WEEKNIGHT_TOKEN"),
        (("serve",), {"WEEKNIGHT_TOKEN_FILE": "/nowhere/token"}, "/nowhere/token"),
        (("serve",), {"WEEKNIGHT_TOKEN": "1:x", "WEEKNIGHT_TICK_S": "soon"}, "WEEKNIGHT_TICK_S"),
        (("chat", "--db", "carrier-pigeon:"), {}, "carrier-pigeon"),
        (("migrate", "--db", "sqlite:////nowhere/at/all.db"), {}, "cannot be opened"),
    ],
)
def test_wrong_settings_give_one_clear_line_and_exit_2(
    tmp_path: Path, words: tuple[str, ...], environment: dict[str, str], names: str
) -> None:
    run = weeknight(*words, XDG_DATA_HOME=str(tmp_path), **environment)
    assert run.returncode == 2
    assert names in run.stderr
    assert len(run.stderr.strip().splitlines()) == 1


def test_migrate_then_doctor_find_all_well(tmp_path: Path) -> None:
    db = f"sqlite:///{tmp_path / 'd.db'}"
    before = weeknight("doctor", "--db", db)
    assert before.returncode == 1
    assert "weeknight migrate" in before.stdout
    assert weeknight("migrate", "--db", db).returncode == 0
    assert weeknight("migrate", "--db", db).stdout.strip() == "up to date"
    after = weeknight("doctor", "--db", db)
    assert after.returncode == 0
    assert "waiting" in after.stdout


def test_help_names_every_command() -> None:
    text = weeknight("--help").stdout
    commands = ("chat", "serve", "parse", "replay", "next", "programme", "migrate", "doctor")
    for command in (*commands, "backup", "restore", "key"):
        assert f"  {command} " in text
