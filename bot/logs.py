"""What the program writes about itself: one JSON object a line, to standard error.

Our own lines hold the name of an event and numbers. What libraries say is cut to the pattern of
their first line: what they fill into it, and the text of errors, may be somebody's words, an
address or a token.
"""

import json
import logging
import sys
from typing import Any, TextIO

import structlog

_PATTERN_LETTERS = 200


def begin_logs(stream: TextIO | None = None) -> None:
    """Write logs from now on; from libraries, what is a warning or worse."""
    stream = stream or sys.stderr
    structlog.configure(
        processors=[
            structlog.processors.add_log_level,
            structlog.processors.TimeStamper(fmt="iso", utc=True),
            _shown(stream),
        ],
        logger_factory=structlog.WriteLoggerFactory(stream),
        cache_logger_on_first_use=True,
    )
    handler = logging.StreamHandler(stream)
    handler.setFormatter(_Foreign())
    logging.basicConfig(handlers=[handler], level=logging.WARNING, force=True)


def _shown(stream: TextIO) -> Any:
    if stream.isatty():
        return structlog.dev.ConsoleRenderer()
    return structlog.processors.JSONRenderer()


class _Foreign(logging.Formatter):
    """A library's line without anything that was filled in."""

    def format(self, record: logging.LogRecord) -> str:
        first = (str(record.msg).splitlines() or [""])[0]
        said = {
            "event": first[:_PATTERN_LETTERS],
            "library": record.name,
            "level": record.levelname.lower(),
        }
        if record.exc_info and record.exc_info[0] is not None:
            said["error"] = record.exc_info[0].__name__
        return json.dumps(said)
