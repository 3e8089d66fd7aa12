"""The pages, over HTTP."""

import json
import threading
from collections.abc import AsyncIterator
from datetime import UTC, datetime, timedelta

import aiohttp
import pytest
from prometheus_client.parser import text_string_to_metric_families

from bot.errors import StoreAway
from bot.health.metrics import Metrics
from bot.health.server import Health
from bot.listening import listening
from bot.ports import QueueState

NOW = datetime(2026, 12, 1, 19, 0, tzinfo=UTC)


class Pages:
    """A program's health as an operator's tools see it."""

    def __init__(self, session: aiohttp.ClientSession, port: int, health: Health) -> None:
        self.session, self.base, self.health = session, f"http://127.0.0.1:{port}", health

    async def get(self, path: str, method: str = "GET") -> tuple[int, str]:
        async with self.session.request(method, self.base + path) as answer:
            return answer.status, await answer.text()

    async def ready(self) -> tuple[int, list[str]]:
        status, text = await self.get("/readyz")
        return status, json.loads(text)["troubles"]

    async def value(self, name: str, **labels: str) -> float:
        _, text = await self.get("/metrics")
        for family in text_string_to_metric_families(text):
            for sample in family.samples:
                if sample.name == name and sample.labels == labels:
                    return float(sample.value)
        raise LookupError(name)


@pytest.fixture
def metrics() -> Metrics:
    return Metrics()


@pytest.fixture
async def pages(metrics: Metrics) -> AsyncIterator[Pages]:
    health = Health(metrics, lambda: NOW)
    async with (
        listening(health.app(), ("127.0.0.1", 0), setting="test") as port,
        aiohttp.ClientSession() as session,
    ):
        yield Pages(session, port, health)
    health.close()


def away() -> QueueState:
    raise StoreAway("made to fail")


async def test_healthz_is_alive_whatever_else_is_wrong(pages: Pages) -> None:
    assert (await pages.get("/healthz"))[0] == 200
    pages.health.watch_database(trouble=lambda: "old", queues=away)
    assert (await pages.get("/healthz"))[0] == 200


async def test_readyz_only_when_database_and_serving_are_well(pages: Pages) -> None:
    assert (await pages.ready())[0] == 503
    database: list[str | None] = [None]
    serving: list[str | None] = [None]
    pages.health.watch_database(trouble=lambda: database[0], queues=QueueState)
    assert await pages.ready() == (503, ["not serving yet"])
    pages.health.watch(lambda: serving[0])
    assert await pages.ready() == (200, [])
    serving[0] = "no poll went well for 99 s"
    assert await pages.ready() == (503, ["no poll went well for 99 s"])


async def test_readyz_database_lacking_away_or_silent(metrics: Metrics) -> None:
    silent = threading.Event()

    def hang() -> str | None:
        silent.wait(10)
        return None

    def gone() -> str | None:
        raise StoreAway("host and user of the database")

    for trouble, says in (
        (lambda: "the database lacks 0003", "the database lacks 0003"),
        (gone, "the database is away"),
        (hang, "the database does not answer"),
    ):
        health = Health(metrics, lambda: NOW)
        health.watch_database(trouble=trouble, queues=QueueState)
        health.watch(lambda: None)
        assert await health.troubles() == [says]
        health.close()
    silent.set()


async def test_metrics_count_what_happened(pages: Pages, metrics: Metrics) -> None:
    metrics.sent("answer", "sent")
    metrics.sent("answer", "sent")
    metrics.sent("reminder", "gone")
    metrics.replied("understood", took_s=0.03)
    metrics.replied("misread", took_s=0.2)
    metrics.fired("timer", late_s=0.4, dropped=False)
    metrics.fired("reminder", late_s=9000, dropped=True)
    assert await pages.value("weeknight_sends_total", kind="answer", result="sent") == 2
    assert await pages.value("weeknight_sends_total", kind="reminder", result="gone") == 1
    assert await pages.value("weeknight_sends_total", kind="digest", result="sent") == 0
    assert await pages.value("weeknight_replies_total", result="misread") == 1
    assert await pages.value("weeknight_handling_seconds_count") == 2
    assert await pages.value("weeknight_handling_seconds_bucket", le="0.05") == 1
    assert await pages.value("weeknight_moments_total", kind="reminder", outcome="dropped") == 1
    # What was dropped was not fired late, it was not fired at all.
    assert await pages.value("weeknight_moment_lateness_seconds_count", kind="reminder") == 0
    assert await pages.value("weeknight_moment_lateness_seconds_sum", kind="timer") == 0.4


async def test_metrics_show_what_waits_and_since_when(pages: Pages) -> None:
    state = QueueState(
        inbox=2, outbox=7, outbox_since=NOW - timedelta(seconds=90), due=1, due_since=NOW
    )
    pages.health.watch_database(trouble=lambda: None, queues=lambda: state)
    assert await pages.value("weeknight_waiting", queue="outbox") == 7
    assert await pages.value("weeknight_oldest_seconds", queue="outbox") == 90
    assert await pages.value("weeknight_oldest_seconds", queue="inbox") == 0
    assert await pages.value("weeknight_database_up") == 1


async def test_metrics_without_database_hold_no_made_up_queue(pages: Pages) -> None:
    pages.health.watch_database(trouble=lambda: None, queues=away)
    waiting = await pages.value("weeknight_waiting", queue="outbox")
    assert waiting != waiting  # NaN: unknown
    assert await pages.value("weeknight_database_up") == 0


async def test_other_pages_and_methods_are_refused(pages: Pages) -> None:
    assert (await pages.get("/"))[0] == 404
    assert (await pages.get("/healthz", "POST"))[0] == 405
