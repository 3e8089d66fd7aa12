"""How many small faults in the engine's rules the tests notice.

    python tests/mutation/run.py {progression,pain,kit} [--sample 200] [--seed 1] [--only span]

Each mutant runs the tests of its package in a process of its own, at most ``LIMIT_S`` long;
one that runs longer counts as noticed. Tests that are slow or look at the clock are left out,
and drawn examples are the same ones every time, so that a run can be repeated. A sample is
drawn with a fixed seed, spread over all modules; without one every mutant runs.
"""

import argparse
import importlib
import importlib.abc
import importlib.machinery
import os
import random
import resource
import sys
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

import hypothesis
import pytest

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(Path(__file__).parent)]

from mutants import Mutant, mutants  # noqa: E402

OPTIONS = (
    "-x",
    "-q",
    f"--rootdir={ROOT}",
    f"-c{os.devnull}",
    "--import-mode=importlib",
    "-pno:cacheprovider",
    "--assert=plain",
    "--tb=no",
)
LIMIT_S = 20
"""Of the processor's time, so that it does not matter what else runs. [s]"""

AIM = 0.85


@dataclass(frozen=True, slots=True)
class Group:
    """Modules of one package of the engine, and what their tests take.

    Attributes:
        package: Folder under ``core``; its tests are in the folder of that name.
        loaded: What its tests import besides, once, before the processes part.
        only: Its modules; empty for all of the package.
        words: Modules of words only, which have tests of their own.
        left_out: Tests left out: slow ones, and those that look at the clock.
    """

    package: str
    loaded: tuple[str, ...]
    only: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()


PROGRESSION = Group(
    "progression",
    loaded=("core.strength",),
    words=("rules",),
    left_out=("test_properties", "steady_evenings"),
)
GROUPS = {
    "progression": PROGRESSION,
    "pain": Group(
        "progression",
        loaded=PROGRESSION.loaded,
        only=("pain", "soreness", "tissue", "held_back"),
        left_out=PROGRESSION.left_out,
    ),
    "kit": Group(
        "kit",
        loaded=("core.catalogue", "ortools.sat.python.cp_model"),
        left_out=("well_under_50_ms",),
    ),
}


@dataclass(frozen=True, slots=True)
class Fault:
    """A mutant in its module."""

    package: str
    module: str
    mutant: Mutant


class _Mutated(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Gives one module with its fault, and leaves all others alone."""

    def __init__(self, fault: Fault) -> None:
        self.name = f"core.{fault.package}.{fault.module}"
        self.tree = fault.mutant.tree

    def find_spec(self, name, path=None, target=None):
        return importlib.machinery.ModuleSpec(name, self) if name == self.name else None

    def exec_module(self, module) -> None:
        exec(compile(self.tree, self.name, "exec"), module.__dict__)


def faults(group: Group, only: list[str]) -> list[Fault]:
    """Every fault of the modules named, or of all of the group."""
    found = []
    for path in sorted((ROOT / "core" / group.package).glob("*.py")):
        meant = all(path.stem in names for names in (group.only, only) if names)
        if meant and path.stem not in ("__init__", *group.words):
            source = path.read_text(encoding="utf-8")
            found += [Fault(group.package, path.stem, m) for m in mutants(source)]
    return found


def is_noticed(group: Group, fault: Fault | None) -> bool:
    """Whether a test fails with the fault; with none, whether one fails at all."""
    child = os.fork()
    if child == 0:
        resource.setrlimit(resource.RLIMIT_CPU, (LIMIT_S, LIMIT_S))
        sink = os.open(os.devnull, os.O_WRONLY)
        os.dup2(sink, 1)
        os.dup2(sink, 2)
        if fault is not None:
            sys.meta_path.insert(0, _Mutated(fault))
        folder = ROOT / "tests" / "core" / group.package
        own = f"test_{fault.module}" if fault is not None else ""
        # Those named after the module come first: most faults are noticed there.
        files = sorted(folder.glob("test_*.py"), key=lambda path: path.stem != own)
        left_out = f"-knot ({' or '.join(group.left_out)})"
        code = 1
        try:
            code = pytest.main([*OPTIONS, f"--confcutdir={folder}", left_out, *map(str, files)])
        finally:
            os._exit(min(int(code), 1))
    _, status = os.waitpid(child, 0)
    return status != 0


def load(group: Group) -> None:
    """What is shared by all processes: libraries and the catalogue, but no module to mutate."""
    for name in group.loaded:
        importlib.import_module(name)
    importlib.import_module("core.catalogue").catalogue()
    if f"core.{group.package}" in sys.modules:
        sys.exit(f"core.{group.package} is loaded already: no fault in it would be seen")
    # None of pytest's plugins is used here, and each process would load them all anew.
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
    hypothesis.settings.register_profile(
        "mutants",
        database=None,
        deadline=None,
        derandomize=True,
        phases=(hypothesis.Phase.explicit, hypothesis.Phase.generate),
        suppress_health_check=(hypothesis.HealthCheck.too_slow,),
    )
    hypothesis.settings.load_profile("mutants")


def main() -> None:
    """Run, and print the share noticed, by module, and each fault that was not."""
    parser = argparse.ArgumentParser()
    parser.add_argument("group", choices=GROUPS)
    parser.add_argument("--sample", type=int)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", nargs="*", default=[])
    parser.add_argument("--workers", type=int, default=2)
    args = parser.parse_args()
    group = GROUPS[args.group]
    load(group)
    if is_noticed(group, None):
        sys.exit("the tests fail without any fault")
    every = faults(group, args.only)
    chosen = every
    if args.sample is not None and args.sample < len(every):
        chosen = random.Random(args.seed).sample(every, args.sample)
    noticed = []
    with ThreadPoolExecutor(args.workers) as pool:
        found = pool.map(lambda fault: is_noticed(group, fault), chosen)
        for fault, seen in zip(chosen, found, strict=True):
            noticed.append(seen)
            if not seen:
                where = f"{fault.module}.py:{fault.mutant.line}"
                print(f"not noticed: {where} {fault.mutant.what}", flush=True)
    of = Counter(f.module for f in chosen)
    seen_in = Counter(f.module for f, seen in zip(chosen, noticed, strict=True) if seen)
    for module in sorted(of):
        print(f"{module:>16}: {seen_in[module]} of {of[module]}")
    share = sum(noticed) / len(chosen)
    print(f"{args.group}: noticed {sum(noticed)} of {len(chosen)} (of {len(every)}): {share:.0%}")
    if share < AIM:
        sys.exit(f"the aim is {AIM:.0%}")


if __name__ == "__main__":
    main()
