"""The companion in a terminal. Readable without colour; plain when input is not a keyboard."""

import sys
import threading
from collections.abc import Callable, Iterator
from typing import Protocol
from uuid import uuid4

from rich.console import Console
from rich.text import Text

from bot.clock import Clock
from bot.ports import Button, Chat, Handler, Inbound, Parcel

CHAT = Chat("terminal", 1)
"""There is one athlete at a keyboard."""

GOODBYE = frozenset({"bye", "quit", "exit"})


class Spoken(Handler, Protocol):
    """What the terminal needs of the service beside what every adapter needs."""

    def is_known(self, chat: Chat) -> bool: ...


class Terminal:
    """Reads lines, shows messages, lets planned moments speak in between."""

    def __init__(
        self,
        handler: Spoken,
        clock: Clock,
        deliver: Callable[[Callable[[Parcel], None]], object],
        *,
        console: Console | None = None,
    ) -> None:
        self._handler = handler
        self._clock = clock
        self._deliver = deliver
        self._console = console or Console(highlight=False, soft_wrap=not sys.stdout.isatty())
        self._source = f"terminal:{uuid4()}"
        self._count = 0
        self._buttons: dict[str, Button] = {}
        # The ticking thread and the typing one take turns: one shows at a time.
        self._turns = threading.Lock()

    def run(self, start_ticking: Callable[[Callable[[], object]], Callable[[], None]]) -> None:
        """Talk until the input ends.

        Args:
            start_ticking: Calls a function regularly; returns what ends that.
        """
        for inbound in self._handler.waiting():
            # Typed before the last run ended and never answered.
            if inbound.chat == CHAT:
                self._handler.handle(inbound)
        if self._handler.is_known(CHAT):
            self._show_waiting()
        else:
            self.hear("/start")
        stop = start_ticking(self._tick)
        try:
            for line in self._lines():
                if line.strip().casefold() in GOODBYE:
                    break
                self.hear(line)
        finally:
            stop()

    def hear(self, line: str) -> None:
        """Answer one typed line; a button's label stands for its reply."""
        if not line.strip():
            return
        button = self._buttons.get(line.strip().casefold())
        with self._turns:
            self._count += 1
            inbound = Inbound(
                chat=CHAT,
                source=self._source,
                update_id=self._count,
                text=button.send if button else line,
                pressed=button is not None,
                at=self._clock.now(),
            )
            for kept in self._handler.keep([inbound]):
                self._handler.handle(kept)
            self._deliver(self._show)

    def _tick(self) -> None:
        with self._turns:
            if self._handler.tick():
                self._deliver(self._show)

    def _show_waiting(self) -> None:
        with self._turns:
            self._deliver(self._show)

    def _show(self, parcel: Parcel) -> None:
        message = parcel.message
        self._console.print(Text(message.text))
        if message.buttons:
            labels = "  ".join(f"[{b.label}]" for b in message.buttons)
            self._console.print(Text(labels, style="bold"))
            self._buttons = {b.label.casefold(): b for b in message.buttons}
        self._console.print()

    def _lines(self) -> Iterator[str]:
        if not sys.stdin.isatty():
            yield from (line.rstrip("\n") for line in sys.stdin)
            return
        while True:
            try:
                yield input("> ")
            except (EOFError, KeyboardInterrupt):
                self._console.print()
                return
