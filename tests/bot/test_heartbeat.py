"""What systemd is told. The words are those of sd_notify(3)."""

import asyncio
import socket
from pathlib import Path

import pytest

from bot.heartbeat import Heartbeat


@pytest.mark.parametrize("name", ["a path", "an abstract name"])
async def test_beat_begins_and_goes_on(tmp_path: Path, name: str) -> None:
    address = str(tmp_path / "notify") if name == "a path" else f"\0weeknight-{tmp_path.name}"
    with socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as listener:
        listener.bind(address)
        listener.setblocking(False)
        heart = Heartbeat(address.replace("\0", "@"), patience_us=20_000)
        beating = asyncio.create_task(heart.beat())
        async with asyncio.timeout(10):
            loop = asyncio.get_running_loop()
            heard = [await loop.sock_recv(listener, 100) for _ in range(3)]
        beating.cancel()
        assert heard == [b"READY=1", b"WATCHDOG=1", b"WATCHDOG=1"]


async def test_beat_without_anybody_who_asks_or_listens_is_no_trouble(tmp_path: Path) -> None:
    await Heartbeat(None, None).beat()
    await Heartbeat(str(tmp_path / "nobody"), None).beat()
