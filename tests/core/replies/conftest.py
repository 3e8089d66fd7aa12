"""Replies read at one fixed moment: Tuesday 1 December 2026, 18:00 in Oslo."""

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import pytest

from core.replies import read
from core.replies.act import ReplyContext
from core.replies.contract import reading_as_json


@pytest.fixture(scope="session")
def context() -> ReplyContext:
    return ReplyContext(units="kg", at=datetime(2026, 12, 1, 17, 0, tzinfo=UTC), zone="Europe/Oslo")


@pytest.fixture(scope="session")
def as_json(context: ReplyContext) -> Callable[[str], dict[str, Any]]:
    """Reads a reply and gives its JSON."""
    return lambda text: reading_as_json(read(text, context))
