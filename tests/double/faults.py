"""What can go wrong between a bot and its chat service, as values to script with."""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Fault:
    """One trouble for one call.

    Attributes:
        how: refuse: an error answer; hang: no answer at all; reset: the connection is torn
            down; garble: status 200 and a body cut off before its end; drip: a body that comes
            slowly.
        after_effect: True when the call does its work before the trouble.
        status: Status of the refusal.
        description: Its text.
        retry_after: Its waiting time, if any. [s]
        lasts_s: How long the body drips. [s]
    """

    how: Literal["refuse", "hang", "reset", "garble", "drip"]
    after_effect: bool = False
    status: int = 0
    description: str = ""
    retry_after: int | None = None
    lasts_s: float = 0.0


def too_many(retry_after: int) -> Fault:
    """429: stay away for so long. [s]"""
    text = f"Too Many Requests: retry after {retry_after}"
    return Fault("refuse", status=429, description=text, retry_after=retry_after)


def server_error(status: int = 500) -> Fault:
    """500, 502 and their like."""
    return Fault("refuse", status=status, description="Internal Server Error")


def refused(description: str) -> Fault:
    """400: this call will never do."""
    return Fault("refuse", status=400, description=f"Bad Request: {description}")


def chat_not_found() -> Fault:
    """400: there is no such chat."""
    return refused("chat not found")


def blocked() -> Fault:
    """403: the person has blocked the bot."""
    return Fault("refuse", status=403, description="Forbidden: bot was blocked by the user")


def deactivated() -> Fault:
    """403: the person's account is gone."""
    return Fault("refuse", status=403, description="Forbidden: user is deactivated")


def token_refused() -> Fault:
    """401: the token is no longer good."""
    return Fault("refuse", status=401, description="Unauthorized")


def hang(*, after_effect: bool) -> Fault:
    """No answer ever; the caller's patience ends it."""
    return Fault("hang", after_effect=after_effect)


def reset(*, after_effect: bool) -> Fault:
    """The connection is torn down without an answer."""
    return Fault("reset", after_effect=after_effect)


def garble() -> Fault:
    """The call works; the answer cannot be read."""
    return Fault("garble", after_effect=True)


def drip(lasts_s: float) -> Fault:
    """The call works; the answer comes a few bytes at a time over so long. [s]"""
    return Fault("drip", after_effect=True, lasts_s=lasts_s)
