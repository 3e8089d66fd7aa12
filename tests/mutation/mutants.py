"""Small faults put into source code, one at a time: what a good test suite must notice.

A mutant is the source with one comparison, number, sign, connective, default or return
value exchanged. Text and docstrings are left alone: words are tested where they are read.
"""

import ast
import copy
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import islice

COMPARISONS: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
}
SIGNS: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.FloorDiv,
}
CALLS = {"min": "max", "max": "min", "any": "all", "all": "any"}


@dataclass(frozen=True, slots=True)
class Mutant:
    """One fault: where it is, what it is, and the whole module with it."""

    line: int
    what: str
    tree: ast.Module


def mutants(source: str) -> Iterator[Mutant]:
    """Every mutant of a module, in the order of the source."""
    tree = ast.parse(source)
    skipped = _not_code(tree)
    for index, node in enumerate(ast.walk(tree)):
        for change in CHANGES:
            if id(node) in skipped or change(copy.deepcopy(node)) is None:
                continue
            mutated = ast.parse(source)
            place = next(islice(ast.walk(mutated), index, None))
            said = change(place) or ""
            yield Mutant(getattr(node, "lineno", 0), said, ast.fix_missing_locations(mutated))


def _not_code(tree: ast.Module) -> set[int]:
    """The nodes that are not run for their value: annotations, and what tells types apart."""
    skipped: list[ast.AST] = []
    for parent in ast.walk(tree):
        if isinstance(parent, ast.AnnAssign | ast.arg) and parent.annotation is not None:
            skipped += ast.walk(parent.annotation)
        if isinstance(parent, ast.FunctionDef) and parent.returns is not None:
            skipped += ast.walk(parent.returns)
        if isinstance(parent, ast.Call) and isinstance(parent.func, ast.Name):
            if parent.func.id in ("zip", "dataclass"):
                skipped += [n for k in parent.keywords for n in ast.walk(k)]
            if parent.func.id in ("isinstance", "Literal"):
                skipped += [n for a in parent.args for n in ast.walk(a)]
    return {id(node) for node in skipped}


def _comparison(node: ast.AST) -> str | None:
    if not isinstance(node, ast.Compare) or type(node.ops[0]) not in COMPARISONS:
        return None
    old = type(node.ops[0])
    node.ops[0] = COMPARISONS[old]()
    return f"{old.__name__} to {COMPARISONS[old].__name__}"


def _sign(node: ast.AST) -> str | None:
    if not isinstance(node, ast.BinOp) or type(node.op) not in SIGNS:
        return None
    old = type(node.op)
    node.op = SIGNS[old]()
    return f"{old.__name__} to {SIGNS[old].__name__}"


def _number(node: ast.AST) -> str | None:
    if not isinstance(node, ast.Constant) or type(node.value) not in (int, bool):
        return None
    old = node.value
    node.value = not old if isinstance(old, bool) else old + 1
    return f"{old} to {node.value}"


def _mass(node: ast.AST) -> str | None:
    """A decimal constant, a tenth more."""
    if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Name):
        return None
    if node.func.id != "Decimal" or not isinstance(node.args[0], ast.Constant):
        return None
    old = node.args[0].value
    if not isinstance(old, str):
        return None
    node.args[0] = ast.Constant(str(float(old) + 0.04))
    return f"Decimal {old} and a little"


def _connective(node: ast.AST) -> str | None:
    if not isinstance(node, ast.BoolOp):
        return None
    old = type(node.op)
    node.op = ast.And() if isinstance(node.op, ast.Or) else ast.Or()
    return f"{old.__name__} to {type(node.op).__name__}"


def _negation(node: ast.AST) -> str | None:
    if not isinstance(node, ast.If | ast.IfExp):
        return None
    node.test = ast.UnaryOp(ast.Not(), copy.deepcopy(node.test))
    return "condition turned round"


def _call(node: ast.AST) -> str | None:
    if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Name):
        return None
    old = node.func.id
    if old not in CALLS:
        return None
    node.func.id = CALLS[old]
    return f"{old} to {CALLS[old]}"


def _result(node: ast.AST) -> str | None:
    if not isinstance(node, ast.Return) or node.value is None:
        return None
    if isinstance(node.value, ast.Constant) and node.value.value is None:
        return None
    node.value = ast.Constant(None)
    return "returns None"


CHANGES: tuple[Callable[[ast.AST], str | None], ...] = (
    _comparison,
    _sign,
    _number,
    _mass,
    _connective,
    _negation,
    _call,
    _result,
)
