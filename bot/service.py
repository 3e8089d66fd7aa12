"""The one door for adapters: keep what came in, answer it, fire what is due.

Each is one transaction, so that facts, state and messages stand or fall together.
"""

import traceback
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from time import perf_counter
from typing import Literal

from bot.clock import Clock
from bot.conversation.moments import moments
from bot.conversation.step import come, hear
from bot.conversation.talk import Talk, talk_as_text, talk_from_text
from bot.conversation.turn import Outcome
from bot.counting import Counting, ReplyResult, Uncounted
from bot.errors import StoreAway
from bot.kept import Kept
from bot.ports import Chat, ClaimedDue, Inbound, Loaded, Outgoing, Store, Work
from core.athlete import Athlete, athlete_from_facts
from core.calendar import training_day
from core.errors import Unknown
from core.facts import Entry, SettingChanged
from core.programme import Programme

LEASE_S = 20.0
"""How long a claimed moment is this process's own before another may take it. [s]"""

CLAIMED_AT_ONCE = 20
"""Moments taken before it is asked again what has come: a timer waits for no more than these."""

WAITING_AT_ONCE = 1000

KEPT_FACTS = 32_768
"""Athletes are kept in memory as far as they rest on no more facts than this, all together."""

SORRY = (
    "Something went wrong on my side; your message is kept but was not counted. "
    "Please look with next or tonight before you type it again."
)

Record = tuple[tuple[Entry, ...], Athlete]
"""Everything noted of an athlete, and what it adds up to."""


class Service:
    """Loads, lets the conversation decide, and saves: facts, state and messages together.

    The programme holds for every athlete; None is the default one.
    """

    def __init__(
        self,
        store: Store,
        clock: Clock,
        programme: Programme | None = None,
        counting: Counting | None = None,
    ) -> None:
        self._store = store
        self._clock = clock
        self._programme = programme
        self._counting = counting or Uncounted()
        self._records: Kept[int, Record] = Kept(most=KEPT_FACTS, weigh=_facts_of)

    def keep(self, inbounds: Sequence[Inbound]) -> tuple[Inbound, ...]:
        """Keep what came in, durably; those not seen before."""
        with self._store.work() as work:
            return tuple(i for i in inbounds if work.record(i))

    def waiting(self) -> tuple[Inbound, ...]:
        """What was kept and not handled, oldest first."""
        with self._store.read() as work:
            return work.waiting(WAITING_AT_ONCE)

    def handle(self, inbound: Inbound) -> None:
        """Answer a kept message, and before it what came earlier from the same chat.

        If answering one fails, that is said instead; the message stays on record.

        Raises:
            StoreAway: The database cannot be asked; the message still waits to be handled.
        """
        while (first := self._handle_first(inbound.chat)) is not None:
            if _is_same(first, inbound):
                return

    def _handle_first(self, chat: Chat) -> Inbound | None:
        """Answer the oldest message of a chat that waits; None if none does."""
        began_s = perf_counter()
        inbound = None
        try:
            with self._store.work() as work:
                inbound = work.first_waiting(chat)
                if inbound is None:
                    return None
                stored = work.load(chat) or work.open(chat, at=inbound.at)
                loaded = self._known(stored)
                outcome = hear(loaded, inbound.text, pressed=inbound.pressed, now=inbound.at)
                self._save(work, loaded, outcome)
                work.handled(inbound, at=self._clock.now())
            self._keep(loaded, outcome)
        except StoreAway:
            raise
        except Exception as error:
            if inbound is None:
                raise
            _log_error("reply_not_handled", error, update_id=inbound.update_id)
            self._apologise(inbound, type(error).__name__)
            self._counting.replied("failed", took_s=perf_counter() - began_s)
        else:
            result: ReplyResult = "understood" if outcome.talk.misread is None else "misread"
            self._counting.replied(result, took_s=perf_counter() - began_s)
        return inbound

    def _apologise(self, inbound: Inbound, problem: str) -> None:
        now = self._clock.now()
        with self._store.work() as work:
            first = work.first_waiting(inbound.chat)
            if first is None or not _is_same(first, inbound):
                return  # another process was quicker
            loaded = work.load(inbound.chat) or work.open(inbound.chat, at=inbound.at)
            work.queue(loaded.athlete_id, [Outgoing("answer", SORRY)], at=now)
            work.handled(inbound, at=now, problem=problem)

    def gone(self, chat: Chat) -> None:
        """The chat is closed to us: stop sending there."""
        with self._store.work() as work:
            work.mark_gone(chat, at=self._clock.now())

    def resume(self, adapter: str) -> None:
        """Take over what a process that died held. Only where no other process is at work."""
        with self._store.work() as work:
            work.release(adapter, now=self._clock.now())

    def tick(self, limit: int = 100) -> int:
        """Fire the moments that have come; how many were looked at."""
        looked_at = 0
        while looked_at < limit and self._has_come():
            with self._store.work() as work:
                most = min(limit - looked_at, CLAIMED_AT_ONCE)
                claimed = work.claim_due(now=self._clock.now(), limit=most, lease_s=LEASE_S)
            if not claimed:
                break
            for due in claimed:
                try:
                    self._fire(due)
                except Exception as error:  # noqa: BLE001 - one failure must not stop the rest
                    _log_error("moment_not_fired", error, due_id=due.id)
            looked_at += len(claimed)
        return looked_at

    def _has_come(self) -> bool:
        """Whether a moment has come, asked without keeping anybody from writing."""
        with self._store.read() as work:
            at = work.next_due_at()
        return at is not None and at <= self._clock.now()

    def _fire(self, claimed: ClaimedDue) -> None:
        now = self._clock.now()
        with self._store.work() as work:
            loaded = self._known(work.load_id(claimed.athlete_id))
            dropped = now > claimed.due.until or work.is_outdone(claimed, now=now)
            outcome_of_due: Literal["fired", "dropped"] = "dropped" if dropped else "fired"
            if not work.finish_due(claimed.id, at=now, outcome=outcome_of_due):
                return
            if dropped:
                athlete = self._athlete(loaded)
                self._plan(work, loaded.athlete_id, athlete, talk_from_text(loaded.talk))
            else:
                outcome = come(loaded, claimed.due, now=now)
                self._save(work, loaded, outcome, until=claimed.due.until)
        if not dropped:
            self._keep(loaded, outcome)
        late_s = (now - claimed.due.at).total_seconds()
        self._counting.fired(claimed.due.kind, late_s=late_s, dropped=dropped)

    def _known(self, stored: Loaded) -> Loaded:
        """What was stored, with the athlete it adds up to as far as that was worked out before."""
        entries, athlete = self._records.get(stored.athlete_id) or ((), None)
        if entries != stored.entries[: len(entries)]:
            athlete = None
        return replace(stored, programme=self._programme, athlete=athlete)

    def _athlete(self, loaded: Loaded) -> Athlete:
        return athlete_from_facts(loaded.entries, loaded.programme, earlier=loaded.athlete)

    def _keep(self, loaded: Loaded, outcome: Outcome) -> None:
        """Keep an athlete for the next time. Only once all it rests on is committed."""
        entries = (*loaded.entries, *outcome.entries)
        self._records.put(loaded.athlete_id, (entries, outcome.athlete))

    def _save(
        self, work: Work, loaded: Loaded, outcome: Outcome, *, until: datetime | None = None
    ) -> None:
        """Save what came of it; past ``until`` its messages have lost their point."""
        if outcome.entries:
            work.append(loaded.athlete_id, outcome.entries)
        talk = talk_as_text(outcome.talk)
        if talk != loaded.talk:
            work.keep_talk(loaded.athlete_id, talk)
        now = self._clock.now()
        if outcome.messages:
            work.queue(loaded.athlete_id, outcome.messages, at=now, until=until)
        self._plan(work, loaded.athlete_id, outcome.athlete, outcome.talk)

    def _plan(self, work: Work, athlete_id: int, athlete: Athlete, talk: Talk) -> None:
        work.plan(athlete_id, moments(athlete, talk, now=self._clock.now()))

    def is_known(self, chat: Chat) -> bool:
        """True once that chat has an athlete."""
        with self._store.read() as work:
            return work.load(chat) is not None

    def introduce(self, chat: Chat, *, zone: str) -> None:
        """Make sure that the chat has an athlete in that zone, without a word said."""
        now = self._clock.now()
        with self._store.work() as work:
            loaded = work.load(chat) or work.open(chat, at=now)
            if self._athlete(loaded).zone == zone:
                return
            number = len(loaded.entries) + 1
            reply = loaded.entries[-1].reply + 1 if loaded.entries else 1
            day = training_day(now, zone)
            fact = SettingChanged("zone", zone)
            work.append(loaded.athlete_id, [Entry(number, reply, now, day, fact)])

    def athlete(self, chat: Chat | None) -> Athlete:
        """The athlete of that chat; without a chat, the only one there is.

        An athlete nobody has met yet has no facts.

        Raises:
            Unknown: Several athletes are kept and none was named.
        """
        with self._store.read() as work:
            known = work.athletes()
            if chat is None and len(known) > 1:
                raise Unknown("single athlete", "among several chats")
            found = chat if chat is not None else known[0][1] if known else None
            loaded = work.load(found) if found is not None else None
        entries = loaded.entries if loaded is not None else ()
        return athlete_from_facts(entries, self._programme)

    def next_moment(self) -> datetime | None:
        """When the next planned moment comes."""
        with self._store.read() as work:
            return work.next_due_at()

    def counts(self) -> dict[str, int]:
        """Rows waiting, by table."""
        with self._store.read() as work:
            return work.counts()


def _is_same(one: Inbound, other: Inbound) -> bool:
    return (one.source, one.update_id) == (other.source, other.update_id)


def _facts_of(record: Record) -> int:
    return len(record[0])


def _log_error(event: str, error: Exception, **ids: int) -> None:
    """What went wrong and where, without its text, which may hold somebody's words."""
    # Loaded only here: nothing goes wrong in most runs, and it costs a sixth of a second.
    import structlog

    frames = traceback.extract_tb(error.__traceback__)
    place = f"{Path(frames[-1].filename).name}:{frames[-1].lineno}" if frames else "unknown"
    log = structlog.get_logger(__name__)
    log.error(event, error=type(error).__name__, place=place, **ids)
