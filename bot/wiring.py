"""Builds the parts that every command needs and joins them; ``bot.serving`` adds its own."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import Engine

from bot.clock import Clock, SystemClock
from bot.counting import Counting
from bot.delivery.showing import deliver_now
from bot.errors import BadSettings, StoreAway
from bot.ports import Parcel, Store
from bot.seal import Seal, Unsealed
from bot.service import Service
from bot.storage.engine import Bounds, is_in_memory, make_engine
from bot.storage.migrate import migrate, pending
from bot.storage.store import SqlStore
from bot.storage.trouble import first_line, is_out_of_reach
from core.programme import Programme

if TYPE_CHECKING:  # what serving alone needs, and takes a tenth of a second to load
    from bot.seal import Keys
    from bot.settings import Settings

IN_MEMORY = "sqlite://"


@dataclass(frozen=True, slots=True)
class House:
    """The joined parts."""

    engine: Engine
    store: Store
    service: Service
    clock: Clock

    def deliver(self, adapter: str) -> Callable[[Callable[[Parcel], None]], int]:
        """Shows what waits for that adapter, where showing cannot fail."""
        return lambda show: deliver_now(self.store, adapter, show, now=self.clock.now())


@contextmanager
def open_house(
    url: str,
    *,
    clock: Clock | None = None,
    make: bool = True,
    programme: Programme | None = None,
    keys: Keys | None = None,
    counting: Counting | None = None,
    bounds: Bounds | None = None,
) -> Iterator[House]:
    """Open the database, bring it up to date, and join the parts on it.

    Args:
        url: The database's address.
        clock: The machine's unless another is given.
        make: Whether to bring the database up to date; else it must be so already.
        programme: What the athletes' evenings are made of; None for the default one.
        keys: What seals the database; those of the settings unless others are given. A database
            in memory needs none.
        counting: Counts replies and moments.
        bounds: How much of a PostgreSQL server is taken; the usual ones unless given.

    Raises:
        BadSettings: The address cannot be read, the database cannot be opened, or a key is
            missing or wrong.
        StoreAway: A PostgreSQL server is not there, or not yet.
    """
    clock = clock or SystemClock()
    engine = _engine(url, bounds)
    try:
        _ready(engine, make=make)
        store = SqlStore(engine, _sealing(engine, keys, make=make))
        yield House(engine, store, Service(store, clock, programme, counting), clock)
    finally:
        engine.dispose()


def _engine(url: str, bounds: Bounds | None = None) -> Engine:
    from sqlalchemy.exc import ArgumentError, NoSuchModuleError

    try:
        return make_engine(url, bounds)
    except (ArgumentError, NoSuchModuleError, ValueError) as error:
        raise BadSettings(
            f"the database address {_shown(url)} cannot be read; "
            "use sqlite:///FILE or postgresql://USER@HOST/NAME"
        ) from error


def _ready(engine: Engine, *, make: bool) -> None:
    with _plainly():
        if make:
            migrate(engine)
        elif pending(engine):
            raise BadSettings("the database is not up to date; run: weeknight migrate")


@contextmanager
def opened(url: str) -> Iterator[Engine]:
    """The database at that address, as it is.

    Raises:
        BadSettings: The address cannot be read, or the database cannot be opened.
    """
    engine = _engine(url)
    try:
        with _plainly():
            yield engine
    finally:
        engine.dispose()


def _sealing(engine: Engine, keys: Keys | None, *, make: bool) -> Callable[[], Seal]:
    """What seals from now on, once it is sure that the keys are right."""
    if is_in_memory(engine):
        return Unsealed
    keys = keys or settings_keys(engine)
    with _plainly():
        from bot.storage.key_use import check_keys, make_sealed

        (make_sealed if make else check_keys)(engine, keys)
    return keys.ring


def settings_keys(engine: Engine) -> Keys:
    """The keys that the settings name.

    Raises:
        BadSettings: They cannot be used, or are kept in the folder of the database.
    """
    from bot.key_file import GivenKeys, KeyFile
    from bot.settings import KEY, load_settings

    settings = load_settings()
    if settings.key is not None:
        return GivenKeys(settings.key.get_secret_value(), named=KEY)
    file = settings.resolved_key_file().expanduser()
    database = engine.url.database
    is_file = engine.dialect.name == "sqlite" and database is not None
    if is_file and Path(database or "").resolve().parent == file.resolve().parent:
        raise BadSettings(
            f"the key file {file} lies in the folder of the database, where whoever copies the "
            f"one copies the other; move it and set {KEY}_FILE"
        )
    return KeyFile(file)


@contextmanager
def _plainly() -> Iterator[None]:
    from sqlalchemy.exc import DBAPIError

    try:
        yield
    except DBAPIError as error:
        why = f"the database cannot be opened: {first_line(error.orig)}"
        raise (StoreAway(why) if is_out_of_reach(error) else BadSettings(why)) from error


def _shown(url: str) -> str:
    """The address without what may be a password."""
    return repr(url if "@" not in url else url.split("@")[0].rsplit(":", 1)[0] + ":…@…")


def ticking(house: House) -> Callable[[Callable[[], object], float], Callable[[], None]]:
    """Calls a function regularly in a thread, and keeps house between; its answer ends that."""

    def start(act: Callable[[], object], every_s: float) -> Callable[[], None]:
        from bot.due.housekeeping import Housekeeper
        from bot.due.ticker import Ticker

        keeper = Housekeeper(house.store, house.clock)

        def tick() -> None:
            act()
            keeper.tick()

        ticker = Ticker.in_thread(tick, every_s=every_s)
        ticker.start()
        return ticker.stop

    return start


def migrate_url(url: str) -> tuple[str, ...]:
    """Bring the database at that address up to date, and seal it; the revisions applied.

    Raises:
        BadSettings: The address cannot be read, the database cannot be opened, or a key is
            missing or wrong.
    """
    engine = _engine(url)
    try:
        with _plainly():
            done = migrate(engine)
        _sealing(engine, None, make=True)
        return done
    finally:
        engine.dispose()


async def token_owner(settings: Settings) -> str:
    """The user name of the bot that the token belongs to.

    Raises:
        BotError: The token is missing or refused, or the service cannot be reached.
    """
    from bot.adapters.telegram import account_name, open_account

    account = open_account(settings.resolved_token(), api_url=settings.api_url)
    return await account_name(account)
