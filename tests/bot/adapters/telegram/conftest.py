from collections.abc import Iterator

import pytest

from tests.bot.adapters.telegram.memory import MemoryService
from tests.double.bot_api import BotApiDouble


@pytest.fixture
def double() -> Iterator[BotApiDouble]:
    with BotApiDouble() as running:
        yield running


@pytest.fixture
def service() -> MemoryService:
    return MemoryService()
