"""What the conversation remembers between messages, beside the facts. Stored as JSON text."""

from dataclasses import dataclass
from datetime import date, datetime

from pydantic import TypeAdapter


@dataclass(frozen=True, slots=True)
class Talk:
    """The state of one conversation.

    Attributes:
        welcomed: The greeting with its cautions was given.
        question: Name of the open set-up question, or None.
        in_hand: Slug of the exercise being done or last spoken of.
        in_hand_on: Training day on which it was taken in hand.
        rest_until: When the running rest ends. Aware, UTC.
        remind_at: When "later" asked to be reminded. Aware, UTC.
        judging: Entry number of the log whose effort the last answer asked for.
        doubted: Entry number of the log last asked about because it looks like a slip.
        misread: The last reply, where it was not understood and corrections were offered.
        offers: Those corrections.
        silent: Planned evenings in a row that passed without a word.
    """

    welcomed: bool = False
    question: str | None = None
    in_hand: str | None = None
    in_hand_on: date | None = None
    rest_until: datetime | None = None
    remind_at: datetime | None = None
    judging: int | None = None
    doubted: int | None = None
    misread: str | None = None
    offers: tuple[str, ...] = ()
    silent: int = 0


_ADAPTER: TypeAdapter[Talk] = TypeAdapter(Talk)


def talk_from_text(text: str) -> Talk:
    """The state that was stored; a fresh one for empty text."""
    return _ADAPTER.validate_json(text) if text else Talk()


def talk_as_text(talk: Talk) -> str:
    """The state as it is stored."""
    return _ADAPTER.dump_json(talk, exclude_defaults=True).decode()
