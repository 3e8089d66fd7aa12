"""Keys come from a private file or a setting; a file that others can read is refused."""

import os
import stat
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from bot.errors import BadSettings
from bot.key_file import GivenKeys, KeyFile, is_private
from bot.seal import Key, new_key

OLD, NEW = Key(bytes(range(32))), Key(bytes(range(1, 33)))


def written(path: Path, text: str, mode: int = 0o600) -> KeyFile:
    path.write_text(text, encoding="utf-8")
    path.chmod(mode)
    return KeyFile(path)


def test_made_makes_a_private_file_once(tmp_path: Path) -> None:
    path = tmp_path / "config" / "weeknight" / "key"
    ring = KeyFile(path).made()
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700
    assert KeyFile(path).made().ids == KeyFile(path).ring().ids == ring.ids
    assert [file.name for file in path.parent.iterdir()] == ["key"]


def test_made_by_several_at_once_is_one_key(tmp_path: Path) -> None:
    with ThreadPoolExecutor(8) as pool:
        rings = list(pool.map(lambda _: KeyFile(tmp_path / "key").made(), range(8)))
    assert len({ring.ids for ring in rings}) == 1


def test_ring_without_a_file_makes_none(tmp_path: Path) -> None:
    with pytest.raises(BadSettings, match="WEEKNIGHT_KEY_FILE"):
        KeyFile(tmp_path / "key").ring()
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("mode", [0o640, 0o604, 0o644, 0o620, 0o666])
def test_ring_refuses_a_file_that_others_can_read(tmp_path: Path, mode: int) -> None:
    with pytest.raises(BadSettings, match="chmod 600"):
        written(tmp_path / "key", OLD.text, mode).ring()


@pytest.mark.parametrize("mode", [0o600, 0o400])
def test_ring_takes_a_file_that_is_its_owners_alone(tmp_path: Path, mode: int) -> None:
    assert written(tmp_path / "key", OLD.text, mode).ring().ids == (OLD.id,)


@pytest.mark.parametrize(
    ("mode", "owner", "group", "me", "private"),
    [
        (0o600, 1000, 1000, 1000, True),
        (0o640, 1000, 1000, 1000, False),
        (0o440, 0, 0, 1000, True),  # as systemd lends a credential
        (0o444, 0, 0, 1000, False),
        (0o440, 0, 50, 1000, False),
        (0o640, 0, 0, 0, False),
    ],
)
def test_is_private_only_to_its_owner_and_root(
    mode: int, owner: int, group: int, me: int, private: bool
) -> None:
    found = os.stat_result((stat.S_IFREG | mode, 1, 1, 1, owner, group, 44, 0, 0, 0))
    assert is_private(found, me=me) is private


def test_ring_reads_the_newest_first_and_passes_over_remarks(tmp_path: Path) -> None:
    text = f"# keys\n\n{NEW.text}  # since spring\n{OLD.text}\n"
    assert written(tmp_path / "key", text).ring().ids == (NEW.id, OLD.id)


@pytest.mark.parametrize("text", ["", "# nothing yet\n", "no key\n", f"{OLD.text}x\n"])
def test_ring_refuses_a_file_without_a_sound_key(tmp_path: Path, text: str) -> None:
    with pytest.raises(BadSettings, match="key"):
        written(tmp_path / "key", text).ring()


def test_ring_refuses_a_folder_and_bytes(tmp_path: Path) -> None:
    with pytest.raises(BadSettings, match="cannot be read"):
        KeyFile(tmp_path).ring()
    (tmp_path / "key").write_bytes(os.urandom(8) + b"\xff\xfe")
    (tmp_path / "key").chmod(0o600)
    with pytest.raises(BadSettings):
        KeyFile(tmp_path / "key").ring()


def test_add_puts_a_key_in_front_and_is_seen_by_others_that_run(tmp_path: Path) -> None:
    file = written(tmp_path / "key", OLD.text)
    running = KeyFile(tmp_path / "key")
    assert running.ring().newest == OLD.id
    file.add(NEW)
    assert running.ring().ids == file.ring().ids == (NEW.id, OLD.id)
    assert stat.S_IMODE(file.path.stat().st_mode) == 0o600
    assert [each.name for each in tmp_path.iterdir()] == ["key"]


@pytest.mark.parametrize("harm", ["gone", "empty", "half"])
def test_ring_of_a_process_that_runs_outlives_harm_to_the_file(tmp_path: Path, harm: str) -> None:
    running = written(tmp_path / "key", OLD.text)
    assert running.ring().ids == (OLD.id,)
    if harm == "gone":
        running.path.unlink()
    else:
        running.path.write_text("" if harm == "empty" else OLD.text[:20], encoding="ascii")
    assert running.ring().ids == (OLD.id,)


def test_given_keys_are_separated_by_commas_or_blanks() -> None:
    for text in (f"{NEW.text},{OLD.text}", f" {NEW.text} ,\n{OLD.text} "):
        assert GivenKeys(text, named="WEEKNIGHT_KEY").ring().ids == (NEW.id, OLD.id)


@pytest.mark.parametrize("text", ["", " , ", "no-key", f"{OLD.text},no-key"])
def test_given_keys_that_are_none_are_refused_by_the_settings_name(text: str) -> None:
    with pytest.raises(BadSettings, match="WEEKNIGHT_KEY"):
        GivenKeys(text, named="WEEKNIGHT_KEY")


def test_given_keys_can_be_added_to_by_a_person_only() -> None:
    with pytest.raises(BadSettings, match="weeknight key new"):
        GivenKeys(OLD.text, named="WEEKNIGHT_KEY").add(new_key())
