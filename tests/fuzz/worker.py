"""The process that fuzzes: the reader instrumented, and every promise checked on every text.

Started by ``reader.py``, which judges what is found here with a reader that is not slowed
down. Writes one JSON line for every text that breaks a promise, and the slowest texts.
"""

import heapq
import json
import sys
import time
import zlib
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["core"]):
    from mutation import mutated, text_of
    from promises import CONTEXTS, broken_promises

    from core.replies import read

MOST_A_PROMISE = 40
"""Examples kept of each broken promise."""

MOST_SLOW = 60
WRITTEN_EVERY_S = 5.0
MISREADS_LESS = 8


class Watch:
    """Reads each text and keeps what was strange about it."""

    def __init__(self, folder: Path) -> None:
        self._finds = (folder / "finds.jsonl").open("w", encoding="utf-8")
        self._slow_path = folder / "slow.jsonl"
        self._kept: dict[str, int] = {}
        self._slow: list[tuple[float, int, str, int]] = []
        self._texts = 0
        self._written = time.monotonic()

    def look_at(self, data: bytes) -> None:
        if not data:
            return
        self._texts += 1
        which, text = data[0] % len(CONTEXTS), text_of(data)
        begins = time.thread_time()
        try:
            reading = read(text, CONTEXTS[which])
        except Exception as error:
            self._keep(f"raised {type(error).__name__}", text, which)
            return
        self._time(time.thread_time() - begins, text, which)
        # A misread takes long to read in all its clothes: one in eight of them is.
        thorough = reading.misread is None or zlib.crc32(data) % MISREADS_LESS == 0
        for broken in broken_promises(text, CONTEXTS[which], reading, thorough=thorough):
            self._keep(broken.promise, text, which)

    def _keep(self, promise: str, text: str, which: int) -> None:
        self._kept[promise] = self._kept.get(promise, 0) + 1
        if self._kept[promise] <= MOST_A_PROMISE:
            self._finds.write(json.dumps({"promise": promise, "text": text, "context": which}))
            self._finds.write("\n")
            self._finds.flush()

    def _time(self, took_s: float, text: str, which: int) -> None:
        slower_than(took_s)
        row = (took_s, self._texts, text, which)
        if len(self._slow) < MOST_SLOW:
            heapq.heappush(self._slow, row)
        elif took_s > self._slow[0][0]:
            heapq.heapreplace(self._slow, row)
        if time.monotonic() - self._written > WRITTEN_EVERY_S:
            self._written = time.monotonic()
            rows = (json.dumps({"text": t, "context": w}) for _, _, t, w in self._slow)
            self._slow_path.write_text("\n".join(rows) + "\n", encoding="utf-8")


@atheris.instrument_func
def slower_than(took_s: float) -> None:
    """Rounds that grow with the time, so that a slower text counts as news and is kept."""
    for _ in range(int(took_s * 100)):
        pass


def main() -> None:
    folder, options = Path(sys.argv[1]), sys.argv[2:]
    watch = Watch(folder)

    def mutator(data: bytes, max_size: int, seed: int) -> bytes:
        return mutated(data, max_size, seed, by_bytes=atheris.Mutate)

    atheris.Setup([sys.argv[0], *options], watch.look_at, custom_mutator=mutator)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
