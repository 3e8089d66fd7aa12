"""Rights that one process at a time holds."""

import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from sqlalchemy import Engine, create_engine, text

from bot.errors import BadSettings, StoreAway
from bot.storage import make_engine
from bot.storage.lease import POLLING, SqlLease, lease_holder, only_one, only_one_inside


@pytest.fixture
def postgres(_migrated_postgres: Engine) -> Engine:
    with _migrated_postgres.begin() as connection:
        connection.execute(text("TRUNCATE lease"))
    return _migrated_postgres


def let_it_run_out(engine: Engine) -> None:
    """As if its holder had died a lease ago."""
    with engine.begin() as connection:
        connection.execute(text("UPDATE lease SET until = clock_timestamp() - interval '1 ms'"))


def test_take_one_holder_at_a_time_who_may_hold_on(postgres: Engine) -> None:
    first, second = SqlLease(postgres, POLLING), SqlLease(postgres, POLLING)
    assert first.take()
    assert not second.take()
    assert first.take()
    assert SqlLease(postgres, "another right").take()


def test_take_after_it_ran_out_and_the_former_holder_has_lost_it(postgres: Engine) -> None:
    first, second = SqlLease(postgres, POLLING), SqlLease(postgres, POLLING)
    first.take()
    let_it_run_out(postgres)
    assert second.take()
    assert not first.take()


def test_give_back_frees_it_at_once_but_only_ones_own(postgres: Engine) -> None:
    first, second = SqlLease(postgres, POLLING), SqlLease(postgres, POLLING)
    first.take()
    second.give_back()
    assert not second.take()
    first.give_back()
    assert second.take()


def test_take_many_at_once_one_gets_it(postgres: Engine) -> None:
    for _ in range(10):
        leases = [SqlLease(postgres, POLLING) for _ in range(4)]
        with ThreadPoolExecutor(4) as pool:
            assert sum(pool.map(SqlLease.take, leases)) == 1
        let_it_run_out(postgres)


def test_lease_holder_is_named_while_it_holds(postgres: Engine) -> None:
    assert lease_holder(postgres, POLLING) is None
    SqlLease(postgres, POLLING).take()
    held = lease_holder(postgres, POLLING)
    assert held is not None
    assert held[1].tzinfo is not None
    let_it_run_out(postgres)
    assert lease_holder(postgres, POLLING) is None


def test_take_without_database_says_that_it_is_away() -> None:
    nowhere = create_engine("postgresql+psycopg:///none?host=/nowhere/at/all")
    with pytest.raises(StoreAway):
        SqlLease(nowhere, POLLING).take()


def test_only_one_refuses_the_second_and_forgets_the_dead(tmp_path: Path) -> None:
    engine = make_engine(f"sqlite:///{tmp_path / 'a.db'}")
    inside = (
        "import sys; from bot.storage import make_engine; from bot.storage.lease import only_one\n"
        "with only_one(make_engine(sys.argv[1])): print('in', flush=True); sys.stdin.read()"
    )
    child = subprocess.Popen(
        [sys.executable, "-c", inside, str(engine.url)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
    )
    with child:
        assert child.stdout is not None
        assert child.stdout.readline() == b"in\n"
        assert only_one_inside(engine) == f"process {child.pid}"
        with pytest.raises(BadSettings, match=f"process {child.pid}"), only_one(engine):
            pass
        child.kill()
    assert only_one_inside(engine) is None
    with only_one(engine):
        assert only_one_inside(engine) is not None
    assert only_one_inside(engine) is None
    engine.dispose()
