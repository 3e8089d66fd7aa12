"""Any text at all, made up by a fuzzer that sees which code a text reaches.

    .venv/bin/python -m pip install -c deploy/constraints.txt -e '.[bench]'    (once)
    .venv/bin/python tests/fuzz/reader.py --minutes 10 [--into FOLDER] [--seed N]

One process (``worker.py``) reads texts with an instrumented reader and checks every promise
of ``promises.py``; it starts from the replies in ``tests/replies`` and stops by itself. What
it found is then looked at again here, where nothing slows the reader down: finds are made
shorter and the slowest texts timed anew. FOLDER (default: weeknight-fuzz among the temporary
files) gets ``summary.txt``, ``finds.jsonl`` and the texts worth keeping, in ``texts/``, from
which the next run goes on. The exit code is 1 where a promise was broken.
"""

import argparse
import json
import re
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

from mutation import bytes_of, seed_texts
from promises import CONTEXTS, LIMIT_S, Broken, broken_promises

from core.replies import read

GRACE_S = 120
LONGEST_BYTES = 2400
TIMED = 7
SHOWN = 10
SHRUNK_S = 5.0
_STATUS = re.compile(r"#(\d+)\s+\S+.*?cov: (\d+) ft: (\d+) corp: (\d+)")


@dataclass(frozen=True)
class Find:
    """A text that breaks a promise, with the number of its context."""

    broken: Broken
    text: str
    context: int


@dataclass(frozen=True)
class Effort:
    """How far the fuzzer came: texts tried, edges and features reached, texts kept."""

    tried: int
    edges: int
    features: int
    kept: int
    ended: str


def fuzzed(folder: Path, *, seconds: int, seed: int) -> Effort:
    """Runs the fuzzer for so long; its own words go to ``worker.log``."""
    texts = folder / "texts"
    texts.mkdir(parents=True, exist_ok=True)
    for number, text in enumerate(seed_texts()):
        data = bytes_of(text, number % len(CONTEXTS))
        (texts / f"reply-{number:04}").write_bytes(data)
    worker = [sys.executable, str(Path(__file__).with_name("worker.py")), str(folder), str(texts)]
    options = {
        "max_total_time": seconds,
        "max_len": LONGEST_BYTES,
        "timeout": 20,
        "rss_limit_mb": 2048,
        "seed": seed,
        "artifact_prefix": f"{folder}/",
        "print_final_stats": 1,
    }
    words = [*worker, *(f"-{name}={value}" for name, value in options.items())]
    log = folder / "worker.log"
    with log.open("w", encoding="utf-8") as out:
        done = subprocess.run(words, stdout=out, stderr=out, timeout=seconds + GRACE_S, check=False)
    rows = _STATUS.findall(log.read_text(encoding="utf-8", errors="replace"))
    last = [int(number) for number in rows[-1]] if rows else [0, 0, 0, 0]
    ended = "by itself" if done.returncode == 0 else f"with code {done.returncode}, see {log}"
    return Effort(*last, ended)


def promises_broken(text: str, context: int) -> list[Broken]:
    try:
        reading = read(text, CONTEXTS[context])
    except Exception as error:
        return [Broken(f"raised {type(error).__name__}", str(error))]
    return broken_promises(text, CONTEXTS[context], reading)


def confirmed(folder: Path) -> list[Find]:
    """The finds that are finds here too, one of each promise and kind, made short."""
    shortest: dict[str, tuple[str, int]] = {}
    for line in (folder / "finds.jsonl").read_text(encoding="utf-8").splitlines():
        find = json.loads(line)
        for promise in {
            broken.promise for broken in promises_broken(find["text"], find["context"])
        }:
            kept = shortest.setdefault(promise, (find["text"], find["context"]))
            if len(find["text"]) < len(kept[0]):
                shortest[promise] = (find["text"], find["context"])
    finds = []
    for promise, (text, context) in sorted(shortest.items()):
        short = shrunk(text, context, promise)
        broken = next(b for b in promises_broken(short, context) if b.promise == promise)
        finds.append(Find(broken, short, context))
    return finds


def shrunk(text: str, context: int, promise: str) -> str:
    """The text with all left out that the find does not need."""
    stops = time.monotonic() + SHRUNK_S
    size = len(text) // 2
    while size:
        place = 0
        while place < len(text) and time.monotonic() < stops:
            shorter = text[:place] + text[place + size :]
            if any(broken.promise == promise for broken in promises_broken(shorter, context)):
                text = shorter
            else:
                place += size
        size //= 2
    return text


def slowest(folder: Path) -> list[tuple[float, str, int]]:
    """The texts that took longest, timed here: seconds of the processor, the best of some."""
    rows = []
    path = folder / "slow.jsonl"
    for line in path.read_text(encoding="utf-8").splitlines() if path.exists() else ():
        slow = json.loads(line)
        rows.append((best_s(slow["text"], slow["context"]), slow["text"], slow["context"]))
    return sorted(rows, reverse=True)[:SHOWN]


def best_s(text: str, context: int) -> float:
    times = []
    for _ in range(TIMED):
        begins = time.process_time()
        read(text, CONTEXTS[context])
        times.append(time.process_time() - begins)
    return min(times)


def _named(context: int) -> str:
    said = CONTEXTS[context]
    own = ", own bands and names" if said.bands else ""
    return f"{said.units}, {said.zone}, {said.at:%Y-%m-%d %H:%M} UTC{own}"


def summary(effort: Effort, finds: list[Find], slow: list[tuple[float, str, int]]) -> str:
    lines = [
        f"texts tried     {effort.tried:,}",
        f"edges reached   {effort.edges:,} ({effort.features:,} features)",
        f"texts kept      {effort.kept:,}",
        f"ended           {effort.ended}",
        f"promises broken {len(finds)}",
        *(f"  {f.broken.promise}: {f.text!r} ({_named(f.context)})" for f in finds),
        *(f"    {f.broken.promise}: {f.broken.detail}" for f in finds),
        f"slowest texts, ms of the processor (limit {LIMIT_S * 1000:.0f})",
        *(f"  {took * 1000:5.1f}  {text[:100]!r} ({len(text)} long)" for took, text, _ in slow),
    ]
    return "\n".join(lines) + "\n"


def main() -> int:
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--minutes", type=float, default=10)
    default = Path(tempfile.gettempdir()) / "weeknight-fuzz"
    asked.add_argument("--into", type=Path, default=default, metavar="FOLDER")
    asked.add_argument("--seed", type=int, default=1)
    options = asked.parse_args()
    folder = options.into.resolve()
    effort = fuzzed(folder, seconds=max(round(options.minutes * 60), 1), seed=options.seed)
    finds, slow = confirmed(folder), slowest(folder)
    finds += [
        Find(Broken("time", f"{took * 1000:.1f} ms"), text, context)
        for took, text, context in slow
        if took >= LIMIT_S
    ]
    said = summary(effort, finds, slow)
    (folder / "summary.txt").write_text(said, encoding="utf-8", errors="backslashreplace")
    print(said, end="")
    return 1 if finds or effort.ended != "by itself" else 0


if __name__ == "__main__":
    sys.exit(main())
