"""What the program writes about itself."""

import io
import json
import logging
from collections.abc import Iterator

import pytest
import structlog

from bot.logs import begin_logs


@pytest.fixture
def stream() -> Iterator[io.StringIO]:
    root = logging.getLogger()
    before = (root.handlers[:], root.level)
    written = io.StringIO()
    begin_logs(written)
    yield written
    root.handlers[:], root.level = before[0], before[1]
    structlog.reset_defaults()


def lines(stream: io.StringIO) -> list[dict[str, str]]:
    return [json.loads(line) for line in stream.getvalue().splitlines()]


def test_our_lines_are_one_json_object_each(stream: io.StringIO) -> None:
    structlog.get_logger("a").warning("poll_failed", wait_s=1.5)
    (line,) = lines(stream)
    assert (line["event"], line["wait_s"], line["level"]) == ("poll_failed", 1.5, "warning")
    assert line["timestamp"].endswith("Z")


def test_library_lines_hold_their_pattern_and_nothing_filled_in(stream: io.StringIO) -> None:
    log = logging.getLogger("some.library")
    log.warning("request to %s failed", "https://host/bot4242:secret/sendMessage")
    try:
        raise ValueError("planted text")
    except ValueError:
        log.exception("Task was never retrieved\nfuture: <Task exception=planted text>")
    log.info("never shown")
    first, second = lines(stream)
    assert first["event"] == "request to %s failed"
    assert second == {
        "event": "Task was never retrieved",
        "library": "some.library",
        "level": "error",
        "error": "ValueError",
    }
    assert "planted" not in stream.getvalue()
    assert "secret" not in stream.getvalue()
