"""A run that was stopped goes on where it was, and says so."""

from dataclasses import replace

import pytest

from tests.simulated import run
from tests.simulated.crowd import outcome_of
from tests.simulated.kept import Kept


@pytest.fixture(scope="module")
def made():
    """A short season."""
    return outcome_of(3, weeks=2)


@pytest.fixture
def asked(monkeypatch, made):
    """Which athletes were lived; the hundredth is never finished."""
    numbers: list[int] = []

    def outcomes(todo, **_):
        for n in todo:
            if n == 99:
                raise KeyboardInterrupt
            numbers.append(n)
            yield replace(made, number=n)

    monkeypatch.setattr(run, "outcomes", outcomes)
    return numbers


def gathered(athletes, keep, seed=4):
    return run.gathered(athletes, seed=seed, processes=1, every=2, keep=keep)


def test_what_is_finished_is_not_lived_again(asked, tmp_path, capsys) -> None:
    file = tmp_path / "kept"
    first = gathered(3, file)
    assert [o.number for o in first] == asked == [0, 1, 2]
    asked.clear()
    assert [o.number for o in gathered(5, file)] == [0, 1, 2, 3, 4]
    assert asked == [3, 4]
    assert "5 of 5 athletes" in capsys.readouterr().err


def test_a_last_outcome_that_was_cut_off_is_lived_again(asked, tmp_path) -> None:
    file = tmp_path / "kept"
    gathered(3, file)
    file.write_bytes(file.read_bytes()[:-20])
    asked.clear()
    assert len(gathered(3, file)) == 3
    assert asked == [2]
    # And what was kept then is whole.
    asked.clear()
    assert len(gathered(3, file)) == 3
    assert asked == []


def test_stopping_reports_on_those_that_are_finished(asked, tmp_path, capsys) -> None:
    found = gathered(101, tmp_path / "kept")
    assert len(found) == 99
    assert "stopped: 99 of 101 athletes" in capsys.readouterr().err


def test_a_file_of_another_seed_is_refused(made, tmp_path) -> None:
    Kept(tmp_path / "kept", seed=4).add(made)
    with pytest.raises(ValueError, match="seed 4, not 5"):
        list(Kept(tmp_path / "kept", seed=5).before())
