"""Words about pain, illness and age. They never diagnose; they stop, and send to a professional."""

from core.facts import PauseCause, Side
from core.progression.pain import STOP_SCORE
from core.progression.youth import ALONE, YOUNGEST

SEE_SOMEONE = (
    "That is a warning sign. Stop loading it and see a doctor or physiotherapist. "
    "I plan nothing for it until you type back, after a professional has cleared it."
)

STRONG = (
    "Stop loading it tonight. If it stays, gets worse, or wakes you, see a doctor or "
    "physiotherapist. I cannot judge an injury."
)

MILD = (
    "Noted. Less load there and no increases until two evenings without pain. "
    "If it grows, stop and tell me. I cannot judge an injury."
)

PAUSE: dict[PauseCause, str] = {
    "rest": "No reminders until then.",
    "sick": "Nothing hard while you are ill. Type back when you are well; the first evening "
    "will be easy. Fever or chest symptoms: ask a doctor before you train.",
    "away": "No reminders until then. Wall visits still count: wall 2h",
}


def pain_lines(
    site: str | None, side: Side | None, score: int | None, flags: tuple[str, ...]
) -> list[str]:
    """The answer to a pain report."""
    where = " ".join(word for word in (side if side != "both" else "both", site) if word)
    how = f" {score}/10" if score is not None else ""
    signs = f" ({', '.join(flags)})" if flags else ""
    head = f"Pain {where or 'somewhere'}{how}{signs}."
    if flags:
        return [head, SEE_SOMEONE]
    finger = site is not None and "finger" in site
    if score is None or score >= STOP_SCORE or finger:
        return [head, STRONG]
    return [head, MILD]


def age_line(age: int) -> str:
    """What the age means for fingers."""
    if age < YOUNGEST:
        return (
            f"Age {age}: no finger-strength loading at all; growing fingers are easily hurt. "
            "The rest of the evening is yours."
        )
    if age < ALONE:
        return f"Age {age}: no finger-strength loading without a coach."
    return f"Age {age}."
