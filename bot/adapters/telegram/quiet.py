"""Keeps message text, names and the token out of the logs."""

import logging

_QUIETEST = {
    "telegram": logging.WARNING,
    "aiohttp": logging.WARNING,
    "httpx": logging.WARNING,
    "httpcore": logging.WARNING,
    "sqlalchemy": logging.WARNING,
    "psycopg": logging.WARNING,
    # Its errors are of strangers whose requests cannot be read, and it quotes them.
    "aiohttp.server": logging.CRITICAL,
}


def quiet_libraries() -> None:
    """Let the libraries log only what is worth it: below, they log whole messages and addresses."""
    for name, level in _QUIETEST.items():
        logging.getLogger(name).setLevel(level)
