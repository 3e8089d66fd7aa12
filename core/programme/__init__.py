"""The programme: what an evening is made of, as a small text file in TOML that a person can edit.

``default.toml`` is the one that holds where nobody brings another. ``programme_from_toml``
(``read``) gives a ``Programme`` (``model``) or every mistake at once, each with its line.
"""

from functools import cache

from core.packaged import packaged_text
from core.programme.model import Listed, Programme, ProgrammeBlock
from core.programme.problem import Problem
from core.programme.read import read


@cache
def default_programme() -> Programme:
    """The programme that holds where no other is named, read once.

    Raises:
        ValueError: The packaged file is wrong; the message names the lines.
    """
    found = read(packaged_text("core.programme", "default.toml"), usual=None)
    if isinstance(found, Programme):
        return found
    raise ValueError("; ".join(f"line {p.line}: {p.field}: {p.found}" for p in found))


def programme_from_toml(text: str) -> Programme | tuple[Problem, ...]:
    """The programme that a file's text stands for.

    What the file leaves out is as in the default programme; a dose as in the catalogue.

    Returns:
        The programme, or all that is wrong with it, by line.
    """
    return read(text, usual=default_programme())


__all__ = [
    "Listed",
    "Problem",
    "Programme",
    "ProgrammeBlock",
    "default_programme",
    "programme_from_toml",
]
