"""The list of a day's reasons is complete and has nothing that no rule gives."""

import ast
from pathlib import Path

import core.planning.week
from core.planning.week import DAY_RULES, SPACING

FOLDER = Path(core.planning.week.__file__).parent
LISTS = {"reasons.py", "change.py"}


def texts(*, lists: bool) -> set[str]:
    """Every text constant of the package's rules, or of its lists."""
    found: set[str] = set()
    for path in FOLDER.glob("*.py"):
        if (path.name in LISTS) == lists:
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
                if isinstance(node, ast.Constant) and isinstance(node.value, str):
                    found.add(node.value)
    return found


def test_every_reason_in_the_list_is_given_by_some_rule() -> None:
    borrowed = {"pain-today", "warning-sign"}  # given by core.progression.pain
    assert set(DAY_RULES) - borrowed <= texts(lists=False)
    assert len(DAY_RULES) > 15


def test_every_reason_that_is_given_is_in_the_list() -> None:
    given = set()
    for path in FOLDER.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
                first = node.args[0] if node.args else None
                if node.func.id == "because" and isinstance(first, ast.Constant):
                    given.add(first.value)
    assert len(given) > 8
    assert given <= set(DAY_RULES)
    assert set(DAY_RULES) >= SPACING
