"""Programme files as people use them: checked, replayed, and named in the settings."""

from pathlib import Path

import pytest

from tests.e2e.program import weeknight

ROOT = Path(__file__).parents[2]
EXAMPLE = ROOT / "deploy" / "example-programme.toml"
SCENARIO = ROOT / "tests" / "scenarios" / "programme" / "three-short-evenings.txt"

WRONG = """\
name = "Wrong"
minutes = 5

[[block]]
name = "fingers"
exercises = [
    { name = "half-crimp", sets = 0 },
    { name = "crimps" },
]
"""


@pytest.fixture
def wrong(tmp_path: Path) -> Path:
    file = tmp_path / "wrong.toml"
    file.write_text(WRONG, encoding="utf-8")
    return file


def test_a_good_file_is_summed_up() -> None:
    run = weeknight("programme", str(EXAMPLE))
    assert (run.returncode, run.stderr) == (0, "")
    lines = run.stdout.splitlines()
    assert lines[:3] == [
        "Three short evenings",
        "45 min until an athlete says otherwise",
        "an easier week every 4 weeks of training",
    ]
    assert "· half crimp 5 × 7 s, rest 2:30, priority 1" in lines
    assert "fingers: at most 2, 1 by priority every evening, the others in turn" in lines


def test_the_packaged_file_is_summed_up_with_every_kind_of_dose() -> None:
    run = weeknight("programme", str(ROOT / "core" / "programme" / "default.toml"))
    assert run.returncode == 0
    for dose in (
        "half crimp 4 × 10 s",
        "repeated lifts 7:3 3 × 6 lifts of 7 s",
        "pull-up 3 × 6 to 8",
        "lock-off 3 × 5 to 10 s",
        "L-sit 3 × 15 to 30 s",
        "pancake 2 × 6 to 10 slow",
        "side split 2 × 45 to 90 s",
    ):
        assert f"· {dose}, rest" in run.stdout


def test_every_mistake_is_a_line_and_the_exit_is_one(wrong: Path) -> None:
    run = weeknight("programme", str(wrong))
    assert run.returncode == 1
    assert run.stdout.splitlines() == [
        "3 mistakes",
        "line 2: minutes: 5; allowed: a whole number from 10 to 240",
        "line 7: fingers > half-crimp > sets: 0; allowed: a whole number from 1 to 10",
        'line 8: fingers > exercise 2 > name: "crimps"; allowed: half-crimp',
    ]


def test_a_file_that_is_no_toml_is_named_with_line_and_column(tmp_path: Path) -> None:
    file = tmp_path / "broken.toml"
    file.write_text('name = "x"\nminutes 45\n', encoding="utf-8")
    run = weeknight("programme", str(file))
    assert run.returncode == 1
    assert run.stdout.splitlines()[1].startswith("line 2, column 9: ")


def test_a_file_that_cannot_be_read_is_one_line_and_exit_two(tmp_path: Path) -> None:
    missing = tmp_path / "missing.toml"
    (tmp_path / "latin.toml").write_bytes(b'name = "caf\xe9"\n')
    for file in (missing, tmp_path / "latin.toml"):
        run = weeknight("programme", str(file))
        assert (run.returncode, run.stdout) == (2, "")
        assert len(run.stderr.splitlines()) == 1
        assert str(file) in run.stderr


def test_the_example_replays_word_for_word() -> None:
    told = weeknight("replay", str(SCENARIO), "--check", "--programme", str(EXAMPLE))
    assert (told.returncode, told.stdout, told.stderr) == (0, "", "")
    # Without the programme it is another dialogue.
    assert weeknight("replay", str(SCENARIO), "--check").returncode == 1


def test_a_wrong_file_is_one_line_and_exit_two_wherever_it_would_hold(
    wrong: Path, tmp_path: Path
) -> None:
    first = f"{wrong}, line 2: minutes: 5; allowed: a whole number from 10 to 240 (1 of 3: "
    run = weeknight("replay", str(SCENARIO), "--programme", str(wrong))
    assert (run.returncode, run.stdout) == (2, "")
    assert run.stderr.startswith(f"weeknight: --programme: {first}")
    here = {
        "WEEKNIGHT_PROGRAMME": str(wrong),
        "WEEKNIGHT_DATABASE_URL": f"sqlite:///{tmp_path / 'w.db'}",
        "WEEKNIGHT_TOKEN": "1:none",
    }
    for command in ("chat", "serve", "next"):
        run = weeknight(command, **here)
        assert (run.returncode, run.stdout) == (2, "")
        assert run.stderr.startswith(f"weeknight: WEEKNIGHT_PROGRAMME: {first}")
        assert len(run.stderr.splitlines()) == 1


def test_the_file_of_the_settings_holds_for_the_chat(tmp_path: Path) -> None:
    db = f"sqlite:///{tmp_path / 'chat.db'}"
    here = {"WEEKNIGHT_PROGRAMME": str(EXAMPLE), "WEEKNIGHT_DATABASE_URL": db}
    run = weeknight("chat", typed="plates 4x10\nstart crimp 20kg\nnext crimp\nbye\n", **here)
    assert run.returncode == 0
    assert "5 × 7 s a hand at 20 kg" in run.stdout
    # And for the other commands on the same record.
    assert "5 × 7 s a hand at 20 kg" in weeknight("next", "crimp", **here).stdout
    assert "4 × 10 s" in weeknight("next", "crimp", "--db", db).stdout
    well = weeknight("doctor", **here)
    assert f"ok   programme: Three short evenings, from {EXAMPLE}" in well.stdout
