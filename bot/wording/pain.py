"""Words about pain, illness and age. They never diagnose; they stop, and send to a professional."""

from collections.abc import Mapping

from bot.wording.number import short_day
from core.athlete import DatedPain
from core.facts import PainFelt, PauseCause
from core.progression.soreness import Spare, gravest, spare
from core.progression.tissue import FINGERS
from core.progression.youth import ALONE, YOUNGEST

ADVICE: Mapping[Spare, str] = {
    "professional": "That is a warning sign. Stop loading it and see a doctor or "
    "physiotherapist. I plan nothing for it until you type back, after a professional has "
    "cleared it.",
    "stop": "Stop loading it tonight. If it stays, gets worse, or wakes you, see a doctor or "
    "physiotherapist. I cannot judge an injury.",
    "less": "Noted. Less load there and no increases until two sessions without pain. "
    "If it grows, stop and tell me. I cannot judge an injury.",
}
"""What to do, by what the engine makes of a report."""

HANGING = "Hanging from a bar grips too: leave it out if it hurts."

PAUSE: dict[PauseCause, str] = {
    "rest": "No reminders until then.",
    "sick": "Nothing hard while you are ill. Type back when you are well; the first evening "
    "will be easy. Fever or chest symptoms: ask a doctor before you train.",
    "away": "No reminders until then. Type tonight for an evening that needs no kit. "
    "Wall visits still count: wall 2h",
}


def pain_lines(pain: PainFelt) -> list[str]:
    """The answer to a pain report, as grave as the engine takes it."""
    how = "" if pain.score is None else f" {pain.score}/10"
    signs = f" ({', '.join(pain.flags)})" if pain.flags else ""
    head = f"Pain {_where(pain) or 'somewhere'}{how}{signs}."
    found = gravest(pain)
    if found is None:
        return ["Good: no pain noted."]
    is_fingers = spare(pain, FINGERS) == "stop" and spare(pain, "elbow flexors") is None
    return [head, ADVICE[found], *([HANGING] if is_fingers else [])]


def sign_still_open(dated: DatedPain) -> str:
    """After a pause: what must be known before a tissue with a warning sign is loaded again."""
    return (
        f"The warning sign of {short_day(dated.day)} ({_sign(dated)}) still stands: has a doctor "
        "or physiotherapist cleared it? Type back once more if so; else nothing there is loaded."
    )


def sign_cleared(dated: DatedPain) -> str:
    """What a "back" after a warning sign was taken as."""
    return (
        f"Noted: a professional has cleared the {_sign(dated)} of {short_day(dated.day)}. It "
        "starts again from half. Not cleared yet? Type undo."
    )


def _sign(dated: DatedPain) -> str:
    return " ".join(word for word in (_where(dated.pain), ", ".join(dated.pain.flags)) if word)


def _where(pain: PainFelt) -> str:
    return " ".join(word for word in (pain.side, pain.site) if word)


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
