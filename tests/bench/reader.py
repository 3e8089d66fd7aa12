"""Typical replies a second on one core, by our reader and by two general-purpose parsers.

    .venv/bin/python -m pip install -c deploy/constraints.txt -e '.[bench]'    (once)
    .venv/bin/python tests/bench/reader.py

All three go the whole way from text to typed acts with the same grammar, ``reply.lark``, the
same tokens, the same builder and the same meaning step; only what stands between tokens and
builder differs:

- ours: the LALR parser made of the grammar;
- Earley: the same grammar file given to Lark's Earley parser;
- pyparsing: the same grammar as a pyparsing grammar (``reply_in_pyparsing.py``).

The replies are those of ``tests/replies`` that are understood whole. Before anything is timed
each parser has to give the same acts for each of them; those for which one does not are named
and left out for all three. Some hundred of the rest, evenly taken, are timed. Rounds take turns
within one run; the texts differ from round to round by spaces at their end, so that no cache of
whole replies could help. Medians of processor time. Nothing is asserted on time.
"""

import gc
import statistics
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, cast

from lark import Lark
from lark.common import LexerConf
from lark.lexer import Lexer
from reply_in_pyparsing import GRAMMAR, Translated

from core.replies import read, reader
from core.replies.act import Reading, ReplyContext
from core.replies.builder import Builder
from core.replies.grammar import Parsed
from core.replies.token import Token

REPLIES = Path(__file__).parents[1] / "replies"
ROUNDS = 9
TIMED = 300
AIM = 5000
AT = datetime(2026, 12, 1, 17, 0, tzinfo=UTC)
CONTEXTS = {
    "kg": ReplyContext(units="kg", at=AT, zone="Europe/Oslo"),
    "lb": ReplyContext(units="lb", at=AT, zone="Europe/Oslo"),
}
Parser = Callable[..., Parsed]


def replies() -> Iterator[tuple[str, ReplyContext]]:
    """The corpus with the units of each file."""
    for path in sorted(REPLIES.glob("*.txt")):
        context = CONTEXTS["kg"]
        for line in path.read_text(encoding="utf-8").splitlines():
            if line.startswith("# units:"):
                context = CONTEXTS[line.removeprefix("# units:").strip()]
            elif line and not line.startswith(("#", " ")):
                yield line.replace("\\n", "\n"), context


class Ready(Lexer):
    """Hands the parser tokens that were made beforehand."""

    def __init__(self, _: LexerConf) -> None:
        pass

    def lex(self, tokens: Any) -> Iterator[Any]:  # type: ignore[override]
        return iter(tokens)


def earley() -> Parser:
    parser = Lark(
        GRAMMAR.read_text(encoding="utf-8"),
        parser="earley",
        lexer=Ready,
        start=["clause", "pain"],
        maybe_placeholders=False,
    )
    builder = Builder()

    def parsed(tokens: Sequence[Token], *, start: str) -> Parsed:
        tree = cast(Any, parser).parse(tokens, start=start)
        # A rule with "?" in front of it leaves no tree where one token or node was built.
        return cast(Parsed, builder.transform(tree))

    return parsed


@contextmanager
def reading_with(parser: Parser | None) -> Iterator[None]:
    """The reader with another parser in the place of its own; None: as it is."""
    own = reader.parsed
    reader.parsed = parser or own
    try:
        yield
    finally:
        reader.parsed = own


def acts_or_none(text: str, context: ReplyContext) -> Reading | None:
    try:
        return read(text, context)
    except Exception:
        return None


def agreed(parsers: dict[str, Parser | None]) -> list[tuple[str, ReplyContext]]:
    """The replies understood whole, for which all parsers give the same acts."""
    wanted = [(text, context, read(text, context)) for text, context in replies()]
    understood = [row for row in wanted if row[2].misread is None]
    apart: set[str] = set()
    for name, parser in parsers.items():
        with reading_with(parser):
            for text, context, meant in understood:
                if acts_or_none(text, context) != meant:
                    apart.add(text)
                    print(f"  {name} means something else by {text!r}")
    print(
        f"{len(wanted)} replies, {len(understood)} understood whole,"
        f" {len(understood) - len(apart)} of these with equal acts from all"
    )
    return [(text, context) for text, context, _ in understood if text not in apart]


def seconds_for(typed: list[tuple[str, ReplyContext]], round_: int) -> float:
    texts = [(text + " " * round_, context) for text, context in typed]
    gc.collect()
    begins = time.process_time()
    for text, context in texts:
        read(text, context)
    return time.process_time() - begins


def main() -> None:
    parsers: dict[str, Parser | None] = {
        "ours": None,
        "Earley": earley(),
        "pyparsing": Translated().parsed,
    }
    equal = agreed(parsers)
    typed = equal[:: max(len(equal) // TIMED, 1)]
    figures: dict[str, list[float]] = {name: [] for name in parsers}
    for round_ in range(ROUNDS):
        for name, parser in parsers.items():
            with reading_with(parser):
                figures[name].append(len(typed) / seconds_for(typed, round_))
    ours = statistics.median(figures["ours"])
    print(f"{len(typed)} of them, whole way, one core, medians of {ROUNDS} rounds that took turns")
    for name, rates in figures.items():
        middle = statistics.median(rates)
        spread = f"{min(rates):,.0f} to {max(rates):,.0f}"
        print(f"{name:10} {middle:8,.0f} replies/s  ({spread})   ours is {ours / middle:5.1f} x")
    print(f"aims: 10 x Earley, ahead of pyparsing, {AIM:,} replies/s: {ours / AIM:.0%} of that")


if __name__ == "__main__":
    main()
