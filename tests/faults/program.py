"""``weeknight serve`` as it is, but for three things: its clock is set to an evening, one text
breaks the handling of a reply, and what a dead process held is free again sooner.

Run as ``python -m tests.faults.program`` with the program's settings and ``FAULTS_AHEAD_S``.
"""

import os
import sys
from datetime import UTC, datetime, timedelta
from typing import Any

import bot.clock
import bot.service

BREAKS = "break the handling of this"
_AHEAD = timedelta(seconds=float(os.environ.get("FAULTS_AHEAD_S", "0")))
_LEASE_S = 3.0
_hear = bot.service.hear


def _now(_: bot.clock.SystemClock) -> datetime:
    return datetime.now(UTC) + _AHEAD


def _hear_or_break(loaded: Any, text: str, **given: Any) -> Any:
    if text == BREAKS:
        raise RuntimeError("broken on purpose")
    return _hear(loaded, text, **given)


if __name__ == "__main__":
    bot.clock.SystemClock.now = _now  # type: ignore[method-assign]
    bot.service.hear = _hear_or_break
    bot.service.LEASE_S = _LEASE_S
    sys.argv = ["weeknight", "serve"]
    from bot.cli import main

    main()
