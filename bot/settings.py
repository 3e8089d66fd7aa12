"""The program's settings: the only reader of the environment."""

import re
from pathlib import Path
from typing import Annotated
from urllib.parse import urlsplit

from platformdirs import user_config_path, user_data_path
from pydantic import AfterValidator, Field, SecretStr, ValidationError
from pydantic_settings import BaseSettings, SettingsConfigDict

from bot.errors import BadSettings

_PREFIX = "WEEKNIGHT_"

PROGRAMME = f"{_PREFIX}PROGRAMME"
KEY = f"{_PREFIX}KEY"


_HOOK_PORTS = (None, 443, 80, 88, 8443)
_HOOK_PATH = re.compile(r"(/[A-Za-z0-9._~-]+)+", re.ASCII)
_HERE = "127.0.0.1"


def listen_address(text: str) -> tuple[str, int]:
    """Host and port of "HOST:PORT", or of a port alone on this machine.

    Raises:
        ValueError: It is neither.
    """
    host, _, port = text.strip().rpartition(":")
    if not (port.isascii() and port.isdecimal() and int(port) <= 65535):
        raise ValueError(f"{text!r} is no PORT or HOST:PORT, as 127.0.0.1:8080")
    return host.strip("[]") or _HERE, int(port)


def _listened(text: str) -> str:
    listen_address(text)
    return text


def _hook_url(url: str) -> str:
    parts = urlsplit(url)
    if parts.scheme != "https" or not parts.hostname or parts.query or parts.fragment:
        raise ValueError("use an address like https://bot.example.org/some/path")
    if parts.port not in _HOOK_PORTS:
        raise ValueError("the chat service calls at ports 443, 80, 88 and 8443 only")
    if not _HOOK_PATH.fullmatch(parts.path):
        raise ValueError("the address needs a path of letters, digits and . _ ~ - alone")
    return url


class Settings(BaseSettings):
    """Settings from the environment; each name below in capitals behind ``WEEKNIGHT_``."""

    model_config = SettingsConfigDict(env_prefix=_PREFIX, frozen=True)

    database_url: str | None = None
    """sqlite:///FILE or postgresql://…; by default a file in the user's data folder."""
    token: SecretStr | None = None
    """The bot token of the chat service."""
    token_file: Path | None = None
    """A file that holds the token, instead of ``token``."""
    key: SecretStr | None = None
    """The keys that seal the database, the newest first, separated by commas."""
    key_file: Path | None = None
    """A file that holds the keys, instead of ``key``; by default one in the user's folder of
    settings, made at the first start."""
    programme: Path | None = None
    """A programme file that holds for every athlete; the default programme otherwise."""
    api_url: str = "https://api.telegram.org/bot"
    """Base address of the Bot API."""
    tick_s: Annotated[float, Field(gt=0, le=60)] = 0.25
    """How often planned moments are looked at. [s]"""
    poll_s: Annotated[int, Field(ge=0, le=50)] = 30
    """How long one poll waits for messages. [s]"""
    answer_s: Annotated[float, Field(gt=0, le=120)] = 20.0
    """How long the chat service may take to answer before it is unknown what it did. [s]"""
    lease_s: Annotated[float, Field(ge=1, le=600)] = 20.0
    """How long a message that a process has taken to send is its own without a sign of life. [s]"""
    sends_per_s: Annotated[float, Field(gt=0, le=1000)] = 30.0
    """Most messages sent in all. [1/s] More only where the chat service grants it."""
    chat_sends_per_s: Annotated[float, Field(gt=0, le=1000)] = 1.0
    """Most messages sent to one chat, short bursts aside. [1/s]"""

    database_connections: Annotated[int, Field(ge=2, le=1000)] = 20
    """Most connections to PostgreSQL that one process takes."""
    database_statement_s: Annotated[float, Field(gt=0, le=600)] = 15.0
    """How long PostgreSQL may work on one statement. [s]"""
    database_lock_s: Annotated[float, Field(gt=0, le=600)] = 10.0
    """How long PostgreSQL may let us wait for somebody else's row. [s]"""
    webhook_url: Annotated[str, AfterValidator(_hook_url)] | None = None
    """The public address at which the chat service calls us; polling without it."""
    webhook_listen: Annotated[str, AfterValidator(_listened)] = "127.0.0.1:8080"
    """Where we listen for those calls, as HOST:PORT, without TLS: a proxy ends that."""
    health_listen: Annotated[str, AfterValidator(_listened)] | None = None
    """Where /healthz, /readyz and /metrics are answered, as PORT or HOST:PORT; nowhere without."""

    notify_socket: Annotated[str | None, Field(validation_alias="NOTIFY_SOCKET")] = None
    """Where systemd listens, if it started us."""
    watchdog_usec: Annotated[int | None, Field(validation_alias="WATCHDOG_USEC", gt=0)] = None
    """How long systemd bears with our silence. [us]"""

    def resolved_database_url(self) -> str:
        """The database's address; makes the data folder if the default is used."""
        if self.database_url:
            return self.database_url
        folder = user_data_path("weeknight", appauthor=False, ensure_exists=True)
        return f"sqlite:///{folder / 'weeknight.db'}"

    def resolved_key_file(self) -> Path:
        """Where the keys are kept unless they are given: never in the data folder."""
        if self.key_file is not None:
            return self.key_file
        folder = user_config_path("weeknight", appauthor=False)
        if folder == user_data_path("weeknight", appauthor=False):  # one and the same on macOS
            folder = Path.home() / ".config" / "weeknight"
        return folder / "key"

    def resolved_token(self) -> str:
        """The bot token.

        Raises:
            BadSettings: None was given, or its file cannot be read.
        """
        if self.token is not None and self.token.get_secret_value().strip():
            return self.token.get_secret_value().strip()
        if self.token_file is not None:
            try:
                token = self.token_file.read_text(encoding="utf-8").strip()
            except OSError as error:
                raise BadSettings(
                    f"{_PREFIX}TOKEN_FILE: {self.token_file} cannot be read: {error.strerror}"
                ) from error
            if token:
                return token
            raise BadSettings(f"{_PREFIX}TOKEN_FILE: {self.token_file} is empty")
        raise BadSettings(
            f"No bot token: set {_PREFIX}TOKEN, or {_PREFIX}TOKEN_FILE to a file that holds it"
        )


def load_settings() -> Settings:
    """The settings of this process.

    Raises:
        BadSettings: One is wrong; the message names it and says what would do.
    """
    try:
        return Settings()
    except ValidationError as error:
        first = error.errors()[0]
        name = _PREFIX + "_".join(str(part) for part in first["loc"]).upper()
        raise BadSettings(f"{name}: {first['msg']}") from error
