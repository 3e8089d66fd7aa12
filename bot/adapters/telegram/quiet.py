"""Keeps message text, names and the token out of the logs."""

import logging

_CHATTY = ("telegram", "aiohttp", "httpx", "httpcore")


def quiet_libraries() -> None:
    """Let the libraries log from warnings up: below that they log whole messages and addresses."""
    for name in _CHATTY:
        logging.getLogger(name).setLevel(logging.WARNING)
