"""The one place where the engine reads its packaged data: catalogue, grammar, default evening."""

from functools import cache
from importlib.resources import files


@cache
def packaged_text(package: str, name: str) -> str:
    """The text of a data file that ships inside ``package``."""
    return files(package).joinpath(name).read_text(encoding="utf-8")


def packaged_bytes(package: str, name: str) -> bytes:
    """A data file that ships inside ``package``, as it is; empty where there is none."""
    file = files(package).joinpath(name)
    return file.read_bytes() if file.is_file() else b""
