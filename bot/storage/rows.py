"""Values into rows and back, exactly.

Facts and targets become JSON through adapters built over the engine's own
dataclasses. Masses are decimals and travel as strings, so that no digit is lost.
What people said and what is told to them is sealed for its owner (``bot.seal``).
"""

import json
from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime
from decimal import Decimal
from typing import Any, get_args

from pydantic import TypeAdapter
from sqlalchemy import Row

from bot.ports import Button, Chat, Due, Inbound, Outgoing, Parcel
from bot.seal import Seal
from core.facts import Entry, Fact
from core.target import Reason, Target, Value

# Built at import: an adapter built while a test holds the clock would refuse real dates.
_FACTS: Mapping[str, TypeAdapter[Any]] = {
    kind.__name__: TypeAdapter(kind) for kind in get_args(Fact)
}
_TARGETS = TypeAdapter(tuple[Target, ...])
_BUTTONS = TypeAdapter(tuple[Button, ...])


def text_to_keep(text: str) -> str:
    """The text with what no database keeps (NUL, halves of surrogate pairs) replaced by "�"."""
    sound = text.encode("utf-8", "surrogatepass").decode("utf-8", "replace")
    return sound.replace("\0", "\ufffd")


def chat_owner(adapter: str, chat_id: int) -> str:
    """Whose the values of a chat are, to a seal."""
    return f"chat:{adapter}:{chat_id}"


def athlete_owner(athlete_id: int) -> str:
    """Whose the values of an athlete are, to a seal."""
    return f"athlete:{athlete_id}"


def fact_json(fact: Fact) -> str:
    """The fact as JSON, without what has its default; its type's name is kept beside it."""
    return _FACTS[type(fact).__name__].dump_json(fact, exclude_defaults=True).decode()


def fact_from_json(kind: str, body: str) -> Fact:
    """The fact of that type."""
    fact: Fact = _FACTS[kind].validate_json(body)
    return fact


def entry_row(athlete_id: int, entry: Entry, seal: Seal) -> dict[str, Any]:
    """The entry's row, without its key."""
    body = fact_json(entry.fact)
    return {
        "athlete_id": athlete_id,
        "number": entry.number,
        "reply": entry.reply,
        "at": entry.at,
        "day": entry.day,
        "kind": type(entry.fact).__name__,
        "body": seal.seal(body, owner=athlete_owner(athlete_id), place="fact.body"),
    }


def entry_from_row(
    row: Row[int, int, datetime, date, str, str], *, owner: str, seal: Seal
) -> Entry:
    """The entry of a row that holds number, reply, at, day, kind and body in that order."""
    number, reply, at, day, kind, sealed = row
    body = seal.open(sealed, owner=owner, place="fact.body")
    return Entry(number, reply, at, day, fact_from_json(kind, body))


def targets_json(targets: tuple[Target, ...]) -> str:
    """The targets as JSON."""
    bare = tuple(replace(target, reasons=()) for target in targets)
    plain = _TARGETS.dump_python(bare, mode="json")
    for item, target in zip(plain, targets, strict=True):
        item["reasons"] = [_reason_json(reason) for reason in target.reasons]
    return json.dumps(plain, ensure_ascii=False)


def targets_from_json(body: str) -> tuple[Target, ...]:
    """The targets, equal to those that were written."""
    plain = json.loads(body)
    reasons = [tuple(_reason_from(r) for r in item["reasons"]) for item in plain]
    bare = _TARGETS.validate_json(json.dumps([{**item, "reasons": []} for item in plain]))
    return tuple(replace(t, reasons=r) for t, r in zip(bare, reasons, strict=True))


def buttons_json(buttons: tuple[Button, ...]) -> str:
    """The buttons as JSON."""
    return _BUTTONS.dump_json(buttons).decode()


def buttons_from_json(body: str) -> tuple[Button, ...]:
    """The buttons, equal to those that were written."""
    return _BUTTONS.validate_json(body)


def _reason_json(reason: Reason) -> list[Any]:
    # A decimal, a date and a word all look like a string in JSON: each value says what it is.
    return [reason.rule, [[name, *_tagged(value)] for name, value in reason.facts]]


def _reason_from(plain: list[Any]) -> Reason:
    rule, facts = plain
    return Reason(rule, tuple((name, _untagged(tag, value)) for name, tag, value in facts))


def _tagged(value: Value) -> tuple[str, str | int]:
    match value:
        case Decimal():
            return "decimal", str(value)
        case date():
            return "date", value.isoformat()
        case int():
            return "int", int(value)
        case _:
            return "text", value


def _untagged(tag: str, value: Any) -> Value:
    match tag:
        case "decimal":
            return Decimal(value)
        case "date":
            return date.fromisoformat(value)
        case "int":
            return int(value)
        case _:
            return str(value)


def inbound_row(inbound: Inbound, seal: Seal) -> dict[str, Any]:
    """The row of something that came in and is not handled."""
    owner = chat_owner(inbound.chat.adapter, inbound.chat.chat_id)
    return {
        "source": inbound.source,
        "update_id": inbound.update_id,
        "adapter": inbound.chat.adapter,
        "chat_id": inbound.chat.chat_id,
        "text": seal.seal(text_to_keep(inbound.text), owner=owner, place="inbox.text"),
        "pressed": inbound.pressed,
        "at": inbound.at,
    }


def inbound_from_row(row: Row[Any], seal: Seal) -> Inbound:
    """What came in."""
    owner = chat_owner(row.adapter, row.chat_id)
    return Inbound(
        chat=Chat(row.adapter, row.chat_id),
        source=row.source,
        update_id=row.update_id,
        text=seal.open(row.text, owner=owner, place="inbox.text"),
        pressed=row.pressed,
        at=row.at,
    )


def outgoing_row(message: Outgoing, *, athlete_id: int, seal: Seal) -> dict[str, Any]:
    """The part of an outbox row that is the message."""
    owner = athlete_owner(athlete_id)
    buttons, targets = buttons_json(message.buttons), targets_json(message.targets)
    return {
        "kind": message.kind,
        "text": seal.seal(text_to_keep(message.text), owner=owner, place="outbox.text"),
        "buttons": seal.seal(buttons, owner=owner, place="outbox.buttons"),
        "targets": seal.seal(targets, owner=owner, place="outbox.targets"),
    }


def parcel_from_row(row: Row[Any], *, doubts: int, seal: Seal) -> Parcel:
    """The message with its address."""
    owner = athlete_owner(row.athlete_id)
    message = Outgoing(
        kind=row.kind,
        text=seal.open(row.text, owner=owner, place="outbox.text"),
        buttons=buttons_from_json(seal.open(row.buttons, owner=owner, place="outbox.buttons")),
        targets=targets_from_json(seal.open(row.targets, owner=owner, place="outbox.targets")),
    )
    return Parcel(
        id=row.id,
        chat=Chat(row.adapter, row.chat_id),
        message=message,
        attempts=row.attempts,
        queued_at=row.queued_at,
        doubts=doubts,
    )


def due_row(athlete_id: int, due: Due) -> dict[str, Any]:
    """The row of a moment still to come."""
    return {
        "athlete_id": athlete_id,
        "kind": due.kind,
        "key": due.key,
        "at": due.at,
        "due_at": due.at,
        "until": due.until,
        "state": "pending",
    }


def due_from_row(row: Row[Any]) -> Due:
    """The moment as it was planned."""
    return Due(kind=row.kind, key=row.key, at=row.at, until=row.until)
