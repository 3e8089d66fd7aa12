"""Looks at settings, database, queue, zone data and token, and says what to do about each."""

import asyncio
from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy import Engine

from bot.errors import BotError
from bot.ports import QueueState
from bot.programme_file import load_programme
from bot.settings import PROGRAMME, Settings, load_settings
from bot.storage.lease import POLLING, lease_holder, only_one_inside
from bot.storage.overview import given_up, queue_state
from bot.wiring import House, open_house, token_owner
from bot.zones import is_zone

BEHIND_S = 300.0
"""What waits for longer than this is worth a look. House rule. [s]"""

LATELY = timedelta(days=1)
"""How far back messages that were given up are counted."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing looked at: whether it is well, and what was seen or what to do."""

    about: str
    is_well: bool
    text: str


def examine(url: str) -> list[Finding]:
    """Look at everything; never raises for what it finds."""
    settings = load_settings()
    return [*_database(url, settings), _zones(), _programme(settings), _token(settings)]


def _database(url: str, settings: Settings) -> list[Finding]:
    try:
        with open_house(url, make=False) as house:
            now = house.clock.now()
            planned = house.service.counts()["due"]
            return [
                Finding("database", True, f"up to date; planned moments: {planned}"),
                _serving(house.engine, settings, now=now),
                _queue(queue_state(house.engine, now=now), now=now),
                _given_up(house, now=now),
            ]
    except BotError as error:
        return [Finding("database", False, str(error))]


def _serving(engine: Engine, settings: Settings, *, now: datetime) -> Finding:
    """Who serves, as far as the database knows."""
    if engine.dialect.name == "sqlite":
        holder = only_one_inside(engine)
        return Finding("serving", True, f"{holder} serves" if holder else "nobody serves just now")
    held = lease_holder(engine, POLLING)
    if held is not None:
        left_s = (held[1] - now).total_seconds()
        return Finding("serving", True, f"polled by {held[0]}, whose lease has {left_s:.0f} s left")
    if settings.webhook_url is not None:
        return Finding("serving", True, "by webhook, so nobody polls")
    return Finding("serving", True, "nobody polls just now")


def _queue(state: QueueState, *, now: datetime) -> Finding:
    waiting = (
        ("to answer", state.inbox, state.inbox_since),
        ("to send", state.outbox, state.outbox_since),
        ("moments late", state.due, state.due_since),
    )
    is_well, said = True, []
    for what, count, since in waiting:
        age_s = max(0.0, (now - since).total_seconds()) if since else 0.0
        is_well = is_well and age_s <= BEHIND_S
        said.append(f"{what} {count}" + (f" (oldest {age_s:.0f} s)" if since else ""))
    hint = "" if is_well else "; is weeknight serve running, and what does its log say?"
    return Finding("queue", is_well, f"waiting: {', '.join(said)}{hint}")


def _given_up(house: House, *, now: datetime) -> Finding:
    reasons = given_up(house.engine, since=now - LATELY)
    said = ", ".join(f"{why} {count}" for why, count in reasons) or "none"
    return Finding("given up", True, f"messages in the last 24 hours: {said}")


def _zones() -> Finding:
    if is_zone("Europe/Oslo"):
        return Finding("zone data", True, "found")
    return Finding("zone data", False, "missing; run: pip install tzdata")


def _programme(settings: Settings) -> Finding:
    if settings.programme is None:
        return Finding("programme", True, "the default one")
    try:
        programme = load_programme(settings.programme, named=PROGRAMME)
    except BotError as error:
        return Finding("programme", False, str(error))
    return Finding("programme", True, f"{programme.name}, from {settings.programme}")


def _token(settings: Settings) -> Finding:
    if settings.token is None and settings.token_file is None:
        return Finding(
            "token",
            True,
            "none; needed for serve only: set WEEKNIGHT_TOKEN or WEEKNIGHT_TOKEN_FILE",
        )
    try:
        name = asyncio.run(token_owner(settings))
    except BotError as error:
        return Finding("token", False, str(error))
    return Finding("token", True, f"accepted for @{name}")
