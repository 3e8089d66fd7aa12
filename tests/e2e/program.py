"""Runs the program as people and other programs run it."""

import os
import subprocess
import sys


def weeknight(*words: str, typed: str = "", **environment: str) -> subprocess.CompletedProcess[str]:
    """The program run with those words, what is typed into it, and settings beside it."""
    clean = {k: v for k, v in os.environ.items() if not k.startswith("WEEKNIGHT_")}
    return subprocess.run(
        [sys.executable, "-m", "bot.cli", *words],
        input=typed,
        env={**clean, **environment},
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=60,
        check=False,
    )
