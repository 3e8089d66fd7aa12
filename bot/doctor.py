"""Looks at settings, database, zone data and token, and says what to do about each."""

import asyncio
from dataclasses import dataclass

from bot.errors import BotError
from bot.programme_file import load_programme
from bot.settings import PROGRAMME, Settings, load_settings
from bot.wiring import open_house, token_owner
from bot.zones import is_zone


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing looked at: whether it is well, and what was seen or what to do."""

    about: str
    is_well: bool
    text: str


def examine(url: str) -> list[Finding]:
    """Look at everything; never raises for what it finds."""
    settings = load_settings()
    return [_database(url), _zones(), _programme(settings), _token(settings)]


def _database(url: str) -> Finding:
    try:
        with open_house(url, make=False) as house:
            waiting = ", ".join(f"{name} {count}" for name, count in house.service.counts().items())
    except BotError as error:
        return Finding("database", False, str(error))
    return Finding("database", True, f"up to date; waiting: {waiting}")


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
