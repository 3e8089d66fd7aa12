"""Playing a run: the real program as a child process, people who type, faults, kills."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

from sqlalchemy import text

from bot.storage import make_engine
from bot.storage.engine import reading
from tests.double.bot_api import BotApiDouble
from tests.faults.place import REMINDER_AT
from tests.faults.plan import ANSWER_S, CHATS, SENDS, Kill, Plan, Trouble
from tests.faults.program import BREAKS

PATIENCE_S = 90.0
"""After the last deed until nothing is left to be done: bounds a hang, no more. [s]"""

_LOOK_S = 0.1
_NOT_BEFORE_S = 0.3


@dataclass
class Played:
    """What came of a run, for the verdict.

    Attributes:
        typed: Updates by number, with chat and text.
        kills: When, by ``time.monotonic``.
        quiet: True when nothing was left to be done in the end.
        began_at: By the program's clock.
    """

    began_at: datetime
    typed: dict[int, tuple[int, str]] = field(default_factory=dict)
    kills: list[float] = field(default_factory=list)
    quiet: bool = False


class Player:
    """Plays one plan against one double and one database."""

    def __init__(self, plan: Plan, double: BotApiDouble, url: str, *, now: datetime) -> None:
        self._plan = plan
        self._double = double
        self._url = url
        self._engine = make_engine(url)
        # So that the reminder's moment comes when the plan says, counted from now.
        self._ahead = REMINDER_AT - timedelta(seconds=plan.remind_s) - now
        self.played = Played(now + self._ahead)
        self._child: subprocess.Popen[bytes] | None = None

    def play(self) -> Played:
        """Play it to the end."""
        try:
            self._start()
            began = time.monotonic()
            for at_s, act in sorted(self._deeds(), key=lambda deed: deed[0]):
                time.sleep(max(0.0, began + at_s - time.monotonic()))
                act()
            self._finish()
        finally:
            self._kill_child()
            self._engine.dispose()
        return self.played

    def _deeds(self) -> list[tuple[float, Callable[[], None]]]:
        plan = self._plan
        deeds: list[tuple[float, Callable[[], None]]] = [
            (at_s, lambda c=chat_id, load=load: self._type(c, f"crimp 4x{load}kg ok"))  # type: ignore[misc]
            for at_s, chat_id, load in plan.logs
        ]
        deeds += [(each.at_s, lambda t=each: self._trouble(t)) for each in plan.troubles]  # type: ignore[misc]
        return deeds + [(each.at_s, lambda k=each: self._kill(k)) for each in plan.kills]  # type: ignore[misc]

    def _type(self, chat_id: int, words: str) -> int:
        number = self._double.types(chat_id, words)
        self.played.typed[number] = (chat_id, words)
        return number

    def _trouble(self, trouble: Trouble) -> None:
        double, name, chat_id = self._double, trouble.name, trouble.chat_id
        if name in SENDS:
            double.fail("sendMessage", SENDS[name], chat_id=chat_id)
        elif name.startswith("poll "):
            double.fail("getUpdates", SENDS[name.removeprefix("poll ")])
        elif name == "blocks":
            double.blocks(chat_id)
        elif name == "twice":
            double.repeat(self._type(chat_id, "crimp 4x30kg ok"))
        elif name == "reordered":
            double.reverse_next()
            self._type(chat_id, "crimp 4x31kg ok")
            self._type(chat_id, "crimp 4x32kg ok")
        elif name == "breaks":
            self._type(chat_id, BREAKS)
        else:
            double.push({"message": {"message_id": "none", "from": {"id": chat_id}}})

    def _kill(self, kill: Kill) -> None:
        if kill.at_send:
            seen = len(self._double.calls("sendMessage"))
            deadline = time.monotonic() + 1.0
            while len(self._double.calls("sendMessage")) == seen and time.monotonic() < deadline:
                time.sleep(0.001)
        time.sleep(kill.after_s)
        self._kill_child()
        self.played.kills.append(time.monotonic())
        if self._engine.dialect.name == "postgresql":
            # As if the time had passed after which another process may poll.
            with self._engine.begin() as connection:
                connection.execute(text("DELETE FROM lease"))
        self._start()

    def _finish(self) -> None:
        """See all done, let everybody say one thing more, and see that done."""
        self._wait_until_quiet()
        self._double.heal()
        for chat_id in CHATS:
            self._double.unblocks(chat_id)
            self._type(chat_id, "kit")
        self.played.quiet = self._wait_until_quiet()

    def _wait_until_quiet(self) -> bool:
        deadline = time.monotonic() + PATIENCE_S
        time.sleep(_NOT_BEFORE_S)
        quiet = 0
        while time.monotonic() < deadline and quiet < 2:
            time.sleep(_LOOK_S)
            quiet = quiet + 1 if self._is_quiet() else 0
        return quiet == 2

    def _is_quiet(self) -> bool:
        """Nothing waits, and what was to come has come."""
        now = datetime.now(UTC) + self._ahead
        if now < REMINDER_AT + timedelta(seconds=1):
            return False
        if not all(self._double.confirmed(number) for number in self.played.typed):
            return False
        # Reading only: who looks on must not keep the program from writing.
        with reading(self._engine).connect() as connection:
            waits = connection.execute(
                text(
                    "SELECT (SELECT count(*) FROM inbox WHERE handled_at IS NULL)"
                    " + (SELECT count(*) FROM outbox WHERE done_at IS NULL)"
                    " + (SELECT count(*) FROM due WHERE done_at IS NULL AND at < :now)"
                ),
                {
                    "now": now
                    if self._engine.dialect.name == "postgresql"
                    else f"{now:%Y-%m-%d %H:%M:%S.%f}"
                },
            ).scalar_one()
        return bool(waits == 0)

    def _start(self) -> None:
        self._child = subprocess.Popen(
            [sys.executable, "-m", "tests.faults.program"],
            env={
                **os.environ,
                "FAULTS_AHEAD_S": str(self._ahead.total_seconds()),
                "WEEKNIGHT_DATABASE_URL": self._url,
                "WEEKNIGHT_TOKEN": self._double.token,
                "WEEKNIGHT_API_URL": self._double.api_url,
                "WEEKNIGHT_POLL_S": "2",
                "WEEKNIGHT_TICK_S": "0.2",
                "WEEKNIGHT_ANSWER_S": str(ANSWER_S),
                "WEEKNIGHT_LEASE_S": "3",
                "WEEKNIGHT_CHAT_SENDS_PER_S": "20",
            },
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )

    def _kill_child(self) -> None:
        if self._child is not None and self._child.poll() is None:
            self._child.send_signal(signal.SIGKILL)
            self._child.wait(timeout=10)
