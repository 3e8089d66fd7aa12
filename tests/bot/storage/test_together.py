"""Writes of several threads in one transaction: each stands or falls alone, none is lost."""

import threading
from collections.abc import Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path

import pytest
from sqlalchemy import Engine, event, text
from sqlalchemy.exc import OperationalError

from bot.storage import make_engine
from bot.storage.together import MOST, Together

WRITERS = 12
ROUNDS = 40


@pytest.fixture
def engine(tmp_path: Path) -> Iterator[Engine]:
    engine = make_engine(f"sqlite:///{tmp_path / 'together.db'}")
    with engine.begin() as connection:
        connection.exec_driver_sql("create table said (words text)")
    yield engine
    engine.dispose()


def said(engine: Engine) -> list[str]:
    with engine.connect() as connection:
        return sorted(words for (words,) in connection.execute(text("select words from said")))


def write(together: Together, words: str) -> None:
    with together.begin() as connection:
        connection.execute(text("insert into said values (:words)"), {"words": words})


def commits(engine: Engine) -> list[object]:
    found: list[object] = []
    event.listen(engine, "commit", found.append)
    return found


def test_every_write_is_there_once_and_threads_share_commits(engine: Engine) -> None:
    together, found = Together(engine), commits(engine)
    with ThreadPoolExecutor(WRITERS) as threads:
        list(threads.map(lambda n: write(together, f"{n:04}"), range(WRITERS * ROUNDS)))
    assert said(engine) == [f"{n:04}" for n in range(WRITERS * ROUNDS)]
    assert len(found) < WRITERS * ROUNDS


def test_what_was_left_is_committed(engine: Engine) -> None:
    together = Together(engine)
    lost: list[str] = []

    def write_and_look(n: int) -> None:
        write(together, f"{n:04}")
        # Another connection sees only what is committed.
        if f"{n:04}" not in said(engine):
            lost.append(f"{n:04}")

    with ThreadPoolExecutor(WRITERS) as threads:
        list(threads.map(write_and_look, range(WRITERS * 5)))
    assert lost == []


def test_a_write_that_fails_takes_nothing_with_it(engine: Engine) -> None:
    together = Together(engine)

    def go(n: int) -> None:
        with together.begin() as connection:
            connection.execute(text("insert into said values (:words)"), {"words": f"{n:04}"})
            if n % 3 == 0:
                raise ValueError(n)

    with ThreadPoolExecutor(WRITERS) as threads:
        runs = [threads.submit(go, n) for n in range(WRITERS * 10)]
    failed = [n for n, run in enumerate(runs) if run.exception() is not None]
    assert failed == [n for n in range(WRITERS * 10) if n % 3 == 0]
    assert said(engine) == [f"{n:04}" for n in range(WRITERS * 10) if n % 3]


def queued(together: Together, count: int) -> None:
    """Wait until so many threads stand in the queue."""
    for _ in range(2000):
        if together.queued >= count:
            return
        threading.Event().wait(0.005)
    raise AssertionError("they never queued")


def test_nobody_waits_for_more_than_so_many_others(engine: Engine) -> None:
    together, found = Together(engine), commits(engine)
    with ThreadPoolExecutor(2 * MOST) as threads:
        with together.begin() as connection:
            others = [threads.submit(write, together, f"{n:04}") for n in range(2 * MOST)]
            queued(together, 2 * MOST)
            connection.execute(text("insert into said values ('first')"))
            # This one is left open for the others; all of it is committed before we go on.
        assert "first" in said(engine)
        for other in others:
            other.result(timeout=30)
    assert len(said(engine)) == 2 * MOST + 1
    assert len(found) == 3  # 16, 16 and the last one


def test_a_failed_commit_is_told_to_all_whose_writes_it_takes(engine: Engine) -> None:
    together = Together(engine)
    fails = [True]

    @event.listens_for(engine, "commit")
    def fail(connection: object) -> None:
        if fails:
            fails.clear()
            raise OperationalError("commit", {}, Exception("disk I/O error"))

    others: list[Future[None]] = []

    def first() -> None:
        with together.begin() as connection:
            others.extend(threads.submit(write, together, f"{n}") for n in range(3))
            queued(together, 3)
            connection.execute(text("insert into said values ('first')"))

    with ThreadPoolExecutor(4) as threads:
        with pytest.raises(OperationalError):
            first()
        errors = [type(other.exception(timeout=30)) for other in others]
    assert errors == [OperationalError] * 3
    assert said(engine) == []
    write(together, "after")
    assert said(engine) == ["after"]
