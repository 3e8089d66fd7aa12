"""What the shell's parts know of each other: values and protocols, no behaviour."""

from collections.abc import Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import datetime
from typing import Literal, Protocol

from core.athlete import Athlete
from core.facts import Entry
from core.programme import Programme
from core.target import Target

MessageKind = Literal["answer", "reminder", "timer", "follow-up", "question", "digest"]
DueKind = Literal["reminder", "timer", "follow-up"]
SendResult = Literal["sent", "later", "doubtful", "gone", "refused", "stale", "uncertain"]
"""What became of a message that was taken to be sent.

Sent; to be tried again, since the service took nothing (later) or may have taken it (doubtful);
given up, since the chat is closed (gone), the service will never take it (refused), its time is
over (stale), or it may have arrived and must not come twice (uncertain).
"""


@dataclass(frozen=True, slots=True)
class Chat:
    """One conversation: the adapter's name and the number the adapter knows it by."""

    adapter: str
    chat_id: int


@dataclass(frozen=True, slots=True)
class Inbound:
    """One thing a person typed or pressed.

    Attributes:
        chat: Where.
        source: Who numbered it, for example "telegram:12345" for one bot account.
        update_id: The source's number; together with ``source`` it is handled once.
        text: What was typed, or what the pressed button stands for; "" for what holds no text.
        pressed: True for a button.
        at: When it came in. Aware, UTC.
    """

    chat: Chat
    source: str
    update_id: int
    text: str
    pressed: bool
    at: datetime


LONGEST_REPLY = 60
"""Most bytes of UTF-8 that a button may stand for: chat services allow little more."""


@dataclass(frozen=True, slots=True)
class Button:
    """A button and the reply that pressing it stands for, at most ``LONGEST_REPLY`` bytes."""

    label: str
    send: str

    @property
    def fits(self) -> bool:
        """False for a reply that is too long for a button."""
        return len(self.send.encode()) <= LONGEST_REPLY


@dataclass(frozen=True, slots=True)
class Outgoing:
    """A message to send. ``targets`` are those it announces."""

    kind: MessageKind
    text: str
    buttons: tuple[Button, ...] = ()
    targets: tuple[Target, ...] = ()


@dataclass(frozen=True, slots=True)
class Due:
    """A moment at which something is to be said.

    Attributes:
        kind: What for.
        key: Unique within athlete and kind; one key fires once, ever.
        at: When. Aware, UTC.
        until: Past this moment it is dropped and counted, not fired. Aware, UTC.
    """

    kind: DueKind
    key: str
    at: datetime
    until: datetime


@dataclass(frozen=True, slots=True)
class ClaimedDue:
    """A due moment that this process has taken, for a time (the lease)."""

    id: int
    athlete_id: int
    due: Due


@dataclass(frozen=True, slots=True)
class Parcel:
    """A queued message that this process has taken to send, for a time (the lease).

    Attributes:
        id: Its row.
        chat: Where to.
        message: What.
        attempts: Tries before this one.
        queued_at: When it was queued. Aware, UTC.
        doubts: Those of the tries before that may have arrived.
        goes_at: Its turn to be sent, a moment ahead at most; None for at once. Aware, UTC.
    """

    id: int
    chat: Chat
    message: Outgoing
    attempts: int
    queued_at: datetime
    doubts: int = 0
    goes_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class SendLimits:
    """How fast one account may send, all processes together.

    Attributes:
        per_s: Messages in all. [1/s], > 0, at most a million
        chat_per_s: Messages to one chat. [1/s], > 0
        chat_burst: Messages to one chat that may go at once. [-], >= 1
    """

    per_s: float
    chat_per_s: float
    chat_burst: int


@dataclass(frozen=True, slots=True)
class Claim:
    """What was taken to be sent.

    Attributes:
        parcels: The messages, each to another chat.
        again_at: When more may go although nothing new comes; None if only something new,
            or the end of a send, or of a wait that was set, can change that. Aware, UTC.
        closed: The kinds of those that were given up instead, and why.
        silent_until: Until when the service wants to hear nothing of the account. Aware, UTC.
    """

    parcels: tuple[Parcel, ...]
    again_at: datetime | None = None
    closed: tuple[tuple[MessageKind, SendResult], ...] = ()
    silent_until: datetime | None = None


@dataclass(frozen=True, slots=True)
class Loaded:
    """What is known of one athlete.

    Attributes:
        athlete_id: The store's number.
        chat: Where they are met.
        entries: Everything noted of them.
        talk: The conversation's own state, as JSON text.
        programme: What their evenings are made of; None for the default one.
        athlete: What the entries, or a beginning of them, add up to under that programme, where
            that is known already.
    """

    athlete_id: int
    chat: Chat
    entries: tuple[Entry, ...]
    talk: str
    programme: Programme | None = None
    athlete: Athlete | None = None


@dataclass(frozen=True, slots=True)
class QueueState:
    """How far behind the work is: rows that wait, and since when the oldest does. Aware, UTC.

    Attributes:
        inbox: Messages kept and not answered.
        inbox_since: When the oldest of them came in.
        outbox: Messages to send.
        outbox_since: When the oldest of them was queued.
        due: Planned moments that have come and were not dealt with.
        due_since: When the oldest of them came.
    """

    inbox: int = 0
    inbox_since: datetime | None = None
    outbox: int = 0
    outbox_since: datetime | None = None
    due: int = 0
    due_since: datetime | None = None


class Work(Protocol):
    """One transaction. Leaving the ``with`` block commits; an exception rolls all of it back."""

    # --- what came in
    def record(self, inbound: Inbound) -> bool:
        """Keep what came in; False when this source's number was already kept."""
        ...

    def waiting(self, limit: int) -> tuple[Inbound, ...]:
        """What was kept and not yet handled, oldest first."""
        ...

    def first_waiting(self, chat: Chat) -> Inbound | None:
        """The oldest of a chat that was kept and not handled; nobody else has it until the end."""
        ...

    def handled(self, inbound: Inbound, *, at: datetime, problem: str | None = None) -> None:
        """Mark it as handled, with the name of the error if handling it failed."""
        ...

    # --- the athlete
    def load(self, chat: Chat) -> Loaded | None:
        """The athlete of that chat, locked until the transaction ends; None when new."""
        ...

    def load_id(self, athlete_id: int) -> Loaded:
        """The athlete of that number, locked until the transaction ends."""
        ...

    def open(self, chat: Chat, *, at: datetime) -> Loaded:
        """A new athlete for that chat, with no entries."""
        ...

    def athletes(self) -> tuple[tuple[int, Chat], ...]:
        """Every athlete's number and chat, oldest first. For the terminal's own commands."""
        ...

    def append(self, athlete_id: int, entries: Sequence[Entry]) -> None:
        """Add facts. Numbers must follow on from those stored."""
        ...

    def keep_talk(self, athlete_id: int, talk: str) -> None:
        """Replace the conversation's state."""
        ...

    # --- what goes out
    def queue(
        self,
        athlete_id: int,
        messages: Sequence[Outgoing],
        *,
        at: datetime,
        until: datetime | None = None,
    ) -> None:
        """Put messages in the outbox, in order; past ``until`` they are not sent any more."""
        ...

    def claim_parcels(
        self, adapter: str, *, now: datetime, limit: int, lease_s: float
    ) -> tuple[Parcel, ...]:
        """Take messages to show, however many: at most one per chat, the oldest; by rank."""
        ...

    def claim_turns(
        self, adapter: str, *, now: datetime, limit: int, lease_s: float, limits: SendLimits
    ) -> Claim:
        """Take messages to send, as far as the account has turns left: answers before reminders.

        At most one per chat, the oldest. A message whose lease ran out (its process died
        between claim and mark) is taken again, but at most two tries may ever arrive: before
        a second one that may, the caller says ``calling``.
        """
        ...

    def calling(self, parcel_id: int) -> None:
        """From now on this try may arrive. For messages that may have arrived before."""
        ...

    def renew(self, parcel_ids: Sequence[int], *, until: datetime) -> None:
        """Keep the leases of messages that are being sent."""
        ...

    def hold(self, adapter: str, *, until: datetime) -> None:
        """Nothing is claimed for that account before ``until``, by any process."""
        ...

    def sent(self, parcel_id: int, *, at: datetime, message_id: int | None) -> None: ...

    def retry(self, parcel_id: int, *, at: datetime, why: str, maybe_sent: bool = False) -> None:
        """Back into the queue, not before ``at``; ``maybe_sent`` if it may have arrived."""
        ...

    def give_up(self, parcel_id: int, *, at: datetime, why: str) -> None: ...

    def mark_gone(self, chat: Chat, *, at: datetime) -> None:
        """The chat is closed to us: nothing is queued as due or sent there until it is heard."""
        ...

    # --- planned moments
    def plan(self, athlete_id: int, dues: Sequence[Due]) -> None:
        """Make the athlete's pending moments exactly these; keys that fired stay fired."""
        ...

    def claim_due(self, *, now: datetime, limit: int, lease_s: float) -> tuple[ClaimedDue, ...]:
        """Take moments that have come, timers first, moving each ahead by the lease."""
        ...

    def is_outdone(self, claimed: ClaimedDue, *, now: datetime) -> bool:
        """True when another moment of this athlete has come that says more, or later news."""
        ...

    def finish_due(
        self, due_id: int, *, at: datetime, outcome: Literal["fired", "dropped"]
    ) -> bool:
        """The moment is over; False if it was over before, or was moved to a later time."""
        ...

    def release(self, adapter: str, *, now: datetime) -> None:
        """End all leases on that adapter's messages and on moments.

        For the start of the only process on a database: whoever held them has died.
        """
        ...

    def prune(self, *, now: datetime, limit: int) -> int:
        """Delete what is over and no longer needed, at most so much of each kind; how much."""
        ...

    def next_due_at(self) -> datetime | None:
        """When the next pending moment comes; None when nothing is planned."""
        ...

    def counts(self) -> dict[str, int]:
        """Rows waiting: inbox, outbox, due. For the doctor."""
        ...


class Store(Protocol):
    """Where everything is kept."""

    def work(self) -> AbstractContextManager[Work]: ...

    def read(self) -> AbstractContextManager[Work]:
        """The same for reading only: takes no write lock."""
        ...


class Channel(Protocol):
    """A way to send. Raises the children of ``BotError`` and nothing else."""

    async def send(self, parcel: Parcel) -> int | None:
        """Send; the service's number of the message, if it has one."""
        ...


class Handler(Protocol):
    """What an adapter may ask of the service."""

    def keep(self, inbounds: Sequence[Inbound]) -> tuple[Inbound, ...]:
        """Keep what came in, durably; those not seen before. After this the source may forget."""
        ...

    def waiting(self) -> tuple[Inbound, ...]:
        """What was kept and not handled, oldest first (after a restart)."""
        ...

    def handle(self, inbound: Inbound) -> None:
        """Answer a kept message, and before it what came earlier from the same chat.

        Facts, targets and outgoing messages of each in one transaction.
        """
        ...

    def gone(self, chat: Chat) -> None:
        """The person closed the chat to us: nothing goes there until they write again."""
        ...

    def tick(self, limit: int = 100) -> int:
        """Fire the moments that have come; how many."""
        ...


class Lease(Protocol):
    """A right that one process at a time may hold. Blocks; raises what the store raises."""

    def take(self) -> bool:
        """Take it, or hold it for longer; False while another process holds it."""
        ...

    def give_back(self) -> None:
        """Let the next one have it at once; nothing happens if another holds it."""
        ...
