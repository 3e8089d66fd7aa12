"""One turn of the talk: what is known, and what this turn adds. No input or output."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from functools import cached_property
from typing import Any

from bot.conversation.talk import Talk
from bot.ports import Button, Loaded, MessageKind, Outgoing
from core.athlete import Athlete, athlete_from_facts
from core.calendar import training_day
from core.facts import Entry, Fact
from core.planning import Evening, evening
from core.target import Target

UNKNOWN_ZONE = "UTC"
"""Counts days until the athlete names a zone; nothing is planned before that."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a turn adds: facts, messages to send, and the conversation's new state."""

    entries: tuple[Entry, ...]
    messages: tuple[Outgoing, ...]
    talk: Talk
    athlete: Athlete


class Turn:
    """Collects what one reply, or one planned moment, leads to.

    Attributes:
        now: The moment. Aware, UTC.
        talk: The conversation's state, replaced as the turn goes on.
        typed: What was typed before, where this reply is a correction offered for it.
        judging: Entry number of the log whose effort was asked for by the answer before.
    """

    def __init__(self, loaded: Loaded, talk: Talk, *, now: datetime) -> None:
        self.now = now
        self.talk = talk
        self.typed: str | None = None
        self.judging: int | None = None
        self._before = loaded.entries
        self._programme = loaded.programme
        self._earlier = loaded.athlete
        self._added: list[Entry] = []
        self._parts: list[str] = []
        self._buttons: tuple[Button, ...] = ()
        self._targets: list[Target] = []
        self._before_answer: list[Outgoing] = []
        self._others: list[Outgoing] = []
        self._reply = loaded.entries[-1].reply + 1 if loaded.entries else 1

    @property
    def entries(self) -> tuple[Entry, ...]:
        """Every entry, this turn's included."""
        return (*self._before, *self._added)

    @property
    def has_noted(self) -> bool:
        """Whether this turn has added to the record."""
        return bool(self._added)

    @cached_property
    def athlete(self) -> Athlete:
        """The athlete as of now, this turn's facts included."""
        return athlete_from_facts(self.entries, self._programme, earlier=self._earlier)

    @property
    def zone(self) -> str:
        """The athlete's zone, or the one that stands in until it is known."""
        return self.athlete.zone or UNKNOWN_ZONE

    @property
    def today(self) -> date:
        """The training day of this moment."""
        return training_day(self.now, self.zone)

    @cached_property
    def tonight(self) -> Evening:
        """Tonight's evening as it stands now."""
        return evening(self.athlete, today=self.today)

    @property
    def is_guided(self) -> bool:
        """True once the athlete began tonight's evening."""
        return self.today in self.athlete.started

    @property
    def in_hand(self) -> str | None:
        """The exercise being done or spoken of tonight, else the next one of a begun evening."""
        if self.talk.in_hand is not None and self.talk.in_hand_on == self.today:
            return self.talk.in_hand
        current = self.tonight.current if self.is_guided else None
        return current.exercise.slug if current else None

    @property
    def last_logged(self) -> str | None:
        """The exercise of the log that was written last, None without one."""
        last = max(self.athlete.logs, key=lambda dated: dated.number, default=None)
        return None if last is None else last.log.exercise

    def take_in_hand(self, slug: str | None) -> None:
        """Remember which exercise is meant from here on tonight."""
        self.remember(in_hand=slug, in_hand_on=self.today if slug else None)

    def remember(self, **changes: Any) -> None:
        """Change parts of the conversation's state."""
        self.talk = replace(self.talk, **changes)

    def take_up(self, reply: str) -> None:
        """See whether this reply is one of the corrections offered for the last one."""
        if self.talk.misread is not None:
            self.typed = self.talk.misread if reply in self.talk.offers else None
            self.remember(misread=None, offers=())
        if self.talk.judging is not None:
            self.judging = self.talk.judging
            self.remember(judging=None)

    def note(self, fact: Fact, *, day: date | None = None) -> Entry:
        """Add a fact to the athlete's record, for today unless another day is named."""
        number = self.entries[-1].number + 1 if self.entries else 1
        entry = Entry(number, self._reply, self.now, day or self.today, fact)
        self._added.append(entry)
        # What was derived from the record is stale now.
        self._earlier = self.__dict__.pop("athlete", self._earlier)
        self.__dict__.pop("tonight", None)
        return entry

    def say(
        self,
        *lines: str,
        buttons: Sequence[Button] = (),
        targets: Sequence[Target] = (),
    ) -> None:
        """Add a paragraph to the answer; the last buttons given are the ones shown."""
        text = "\n".join(line for line in lines if line)
        if text:
            self._parts.append(text)
        if buttons:
            self._buttons = tuple(buttons)
        self._targets.extend(targets)

    def send(
        self,
        kind: MessageKind,
        *lines: str,
        buttons: Sequence[Button] = (),
        targets: Sequence[Target] = (),
    ) -> None:
        """Send a message of its own, after the answer."""
        text = "\n".join(line for line in lines if line)
        self._others.append(Outgoing(kind, text, tuple(buttons), tuple(targets)))

    def greet(self, text: str) -> None:
        """Send a message of its own, before the answer."""
        self._before_answer.append(Outgoing("answer", text))

    def outcome(self) -> Outcome:
        """All that this turn adds."""
        messages = list(self._before_answer)
        if self._parts:
            text = "\n\n".join(self._parts)
            messages.append(Outgoing("answer", text, self._buttons, tuple(self._targets)))
        messages += self._others
        return Outcome(tuple(self._added), tuple(messages), self.talk, self.athlete)
