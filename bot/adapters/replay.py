"""Replays a scenario on a simulated clock: nothing sleeps, moments come at their times."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Protocol
from uuid import uuid4
from zoneinfo import ZoneInfo

from bot.adapters.scenario import BadScenario, Line, Scenario, line_text
from bot.clock import HandClock
from bot.ports import Button, Chat, Handler, Inbound, Parcel
from bot.wording.contract import target_as_json

CHAT = Chat("terminal", 1)
"""The chat a replay plays in: the terminal's own, so that a replayed record can be talked to."""


class Replayed(Handler, Protocol):
    """What a replay needs of the service beside what every adapter needs."""

    def introduce(self, chat: Chat, *, zone: str) -> None: ...

    def next_moment(self) -> datetime | None: ...


@dataclass(frozen=True, slots=True)
class Event:
    """One message of the replayed dialogue. ``parcel`` is None for the athlete's own."""

    at: datetime
    sign: str
    text: str
    parcel: Parcel | None

    def as_line(self) -> str:
        """As it stands in a scenario file, buttons in brackets on a line of their own."""
        text = self.text
        if self.parcel is not None and self.parcel.message.buttons:
            text += "\n" + " ".join(f"[{b.label}]" for b in self.parcel.message.buttons)
        return line_text(self.at, self.sign, text)

    def as_json(self) -> dict[str, Any]:
        """As one object of the program's contract."""
        message = self.parcel.message if self.parcel is not None else None
        return {
            "at": self.at.isoformat(),
            "who": "companion" if message else "athlete",
            "kind": message.kind if message else None,
            "text": self.text,
            "buttons": [b.label for b in message.buttons] if message else [],
            "picture": None,
            "targets": [target_as_json(t) for t in message.targets] if message else [],
        }


class Replay:
    """Plays one scenario against the service."""

    def __init__(
        self,
        handler: Replayed,
        clock: HandClock,
        deliver: Callable[[Callable[[Parcel], None]], object],
    ) -> None:
        self._handler = handler
        self._clock = clock
        self._deliver = deliver
        self._source = f"replay:{uuid4()}"
        self._buttons: dict[str, Button] = {}
        self._outbox: list[Parcel] = []

    def play(self, scenario: Scenario) -> Iterator[Event]:
        """The dialogue, message by message.

        Raises:
            BadScenario: A line presses a button that nothing offered.
        """
        self._clock.set(scenario.begins)
        self._handler.introduce(CHAT, zone=scenario.zone)
        zone = ZoneInfo(scenario.zone)
        for line in scenario.lines:
            if line.who != "says":
                yield from self._pass_time(line.at, zone)
                yield from self._speak(line, zone)
        if scenario.ends is not None:
            yield from self._pass_time(scenario.ends, zone)

    def _pass_time(self, until: datetime, zone: ZoneInfo) -> Iterator[Event]:
        """Fire what comes up to that moment, each at its own time."""
        while (moment := self._handler.next_moment()) is not None and moment <= until:
            self._clock.set(max(moment, self._clock.now()))
            self._handler.tick()
            yield from self._sent(zone)
        self._clock.set(until)

    def _speak(self, line: Line, zone: ZoneInfo) -> Iterator[Event]:
        text = line.text
        if line.who == "presses":
            button = self._buttons.get(line.text)
            if button is None:
                offered = ", ".join(self._buttons) or "none"
                raise BadScenario(line.number, f"no button {line.text!r}; offered: {offered}")
            text = button.send
        yield Event(line.at, ">>" if line.who == "presses" else ">", line.text, None)
        inbound = Inbound(
            chat=CHAT,
            source=self._source,
            update_id=line.number,
            text=text,
            pressed=line.who == "presses",
            at=self._clock.now(),
        )
        for kept in self._handler.keep([inbound]):
            self._handler.handle(kept)
        yield from self._sent(zone)

    def _sent(self, zone: ZoneInfo) -> Iterator[Event]:
        self._outbox.clear()
        self._deliver(self._outbox.append)
        at = self._clock.now().astimezone(zone)
        for parcel in self._outbox:
            for button in parcel.message.buttons:
                self._buttons[button.label] = button
            yield Event(at, "<", parcel.message.text, parcel)
