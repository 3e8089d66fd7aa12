"""Listening for HTTP on an address of our own."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from aiohttp import web

from bot.errors import BadSettings

_LAST_ANSWERS_S = 2.0
"""How long requests under way may take when listening ends. [s]"""


@asynccontextmanager
async def listening(
    app: web.Application, address: tuple[str, int], *, setting: str
) -> AsyncIterator[int]:
    """Answer requests inside this block. It gives the port: another one only if 0 was asked for.

    Args:
        app: What answers. Nothing of a request is logged.
        address: Host and port.
        setting: Where the address was read, for the message.

    Raises:
        BadSettings: The address cannot be listened on.
    """
    runner = web.AppRunner(app, access_log=None, shutdown_timeout=_LAST_ANSWERS_S)
    await runner.setup()
    try:
        host, port = address
        try:
            await web.TCPSite(runner, host, port).start()
        except OSError as error:
            raise BadSettings(
                f"{setting}: cannot listen on {host}:{port}: {error.strerror or error}"
            ) from error
        yield runner.addresses[0][1]
    finally:
        await runner.cleanup()
