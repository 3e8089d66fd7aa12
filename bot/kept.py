"""Values kept in memory, the least recently used ones let go first. Threads may share them."""

from collections import OrderedDict
from collections.abc import Callable, Hashable
from threading import Lock
from typing import Generic, TypeVar

K = TypeVar("K", bound=Hashable)
V = TypeVar("V")


class Kept(Generic[K, V]):
    """Values by key, no more than so much of them together.

    Args:
        most: The most that all values may weigh together; the newest one always stays.
        weigh: What a value weighs.
    """

    def __init__(self, *, most: int, weigh: Callable[[V], int]) -> None:
        self._most = most
        self._weigh = weigh
        self._values: OrderedDict[K, tuple[V, int]] = OrderedDict()
        self._all = 0
        self._lock = Lock()

    def get(self, key: K) -> V | None:
        """The value of that key, if it is still kept."""
        with self._lock:
            found = self._values.get(key)
            if found is None:
                return None
            self._values.move_to_end(key)
            return found[0]

    def put(self, key: K, value: V) -> None:
        """Keep a value, in the place of the one kept before; let others go if it is too much."""
        weight = self._weigh(value)
        with self._lock:
            self._all += weight - self._values.pop(key, (None, 0))[1]
            self._values[key] = (value, weight)
            while self._all > self._most and len(self._values) > 1:
                _, (_, gone) = self._values.popitem(last=False)
                self._all -= gone
