"""How many small faults in the progression rules the tests notice.

    python tests/mutation/rules.py [--sample 200] [--seed 1] [--only pain soreness]

Each mutant runs the tests of ``tests/core/progression`` (the slow ones left out) in a
process of its own, at most ``LIMIT_S`` long; one that runs longer counts as noticed. A
sample is drawn with a fixed seed, spread over all modules; without one every mutant runs.
"""

import argparse
import importlib.abc
import importlib.machinery
import os
import random
import signal
import sys
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(Path(__file__).parent)]

from mutants import Mutant, mutants  # noqa: E402

import core.strength  # noqa: E402, F401  loaded once, before the processes part
from core.catalogue import catalogue  # noqa: E402

FOLDER = ROOT / "core" / "progression"
TESTS = ROOT / "tests" / "core" / "progression"
LEFT_OUT = ("rules", "__init__")
"""Modules of words only: the list of reasons has its own tests."""

OPTIONS = (
    "-x",
    "-q",
    f"--rootdir={ROOT}",
    f"--confcutdir={TESTS}",
    f"-c{os.devnull}",
    "--import-mode=importlib",
    "-pno:cacheprovider",
    "-knot steady_evenings",
    "--tb=no",
)
SLOW = ("test_properties.py",)
LIMIT_S = 60
WORKERS = 2
AIM = 0.85


@dataclass(frozen=True, slots=True)
class Fault:
    """A mutant in its module."""

    module: str
    mutant: Mutant


class _Mutated(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Gives one module with its fault, and leaves all others alone."""

    def __init__(self, fault: Fault) -> None:
        self.name = f"core.progression.{fault.module}"
        self.tree = fault.mutant.tree

    def find_spec(self, name, path=None, target=None):
        return importlib.machinery.ModuleSpec(name, self) if name == self.name else None

    def exec_module(self, module) -> None:
        exec(compile(self.tree, self.name, "exec"), module.__dict__)


def faults(only: list[str]) -> list[Fault]:
    """Every fault of the modules named, or of all."""
    found = []
    for path in sorted(FOLDER.glob("*.py")):
        if path.stem not in LEFT_OUT and (not only or path.stem in only):
            found += [Fault(path.stem, m) for m in mutants(path.read_text(encoding="utf-8"))]
    return found


def is_noticed(fault: Fault | None) -> bool:
    """Whether a test fails with the fault; with none, whether one fails at all."""
    child = os.fork()
    if child == 0:
        signal.alarm(LIMIT_S)
        sink = os.open(os.devnull, os.O_WRONLY)
        os.dup2(sink, 1)
        os.dup2(sink, 2)
        if fault is not None:
            sys.meta_path.insert(0, _Mutated(fault))
        code = 1
        try:
            code = pytest.main(
                [*OPTIONS, *(f"--ignore={TESTS / name}" for name in SLOW), str(TESTS)]
            )
        finally:
            os._exit(min(int(code), 1))
    _, status = os.waitpid(child, 0)
    return status != 0


def main() -> None:
    """Run, and print the share noticed, by module, and each fault that was not."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--sample", type=int)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", nargs="*", default=[])
    args = parser.parse_args()
    catalogue()
    if is_noticed(None):
        sys.exit("the tests fail without any fault")
    every = faults(args.only)
    chosen = every
    if args.sample is not None and args.sample < len(every):
        chosen = random.Random(args.seed).sample(every, args.sample)
    noticed = []
    with ThreadPoolExecutor(WORKERS) as pool:
        for fault, seen in zip(chosen, pool.map(is_noticed, chosen), strict=False):
            noticed.append(seen)
            if not seen:
                where = f"{fault.module}.py:{fault.mutant.line}"
                print(f"not noticed: {where} {fault.mutant.what}", flush=True)
    of = Counter(f.module for f in chosen)
    seen_in = Counter(f.module for f, seen in zip(chosen, noticed, strict=True) if seen)
    for module in sorted(of):
        print(f"{module:>16}: {seen_in[module]} of {of[module]}")
    share = sum(noticed) / len(chosen)
    print(f"noticed {sum(noticed)} of {len(chosen)} (of {len(every)} in all): {share:.0%}")
    if share < AIM:
        sys.exit(f"the aim is {AIM:.0%}")


if __name__ == "__main__":
    main()
