"""The list of reasons is complete and has nothing that no rule gives."""

import ast
from pathlib import Path

import core.planning
import core.progression
from core.physiology.effort import HARDNESS
from core.progression import RULES

FOLDER = Path(core.progression.__file__).parent
PLANNING = Path(core.planning.__file__).parent


def words_in_the_rules() -> set[str]:
    """Every text constant of the rules and of planning, the list of reasons left out."""
    found: set[str] = set()
    for path in (*FOLDER.glob("*.py"), *PLANNING.rglob("*.py")):
        if path.name != "rules.py":
            tree = ast.parse(path.read_text(encoding="utf-8"))
            found.update(
                node.value
                for node in ast.walk(tree)
                if isinstance(node, ast.Constant) and isinstance(node.value, str)
            )
    return found


def test_every_reason_in_the_list_is_given_by_some_rule() -> None:
    said = words_in_the_rules()
    assert "all-sets-" in said
    said |= {f"all-sets-{word}" for word in HARDNESS}
    assert set(RULES) <= said


def test_every_reason_in_the_code_is_in_the_list() -> None:
    names = []
    for path in FOLDER.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
                first = node.args[0] if node.args else None
                if node.func.id == "because" and isinstance(first, ast.Constant):
                    names.append(first.value)
    assert len(names) > 40
    assert set(names) <= set(RULES)


def test_every_reason_says_what_it_means() -> None:
    for rule in RULES.values():
        assert rule.means.endswith(".")
        assert not set(rule.facts) & set(rule.may)
