"""Errors for callers that break a stated interval. A user's mistake is never one of these."""


class CoreError(Exception):
    """Base of the engine's errors: the caller has a bug."""


class OutOfRange(CoreError, ValueError):
    """A number outside the interval its parameter states."""

    def __init__(self, name: str, value: object, allowed: str) -> None:
        super().__init__(f"{name} is {value}; allowed: {allowed}")
        self.name = name
        self.value = value
        self.allowed = allowed


class Unknown(CoreError, LookupError):
    """A name that is not in the catalogue or the kit."""

    def __init__(self, kind: str, name: str) -> None:
        super().__init__(f"no {kind} is called {name!r}")
        self.kind = kind
        self.name = name
