"""Every source that the engine names exists."""

import re
from pathlib import Path

import core
from core.sources import SOURCES

FOLDER = Path(core.__file__).parent
KEY = re.compile(r"\b[a-z]+(?:_[a-z]+)*_(?:19|20)\d\d\b")


def keys_named() -> set[str]:
    texts = (
        path.read_text(encoding="utf-8")
        for path in FOLDER.rglob("*.py")
        if path.name != "sources.py"
    )
    return {key for text in texts for key in KEY.findall(text) if not key.startswith("one_rep")}


def test_docstrings_name_only_sources_that_exist() -> None:
    named = keys_named()
    assert "epley_1985" in named
    assert named <= set(SOURCES)


def test_every_source_says_what_is_taken_from_it() -> None:
    for source in SOURCES.values():
        assert source.cite
        assert source.says.endswith(".")
