"""``reply.lark`` as a pyparsing grammar, rule by rule, over the tokens of the reader.

Each token becomes one character, so that a word costs pyparsing one comparison and no white
space is skipped. Where Lark tries all ways at once and pyparsing the first that fits, the
alternatives are put in an order by hand (``FIRST``), else the longer ones first.
"""

from collections.abc import Sequence
from pathlib import Path
from typing import Any, cast

import pyparsing as pp
from lark import Tree
from lark.load_grammar import load_grammar

from core.replies.builder import Builder
from core.replies.grammar import Parsed
from core.replies.token import Token

GRAMMAR = Path(__file__).parents[2] / "core" / "replies" / "reply.lark"
FIRST = {
    "clause": ("minutes", "log", "done"),
    "part": ("name", "efforts", "all_sets", "effort"),
    "lead": ("joint", "side", "edge", "left", "on_set", "for_dose", "at_amount", "band", "rpe"),
    "amount": ("mass", "time", "reps", "count"),
}
"""What to try first. An amount that had a unit, or was what is left, must not be read bare."""

pp.ParserElement.set_default_whitespace_chars("")


class Tokens(str):
    """The characters that stand for tokens, and the tokens."""

    tokens: Sequence[Token]

    def expandtabs(self, tabsize: int = 8) -> "Tokens":  # type: ignore[override]
        return self

    def __str__(self) -> "Tokens":
        return self


class TokenOf(pp.Token):
    """A token of one of these types."""

    def __init__(self, codes: frozenset[str], *, silent: bool) -> None:
        super().__init__()
        self._codes = codes
        self._silent = silent
        self.errmsg = "Expected another token"

    def _generateDefaultName(self) -> str:
        return "token"

    def parseImpl(self, instring: Any, loc: int, do_actions: bool = True) -> tuple[int, Any]:
        if loc < len(instring) and instring[loc] in self._codes:
            return loc + 1, [] if self._silent else [instring.tokens[loc]]
        raise pp.ParseException(instring, loc, self.errmsg, self)


class Translated:
    """The grammar, read from the file of the reader's own."""

    def __init__(self) -> None:
        text = GRAMMAR.read_text(encoding="utf-8")
        loaded, _ = load_grammar(text, GRAMMAR.name, [], False)
        self._builder = Builder()
        self._codes: dict[str, str] = {}
        self._rules: dict[str, pp.Forward] = {}
        for name, _, tree, options in loaded.rule_defs:
            inlined = options.expand1
            self._rule(name).__lshift__(self._alternatives(name, tree, inlined=inlined))
        for start in ("clause", "pain"):
            self._rule(start).streamline()

    def parsed(self, tokens: Sequence[Token], *, start: str) -> Parsed:
        """The clause that these tokens make; ``ParseException`` where they make none."""
        text = Tokens("".join([self._codes.get(token.type, "\0") for token in tokens]))
        text.tokens = tokens
        found = self._rules[start].parse_string(text, parse_all=True)
        return cast(Parsed, found[0])

    def _rule(self, name: str) -> pp.Forward:
        return self._rules.setdefault(name, pp.Forward())

    def _code(self, terminal: str) -> str:
        return self._codes.setdefault(terminal, chr(0xE000 + len(self._codes)))

    def _alternatives(self, rule: str, tree: Any, *, inlined: bool) -> pp.ParserElement:
        """All ways to write a rule, each built as the rule or its alias says."""
        made: list[tuple[str, int, pp.ParserElement]] = []
        for branch in _branches(tree):
            body, alias = branch.children if branch.data == "alias" else (branch, None)
            element = self._element(body)
            if rule == "clause":
                element = element + pp.StringEnd()
            if alias is not None or not inlined:
                element.add_parse_action(self._build(alias.name if alias else rule))
            key = alias.name if alias else _only_rule(body)
            made.append((key, len(body.children), element))
        order = FIRST.get(rule, ())
        made.sort(key=lambda row: (order.index(row[0]) if row[0] in order else len(order), -row[1]))
        elements = [element for _, _, element in made]
        return elements[0] if len(elements) == 1 else pp.MatchFirst(elements)

    def _build(self, name: str) -> Any:
        method = getattr(self._builder, name)

        def build(_: str, __: int, found: pp.ParseResults) -> list[Any]:
            return [method(list(found))]

        return build

    def _element(self, tree: Any) -> pp.ParserElement:
        match tree.data:
            case "value":
                return self._symbol(tree.children[0])
            case "expansion":
                elements = [self._element(child) for child in tree.children]
                return elements[0] + pp.Empty() if len(elements) == 1 else pp.And(elements)
            case "expansions":
                return self._choice(tree)
            case "expr":
                body = self._element(tree.children[0])
                repeat = {"?": pp.Optional, "*": pp.ZeroOrMore, "+": pp.OneOrMore}
                return repeat[str(tree.children[1])](body)
        raise ValueError(f"unknown in a grammar: {tree.data}")

    def _choice(self, tree: Any) -> pp.ParserElement:
        """One of several: of single words one comparison, else the longer first, words last."""
        words = [_only_terminal(child) for child in tree.children]
        if all(words):
            silent = words[0].startswith("_")
            return TokenOf(frozenset(map(self._code, words)), silent=silent)
        branches = sorted(tree.children, key=lambda one: (-len(one.children), _only_terminal(one)))
        elements = [self._element(child) for child in branches]
        return elements[0] if len(elements) == 1 else pp.MatchFirst(elements)

    def _symbol(self, symbol: Any) -> pp.ParserElement:
        if symbol.is_term:
            codes = frozenset({self._code(symbol.name)})
            return TokenOf(codes, silent=symbol.name.startswith("_"))
        return self._rule(symbol.name)


def _branches(tree: Any) -> list[Any]:
    return list(tree.children) if tree.data == "expansions" else [tree]


def _only_rule(tree: Any) -> str:
    """The name of the one rule that an alternative is, or nothing."""
    if tree.data == "expansion" and len(tree.children) == 1:
        value = tree.children[0]
        return str(value.children[0].name) if value.data == "value" else ""
    return ""


def _only_terminal(tree: Tree[Any]) -> str:
    name = _only_rule(tree)
    return name if name and tree.children[0].children[0].is_term else ""
