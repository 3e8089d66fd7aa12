"""The corpus: replies as people type them, each with its meaning in words a person can check.

A line is a reply; the indented lines under it are its acts, in order, and a line
that begins with "?" is a misread: what was seen, then the replies offered. ``\\n``
stands for a line break. "# units: lb" at the top is for athletes who use pounds.
"""

from datetime import UTC, datetime
from itertools import groupby
from pathlib import Path
from typing import Any

import pytest

from core.replies import read
from core.replies.act import ReplyContext
from core.replies.contract import reading_as_json

FOLDER = Path(__file__).parent
TUESDAY = datetime(2026, 12, 1, 17, 0, tzinfo=UTC)


def described_set(one: dict[str, Any]) -> str:
    words = [one["side"]] if one["side"] != "both" else []
    for name, unit in (("value", ""), ("load_kg", " kg"), ("reps", " reps"), ("hold_s", " s")):
        if one.get(name) is not None:
            words.append(f"{one[name]:g}{unit}")
    if one["band"]:
        words.append(f"{one['band']} band")
    if one["effort"]:
        words.append(one["effort"])
    if one["rpe"] is not None:
        words.append(f"rpe {one['rpe']:g}")
    if one["left"] is not None:
        words.append(f"{one['left']} left")
    return " ".join(words) or "as asked"


def described_log(log: dict[str, Any]) -> str:
    runs = [(text, len(list(same))) for text, same in groupby(map(described_set, log["sets"]))]
    edge = f" on {log['edge_mm']} mm" if log["edge_mm"] else ""
    note = f" ({log['note']})" if log["note"] else ""
    sets = ", ".join(f"{many} x {text}" for text, many in runs)
    return f"{log['exercise'] or 'in hand'}{edge}: {sets}{note}"


def described(act: dict[str, Any]) -> str:
    if act["act"] == "log":
        return described_log(act)
    if act["act"] == "fix":
        return f"fix {described_log(act['log'])}"
    rest = [f"{name} {_plain(value)}" for name, value in act.items() if name != "act"]
    return " · ".join([act["act"], *(text for text in rest if not text.endswith(" None"))])


def _plain(value: Any) -> str:
    match value:
        case [dict(), *_]:
            return ", ".join(f"{plate['count']} x {plate['kg']:g} kg" for plate in value)
        case list():
            return ", ".join(str(one) for one in value) or "none"
        case dict():
            return " ".join(_of_part(name, one) for name, one in value.items())
        case float():
            return f"{value:g}"
        case _:
            return str(value)


def _of_part(name: str, value: Any) -> str:
    """A name of the part as it is, a mass with what it is of: "bottom 14 kg"; what is there."""
    if isinstance(value, str):
        return value
    if isinstance(value, list):
        return f"{name} {_plain(value)}"
    if value is True:
        return name
    of = "" if name in ("kg", "help_kg") else f"{name.removesuffix('_kg')} "
    return f"{of}{value:g} kg"


def meaning(text: str, units: str) -> list[str]:
    context = ReplyContext(units=units, at=TUESDAY, zone="Europe/Oslo")
    reading = reading_as_json(read(text.replace("\\n", "\n"), context))
    lines = [described(act) for act in reading["acts"]]
    misread = reading["misread"]
    if misread:
        offered = " | ".join(one.replace("\n", "\\n") for one in misread["try"])
        lines.append(f'? "{misread["saw"]}" -> {offered or "nothing"}')
    return lines


def corpus() -> list[Any]:
    cases = []
    for path in sorted(FOLDER.glob("*.txt")):
        units = "kg"
        lines = path.read_text(encoding="utf-8").splitlines()
        for number, line in enumerate(lines):
            if line.startswith("# units:"):
                units = line.removeprefix("# units:").strip()
            elif line and not line.startswith(("#", " ")):
                meant = []
                for below in lines[number + 1 :]:
                    if not below.startswith("  "):
                        break
                    meant.append(below.strip())
                cases.append(pytest.param(line, meant, units, id=f"{path.stem}:{number + 1}"))
    return cases


CASES = corpus()


@pytest.mark.parametrize(("text", "meant", "units"), CASES)
def test_read_reply_of_the_corpus_means_what_it_says(text, meant, units):
    assert meaning(text, units) == meant


def test_corpus_is_as_large_as_promised():
    assert len(CASES) >= 1650


def test_no_reply_of_the_corpus_is_counted_twice():
    replies = [(case.values[0], case.values[2]) for case in CASES]
    assert len(set(replies)) == len(replies)
