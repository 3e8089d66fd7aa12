"""Reads a programme file from the disk; its mistakes as values, or as one line."""

from pathlib import Path

from bot.errors import BadSettings
from bot.wording.programme import problem_line
from core.programme import Problem, Programme, programme_from_toml


def read_programme(file: Path, *, named: str) -> Programme | tuple[Problem, ...]:
    """The programme in a file, or its mistakes.

    Args:
        file: Where.
        named: How the person named it: the file itself, an option or a setting.

    Raises:
        BadSettings: The file cannot be read as text.
    """
    try:
        text = file.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise BadSettings(f"{named}: {file} cannot be read: {error.strerror}") from error
    except UnicodeDecodeError as error:
        raise BadSettings(f"{named}: {file} is not text in UTF-8") from error
    return programme_from_toml(text)


def load_programme(file: Path, *, named: str) -> Programme:
    """The programme in a file that has no mistakes.

    Raises:
        BadSettings: The file cannot be read, or has mistakes; the message has the first one.
    """
    found = read_programme(file, named=named)
    if isinstance(found, Programme):
        return found
    more = f" (1 of {len(found)}: weeknight programme {file})" if len(found) > 1 else ""
    raise BadSettings(f"{named}: {file}, {problem_line(found[0])}{more}")
