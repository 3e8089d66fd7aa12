"""The real program as child processes: several on one database, killed, stopped, watched."""

import json
import os
import signal
import socket
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.error import HTTPError, URLError
from urllib.request import urlopen

from tests.double.bot_api import BotApiDouble

PATIENCE_S = 60.0
"""Generous: the machine may be busy with other things. [s]"""


class Replica:
    """One process of the program and what it writes about itself."""

    def __init__(self, process: "subprocess.Popen[bytes]", log: Path, health: str | None) -> None:
        self.process = process
        self._log = log
        self._health = health

    def logs(self) -> list[dict[str, Any]]:
        """Its log so far."""
        lines = self._log.read_text(encoding="utf-8").splitlines()
        return [json.loads(line) for line in lines if line.startswith("{")]

    def said(self, event: str) -> bool:
        """Whether it logged that."""
        return any(line["event"] == event for line in self.logs())

    def text(self) -> str:
        """All it wrote."""
        return self._log.read_text(encoding="utf-8")

    def get(self, page: str) -> tuple[int, str]:
        """A page of its health; status 0 while nothing listens."""
        try:
            with urlopen(f"http://{self._health}{page}", timeout=10) as answer:
                return answer.status, answer.read().decode()
        except HTTPError as error:
            with error:
                return error.code, error.read().decode()
        except (URLError, ConnectionError):
            return 0, ""

    def is_ready(self) -> bool:
        return self.get("/readyz")[0] == 200

    def kill(self) -> None:
        self.process.send_signal(signal.SIGKILL)
        self.process.wait(timeout=PATIENCE_S)

    def stop(self) -> int:
        """Ask it to stop; the code it ends with."""
        self.process.send_signal(signal.SIGTERM)
        return self.process.wait(timeout=PATIENCE_S)


def free_address() -> str:
    """An address on loopback that nobody listens on just now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return f"127.0.0.1:{probe.getsockname()[1]}"


@contextmanager
def replica(double: BotApiDouble, url: str, **settings: str) -> Iterator[Replica]:
    """The program serving from that database, killed at the end of the block at the latest."""
    with tempfile.TemporaryDirectory(prefix="weeknight-replica-") as folder:
        log = Path(folder) / "log"
        health = settings.setdefault("HEALTH_LISTEN", free_address())
        usual = {
            "TOKEN": double.token,
            "API_URL": double.api_url,
            "POLL_S": "2",
            "TICK_S": "0.5",
            "CHAT_SENDS_PER_S": "1000",
            "SENDS_PER_S": "1000",
        }
        environment = {f"WEEKNIGHT_{name}": value for name, value in (usual | settings).items()}
        with log.open("wb") as file:
            process = subprocess.Popen(
                [sys.executable, "-m", "bot.cli", "serve", "--db", url],
                env={**os.environ, **environment},
                stdout=file,
                stderr=file,
            )
        try:
            yield Replica(process, log, health)
        finally:
            if process.poll() is None:
                process.send_signal(signal.SIGKILL)
            process.wait(timeout=PATIENCE_S)
