"""Settings that are more than a number."""

import pytest

from bot.errors import BadSettings
from bot.settings import listen_address, load_settings


@pytest.mark.parametrize(
    ("text", "address"),
    [
        ("8081", ("127.0.0.1", 8081)),
        (":8081", ("127.0.0.1", 8081)),
        ("0.0.0.0:80", ("0.0.0.0", 80)),
        ("[::1]:8081", ("::1", 8081)),
        ("localhost:0", ("localhost", 0)),
    ],
)
def test_listen_address(text: str, address: tuple[str, int]) -> None:
    assert listen_address(text) == address


@pytest.mark.parametrize("text", ["", "localhost", "1:2:x", "h:65536", "h:-1", "h:²"])
def test_listen_address_that_is_none_is_refused_by_name(
    text: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(ValueError, match="HOST:PORT"):
        listen_address(text)
    monkeypatch.setenv("WEEKNIGHT_HEALTH_LISTEN", text)
    with pytest.raises(BadSettings, match="WEEKNIGHT_HEALTH_LISTEN"):
        load_settings()


@pytest.mark.parametrize(
    "url",
    [
        "http://bot.example.org/in",  # the service calls by TLS only
        "https:///in",
        "https://bot.example.org",
        "https://bot.example.org/",
        "https://bot.example.org:8444/in",
        "https://bot.example.org/in?secret=1",
        "https://bot.example.org/in{x}",
        "https://bot.example.org/in//out",
    ],
)
def test_webhook_url_that_cannot_work_is_refused_by_name(
    url: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("WEEKNIGHT_WEBHOOK_URL", url)
    with pytest.raises(BadSettings, match="WEEKNIGHT_WEBHOOK_URL"):
        load_settings()


def test_webhook_url_that_works(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("WEEKNIGHT_WEBHOOK_URL", "https://bot.example.org:8443/weeknight/in")
    assert load_settings().webhook_url == "https://bot.example.org:8443/weeknight/in"
