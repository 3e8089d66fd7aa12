"""What the reader promises of any text, each promise a check that names what it broke."""

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from decimal import Decimal

from fields import strange_fields

from core.catalogue import get_exercise
from core.replies import read
from core.replies.act import Act, Fix, Log, Reading, ReplyContext
from core.replies.contract import reading_as_json
from core.replies.render import log_text

LIMIT_S = 0.05
"""From the reader's contract: any text is answered in under 50 ms."""

MOST_CHARACTERS = 1000
MOST_CLAUSES = 40
_BANDS = ("green", "light green", "no 3", "black")
_ALIASES = (("board", "half-crimp"), ("7:3", "repeaters"), ("über zug", "pull-up"))
_MOMENTS = (
    ("2026-12-01T17:00", "Europe/Oslo"),
    ("2026-12-31T23:30", "Asia/Kathmandu"),
    ("2026-09-05T21:59", "Pacific/Easter"),
    ("2027-03-28T00:30", "America/Nuuk"),
    ("2028-02-29T04:59", "America/New_York"),
    ("2026-12-29T11:00", "Pacific/Apia"),
)
_UNTOUCHED = re.compile(r"#|//|note|zone", re.IGNORECASE)
"""What makes the rest of a line free text, so that a sign behind it counts."""

_STRANGE = "qzvxk"

CONTEXTS = tuple(
    ReplyContext(
        units=units,
        at=datetime.fromisoformat(at).replace(tzinfo=UTC),
        zone=zone,
        bands=_BANDS if own else (),
        aliases=_ALIASES if own else (),
    )
    for at, zone in _MOMENTS
    for units in ("kg", "lb")
    for own in (False, True)
)
"""Pounds and kilograms; with and without words of one's own; moments at the edge of a day."""


@dataclass(frozen=True)
class Broken:
    """A promise that did not hold: which, and what was seen instead."""

    promise: str
    detail: str


def broken_promises(
    text: str, context: ReplyContext, reading: Reading, *, thorough: bool = True
) -> list[Broken]:
    """Everything that this reading of the text promised and does not keep.

    ``thorough`` also reads it again in other clothes, which takes several times as long.
    """
    found: list[Broken] = []
    for check in (*_CHECKS, *_DEAR_CHECKS) if thorough else _CHECKS:
        try:
            found.extend(check(text, context, reading))
        except Exception as error:
            found.append(Broken(f"{check.__name__.strip('_')} raised", _place_of(error)))
    return found


def _place_of(error: BaseException) -> str:
    trace = error.__traceback__
    while trace and trace.tb_next:
        trace = trace.tb_next
    place = f" in {trace.tb_frame.f_code.co_qualname}:{trace.tb_lineno}" if trace else ""
    return f"{type(error).__name__}: {error}{place}"


def _whole(text: str, context: ReplyContext, reading: Reading) -> Iterator[Broken]:
    if reading.text != text:
        yield Broken("text", "the reading holds another text")
    if not reading.acts and reading.misread is None:
        yield Broken("answer", "neither acts nor a misread")
    if len(reading.acts) > MOST_CLAUSES:
        yield Broken("clauses", f"{len(reading.acts)} acts")


def _misread(text: str, _: ReplyContext, reading: Reading) -> Iterator[Broken]:
    misread = reading.misread
    if misread is None:
        return
    if not 0 <= misread.at <= len(text):
        yield Broken("column", f"at {misread.at} of {len(text)}")
    elif not text[misread.at :].startswith(misread.saw):
        yield Broken("saw", f"{misread.saw!r} is not at {misread.at}")
    if misread.clause < 1:
        yield Broken("clause", f"{misread.clause}")
    if not 1 <= len(misread.expected) <= 8 or any(words.isupper() for words in misread.expected):
        yield Broken("expected", f"{misread.expected}")


def _offers(text: str, context: ReplyContext, reading: Reading) -> Iterator[Broken]:
    offers = reading.misread.try_ if reading.misread else ()
    if len(offers) > 3:
        yield Broken("offers", f"{len(offers)} of them")
    meant: set[tuple[Act, ...]] = set()
    for offer in offers:
        again = read(offer, context)
        if offer == text:
            yield Broken("offer", f"{offer!r} is what was typed")
        if again.misread is not None or not again.acts:
            yield Broken("offer", f"{offer!r} is not understood whole")
        if again.acts in meant:
            yield Broken("offer", f"{offer!r} means the same as another")
        meant.add(again.acts)


def _logs(reading: Reading) -> Iterator[Log]:
    for act in reading.acts:
        if isinstance(act, Log | Fix):
            yield act.log if isinstance(act, Fix) else act


def _written_again(_: str, context: ReplyContext, reading: Reading) -> Iterator[Broken]:
    """A log written as a reply reads back to the same sets."""
    for log in _logs(reading):
        written = log_text(log, context.units)
        if len(written) > MOST_CHARACTERS:
            continue
        again = read(written, context)
        if again.acts != (log,) or again.misread is not None:
            yield Broken("written again", f"{written!r} does not read back as {log}")


def _again(text: str, context: ReplyContext, reading: Reading) -> Iterator[Broken]:
    if read(text, context) != reading:
        yield Broken("same again", "read twice, meant two things")


def _neighbours(text: str, context: ReplyContext, reading: Reading) -> Iterator[Broken]:
    """What changes nothing: case, spaces around, signs at the end, a clause on another line."""
    if len(text) > MOST_CHARACTERS - 10 or _UNTOUCHED.search(text) or not text.isprintable():
        return
    if not _same(read(f"  {text} ", context), reading):
        yield Broken("spaces", "spaces around change the meaning")
    if not _same(read(text + "!", context), reading):
        yield Broken("end sign", "an exclamation mark at the end changes the meaning")
    # "20R" is a side, "8r" repetitions: the one place where a capital tells.
    caseless = text.isascii() and not re.search(r"[0-9]r(?![a-z])", text, re.IGNORECASE)
    if caseless and not _same(read(text.upper(), context), reading):
        yield Broken("case", "capitals change the meaning")
    if reading.acts and reading.misread is None and len(reading.acts) < MOST_CLAUSES:
        beside = read(f"{text}\nundo", context)
        if beside.acts[:-1] != reading.acts or beside.misread is not None:
            yield Broken("next line", "another line changes the meaning")


def _strange_word(text: str, context: ReplyContext, reading: Reading) -> Iterator[Broken]:
    """A word that belongs to nothing is never passed over."""
    if not reading.acts or reading.misread or len(text) > MOST_CHARACTERS - 10:
        return
    # A band may have any name where none is known.
    if _UNTOUCHED.search(text) or "band" in text.lower() or not text.isprintable():
        return
    place = text.find(" ")
    inside = f"{text[:place]} {_STRANGE}{text[place:]}" if place > 0 else f"{text} {_STRANGE}"
    for strange in (inside, f"{text} {_STRANGE}"):
        if read(strange, context).misread is None:
            yield Broken("strange word", f"{strange!r} is understood whole")


def _same(one: Reading, other: Reading) -> bool:
    return one.acts == other.acts and (one.misread is None) == (other.misread is None)


def _json(_: str, __: ReplyContext, reading: Reading) -> Iterator[Broken]:
    said = json.loads(json.dumps(reading_as_json(reading), allow_nan=False))
    for strange in strange_fields(said):
        yield Broken("fields", strange)


def _acts(_: str, context: ReplyContext, reading: Reading) -> Iterator[Broken]:
    """What the fields alone do not show: bounds before rounding, help, bands."""
    for log in _logs(reading):
        exercise = get_exercise(log.exercise) if log.exercise else None
        for one in log.sets:
            if one.load_kg is not None and not 0 < abs(one.load_kg) <= 300:
                yield Broken("load", f"{one.load_kg}")
            if one.value is not None and (log.exercise or not 0 < one.value <= Decimal(900)):
                yield Broken("value", f"{one}")
            helped = one.load_kg is not None and one.load_kg < 0
            if helped and exercise is not None and not exercise.takes_help:
                yield Broken("help", f"{exercise.slug} takes none: {one.load_kg}")
            if one.band is not None and exercise is not None and exercise.from_floor:
                yield Broken("help", f"{exercise.slug} takes no band: {one.band}")
            for name in one.band.split(" + ") if one.band is not None else ():
                if name != name.lower() or (context.bands and name not in context.bands):
                    yield Broken("band", f"{one.band!r}")


_CHECKS = (_whole, _json, _acts, _misread, _offers, _written_again)
_DEAR_CHECKS = (_again, _neighbours, _strange_word)
