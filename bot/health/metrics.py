"""Counting for Prometheus. Every label takes one of a few fixed words: no chat, text or name."""

from datetime import datetime
from typing import get_args

from prometheus_client import CollectorRegistry, Counter, Gauge, Histogram, ProcessCollector
from prometheus_client.exposition import generate_latest

from bot.counting import ReplyResult
from bot.ports import DueKind, MessageKind, QueueState, SendResult

_HANDLING_S = (0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10)
_LATE_S = (0.1, 0.25, 0.5, 1, 1.5, 2, 5, 10, 30, 60, 300, 3600)
_UNKNOWN = float("nan")


class Metrics:
    """A ``bot.ports.Counting`` that Prometheus can read."""

    def __init__(self) -> None:
        self._all = CollectorRegistry()
        ProcessCollector(registry=self._all)
        self._sends = self._counter(
            "sends", "Messages taken to be sent, by what became of them", "kind", "result"
        )
        self._replies = self._counter("replies", "Messages answered, by how they read", "result")
        self._moments = self._counter(
            "moments", "Planned moments dealt with: fired, or dropped as over", "kind", "outcome"
        )
        for kind in get_args(MessageKind):
            for result in get_args(SendResult):
                self._sends.labels(kind, result)
        for result in get_args(ReplyResult):
            self._replies.labels(result)
        self._handling = Histogram(
            "weeknight_handling_seconds",
            "Time to answer a message, until its answer is committed",
            registry=self._all,
            buckets=_HANDLING_S,
        )
        self._lateness = Histogram(
            "weeknight_moment_lateness_seconds",
            "How late planned moments were fired",
            ["kind"],
            registry=self._all,
            buckets=_LATE_S,
        )
        for kind in get_args(DueKind):
            self._lateness.labels(kind)
            for outcome in ("fired", "dropped"):
                self._moments.labels(kind, outcome)
        self._waiting = self._gauge("waiting", "Rows waiting, all processes together", "queue")
        self._age = self._gauge("oldest_seconds", "Age of the oldest row that waits", "queue")
        self._database = self._gauge("database_up", "1 while the database answers")
        self._ready = self._gauge("ready", "1 while this process serves")

    def sent(self, kind: MessageKind, result: SendResult) -> None:
        """A message was taken to be sent, and this became of it."""
        self._sends.labels(kind, result).inc()

    def fired(self, kind: DueKind, *, late_s: float, dropped: bool) -> None:
        """A planned moment was dealt with, so long after its time. [s]"""
        self._moments.labels(kind, "dropped" if dropped else "fired").inc()
        if not dropped:
            self._lateness.labels(kind).observe(max(0.0, late_s))

    def replied(self, result: ReplyResult, *, took_s: float) -> None:
        """A message was dealt with, and what was said to it committed, in so much time. [s]"""
        self._replies.labels(result).inc()
        self._handling.observe(took_s)

    def page(self, queues: QueueState | None, *, ready: bool, now: datetime) -> bytes:
        """All of it as Prometheus reads it.

        Args:
            queues: How far behind the work is; None while the database cannot say.
            ready: Whether this process serves.
            now: The moment of asking. Aware, UTC.
        """
        self._ready.set(ready)
        self._database.set(queues is not None)
        state = queues or QueueState()
        for name, count, since in (
            ("inbox", state.inbox, state.inbox_since),
            ("outbox", state.outbox, state.outbox_since),
            ("due", state.due, state.due_since),
        ):
            age_s = max(0.0, (now - since).total_seconds()) if since else 0.0
            self._waiting.labels(name).set(_UNKNOWN if queues is None else count)
            self._age.labels(name).set(_UNKNOWN if queues is None else age_s)
        return generate_latest(self._all)

    def _counter(self, name: str, says: str, *labels: str) -> Counter:
        return Counter(f"weeknight_{name}", says, labels, registry=self._all)

    def _gauge(self, name: str, says: str, *labels: str) -> Gauge:
        return Gauge(f"weeknight_{name}", says, labels, registry=self._all)
