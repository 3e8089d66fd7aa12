"""From grammar rules to frozen nodes and, where nothing is left to ask, acts.

The method names are the rule names of ``reply.lark``. Nothing is judged here.
"""

from collections.abc import Callable
from decimal import Decimal
from typing import Any, cast

from lark import Transformer

from core.facts import Effort, Side
from core.quantity import Unit
from core.replies import node
from core.replies.act import Ask, Done
from core.replies.token import Token

_MINUTE_S = 60
_HOUR_MIN = 60
_HALF_HOUR_MIN = 30
_UNITS: dict[str, Unit] = {"KG": "kg", "LB": "lb"}
_SIDES: dict[str, Side] = {"LEFT": "left", "RIGHT": "right", "BOTH": "both"}
_EFFORTS: dict[str, Effort] = {
    "EASY": "easy",
    "OK": "ok",
    "DONE": "ok",
    "HARD": "hard",
    "LIMIT": "limit",
    "FAIL": "fail",
}


def _amount(kind: str) -> Callable[[object, list[Token]], node.Amount]:
    def build(_: object, tokens: list[Token]) -> node.Amount:
        """The amount of one number, its sign before it and its unit after it."""
        last = tokens[-1]
        number = next(t.number for t in tokens if t.type == "NUMBER")
        unit = _UNITS.get(last.type)
        # The kinds are the literals of Amount, one per rule below.
        return node.Amount(cast(Any, kind), number, unit, tokens[0].start_pos, last.end_pos)

    return build


def _clause(rule: str) -> Callable[[object, list[node.Item]], node.Clause]:
    def build(_: object, items: list[node.Item]) -> node.Clause:
        return node.Clause(rule, tuple(items))

    return build


def _span(tokens: list[Token]) -> tuple[int, int]:
    return tokens[0].start_pos, tokens[-1].end_pos


def _number_of(tokens: list[Token]) -> Decimal:
    return next(t.number for t in tokens if t.type == "NUMBER")


def _how_many(token: Token) -> Decimal:
    """The number, or one for a word such as "a" or "first"."""
    return token.number if token.type == "NUMBER" else Decimal(1)


def _parted(token: Token, sign: str) -> tuple[Decimal, Decimal]:
    first, _, second = token.text.partition(sign)
    return Decimal(first), Decimal(second.strip("smin"))


class Builder(Transformer[Token, object]):
    """One method per rule."""

    # ---- questions and "done"

    def ask(self, tokens: list[Token]) -> Ask:
        about = tokens[0].type.lower()
        # Every terminal of this rule is, in lower case, one of the things to ask about.
        return Ask(cast(Any, about), tokens[1].text if len(tokens) > 1 else None)

    def ask_next(self, tokens: list[Token]) -> Ask:
        return Ask("next", tokens[0].text)

    def set_done(self, parts: list[node.EffortSaid]) -> Done:
        return Done("session" if parts[0].terminal == "DONE" else "set", parts[0].effort)

    def session_done(self, parts: list[Token | node.EffortSaid]) -> Done:
        return Done("session", cast(node.EffortSaid, parts[-1]).effort)

    # ---- logs

    def log(self, parts: list[node.Part]) -> node.LogSaid:
        return node.LogSaid(tuple(parts))

    def fix(self, items: list[object]) -> node.LogSaid:
        return cast(node.LogSaid, items[1])._replace(fixes=True)

    def named(self, tokens: list[Token]) -> node.Named:
        return node.Named(tokens[0].text, *_span(tokens))

    def dose(self, items: list[tuple[node.Amount, ...] | Token]) -> node.Dose:
        products = tuple(cast(tuple[node.Amount, ...], item) for item in items[::2])
        return node.Dose(products, "", products[0][0].at, products[-1][-1].end)

    def product(self, items: list[node.Amount | Token]) -> tuple[node.Amount, ...]:
        return tuple(cast(list[node.Amount], items[::2]))

    bare = _amount("bare")
    load = _amount("load")
    more = _amount("plus")
    less = _amount("minus")
    reps = _amount("reps")
    count = _amount("count")
    seconds = _amount("seconds")

    def minutes_held(self, tokens: list[Token]) -> node.Amount:
        return node.Amount("seconds", tokens[0].number * _MINUTE_S, None, *_span(tokens))

    def clock_held(self, tokens: list[Token]) -> node.Amount:
        minutes, seconds = _parted(tokens[0], ":" if tokens[0].type == "CLOCK" else "m")
        return node.Amount("seconds", minutes * _MINUTE_S + seconds, None, *_span(tokens))

    def at_amount(self, items: list[Token | node.Amount]) -> node.Dose:
        product = tuple(cast(list[node.Amount], items[1::2]))
        return node.Dose((product,), "at", cast(Token, items[0]).start_pos, product[-1].end)

    def with_amount(self, items: list[node.Amount]) -> node.Dose:
        return node.Dose(((items[0],),), "at", items[0].at, items[0].end)

    def for_dose(self, items: list[Token | node.Dose]) -> node.Dose:
        return cast(node.Dose, items[1])._replace(lead="for")

    def effort(self, tokens: list[Token]) -> node.EffortSaid:
        terminal = tokens[-1].type
        return node.EffortSaid(_EFFORTS[terminal], terminal, tokens[-1].text, *_span(tokens))

    def efforts(self, items: list[node.EffortSaid | Token]) -> node.EffortRow:
        row = tuple(cast(list[node.EffortSaid], items[::2]))
        return node.EffortRow(row, row[0].at, row[-1].end)

    def all_sets(self, parts: list[Token | node.EffortSaid]) -> node.EffortSaid:
        return cast(node.EffortSaid, parts[1])

    def side(self, tokens: list[Token]) -> node.SideSaid:
        return node.SideSaid(_SIDES[tokens[0].type], *_span(tokens))

    def edge(self, tokens: list[Token]) -> node.EdgeSaid:
        return node.EdgeSaid(_number_of(tokens), *_span(tokens))

    def band(self, tokens: list[Token]) -> node.BandNamed:
        return node.BandNamed(tokens[0].text, *_span(tokens))

    def help(self, tokens: list[Token]) -> node.HelpSaid:
        return node.HelpSaid(*_span(tokens))

    def rpe(self, tokens: list[Token]) -> node.Rated:
        return node.Rated(_number_of(tokens), *_span(tokens))

    def left(self, tokens: list[Token]) -> node.Remaining:
        return node.Remaining(_number_of(tokens), *_span(tokens))

    def last(self, tokens: list[Token]) -> node.LastSaid:
        return node.LastSaid(tokens[0].type == "FIRST", *_span(tokens))

    def on_set(self, tokens: list[Token]) -> node.OnSet:
        last = tokens[-1]
        number = None if last.type == "LAST" else _how_many(last)
        return node.OnSet(number, *_span(tokens))

    def joint(self, tokens: list[Token]) -> node.Joint:
        return node.Joint(tokens[0].type, *_span(tokens))

    # ---- everything else: the rule and what it holds

    def minutes(self, items: list[Token | node.Lasting]) -> node.Lasting:
        for item in items:
            if isinstance(item, node.Lasting):
                return item
        tokens = cast(list[Token], items)
        return node.Lasting(_number_of(tokens), *_span(tokens))

    def hours(self, tokens: list[Token]) -> node.Lasting:
        first = tokens[0]
        if first.type == "HALF_HOUR":
            return node.Lasting(Decimal(_HALF_HOUR_MIN), *_span(tokens))
        if first.type in ("NUMBER", "A"):
            return node.Lasting(_how_many(first) * _HOUR_MIN, *_span(tokens))
        hours, minutes = _parted(first, "h")
        return node.Lasting(hours * _HOUR_MIN + minutes, *_span(tokens))

    def rated(self, tokens: list[Token]) -> node.Rated:
        return node.Rated(_number_of(tokens), *_span(tokens))

    def day(self, tokens: list[Token]) -> node.DaySaid:
        return node.DaySaid(tuple(tokens), *_span(tokens))

    def weight(self, tokens: list[Token]) -> node.Weight:
        return node.Weight(tokens[0].number, _UNITS.get(tokens[-1].type), *_span(tokens))

    def plate(self, items: list[Token | node.Weight]) -> node.Plate:
        many = cast(Token, items[0]) if len(items) > 1 else None
        return node.Plate(many, cast(node.Weight, items[-1]))

    def packed(self, items: list[Token | node.BandNamed]) -> node.Packed:
        for item in items:
            if isinstance(item, node.BandNamed):
                return node.Packed(item, *item[1:])
        tokens = cast(list[Token], items)
        depth = next((token for token in tokens if token.type == "NUMBER"), None)
        return node.Packed(depth, *_span(tokens))

    wall = _clause("wall")
    no_wall = _clause("no_wall")
    move = _clause("move")
    later = _clause("later")
    pause = _clause("pause")
    body_weight = _clause("body_weight")
    plates = _clause("plates")
    pin = _clause("pin")
    pin_limit = _clause("pin_limit")
    bar_limit = _clause("bar_limit")
    own_pin = _clause("own_pin")
    own_pin_limit = _clause("own_pin_limit")
    handle = _clause("handle")
    handle_limit = _clause("handle_limit")
    belt = _clause("belt")
    pulley = _clause("pulley")
    pulley_dropped = _clause("pulley_dropped")
    edges = _clause("edges")
    grips = _clause("grips")
    band_owned = _clause("band_owned")
    band_scaled = _clause("band_scaled")
    band_measured = _clause("band_measured")
    band_dropped = _clause("band_dropped")
    evenings = _clause("evenings")
    wall_days = _clause("wall_days")
    no_wall_days = _clause("no_wall_days")
    units = _clause("units")
    zone = _clause("zone")
    age = _clause("age")
    quiet = _clause("quiet")
    remind = _clause("remind")
    rests = _clause("rests")
    start_load = _clause("start_load")
    pain = _clause("pain")
    no_pain = _clause("no_pain")
