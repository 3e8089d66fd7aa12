"""The examples in the engine's docstrings are true."""

import doctest
from importlib import import_module
from pkgutil import walk_packages

import pytest

import core

MODULES = [found.name for found in walk_packages(core.__path__, "core.") if not found.ispkg]


def test_there_are_examples() -> None:
    finder = doctest.DocTestFinder()
    found = [test for name in MODULES for test in finder.find(import_module(name)) if test.examples]
    assert len(found) >= 10


@pytest.mark.parametrize("name", MODULES)
def test_examples(name) -> None:
    assert doctest.testmod(import_module(name)).failed == 0
