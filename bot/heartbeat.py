"""Tells systemd, where it asks for it, that the program has begun, is alive, and is stopping.

See sd_notify(3) and WatchdogSec= in systemd.service(5).
"""

import asyncio
import contextlib
import socket


class Heartbeat:
    """Beats as long as the event loop turns.

    Args:
        address: The socket to tell, a path or a name that begins with "@"; None where nobody asks.
        patience_us: How long silence may last before we count as dead; None for ever. [us]
    """

    def __init__(self, address: str | None, patience_us: int | None) -> None:
        self._address = address.replace("@", "\0", 1) if address else None
        self._every_s = patience_us / 2_000_000 if patience_us else None

    async def beat(self) -> None:
        """Say that we have begun, then that we live, until cancelled."""
        self.say("READY=1")
        while self._every_s is not None:
            await asyncio.sleep(self._every_s)
            self.say("WATCHDOG=1")

    def say(self, word: str) -> None:
        """Tell one thing. Nobody listening is no trouble."""
        if self._address is None:
            return
        with (
            contextlib.suppress(OSError),
            socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as teller,
        ):
            teller.setblocking(False)
            teller.sendto(word.encode(), self._address)
