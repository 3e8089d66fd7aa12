"""Fixed texts of the conversation."""

from core.replies.act import Misread

WELCOME = (
    "Weeknight here. I plan your home evenings for climbing, remind you, and say what to load "
    "next. You type short replies, for example: crimp 4x22kg ok"
)

CAUTION = (
    "Please read once: this is training bookkeeping by stated rules, not medical advice. "
    "Warm up. Stop at any pain in a finger, elbow or shoulder. A pop, swelling, numbness or a "
    "finger that will not bend or straighten: stop and see a doctor or physiotherapist. "
    "Check that bar, door frame, pin and handle carry the load. "
    "Under 16: no finger-strength loading. Local rules and professionals come first."
)

HELP = (
    "Log: crimp 4x22kg ok · pull ups 8,7,6 hard · lock off 3x8s · plank 3x20\n"
    "Sides: L 4x22 R 4x20 · effort: easy ok hard limit fail\n"
    "Ask: tonight · next · next crimp · why · week · kit · progress\n"
    "Do: start · ok · skip · undo · fix crimp 4x20kg ok · 20 min\n"
    "Plan: evenings tue thu 20:30 60 min · move thu 20:30 · move thu to fri · later 30 min · "
    "share rests · deload\n"
    "Wall: wall tonight · wall 2h rpe 7 · wall days sat · no wall sat\n"
    "Off: not tonight · pause 2 weeks · sick · away until 14 dec with green band · back\n"
    "Kit: plates 2x10 2x5 2x1.25 · pin 1.2kg · edges 20 15 · grips crimp wide pinch · "
    "bar 120kg · band green 12kg\n"
    "You: bw 71.4 · age 34 · units lb · zone Oslo · quiet 22:00-07:00 · remind 30 min before\n"
    "Hurt: pain left ring finger 4\n"
    "Yours: privacy"
)

PRIVACY = (
    "Kept: what you type here, your logs, plan, kit, body weight, pain notes and this chat's "
    "number, in the host's own database and nowhere else. Used only to answer you. "
    "Whoever runs this bot can read it and can erase it: ask them."
)

TEXT_ONLY = "I read text only. Type help for examples."

NOTHING_TO_UNDO = "There is nothing to undo."


def misread_lines(text: str, misread: Misread) -> list[str]:
    """What was not understood, where, and what would have been."""
    flat = text.replace("\n", " ")
    start, end = misread.at, misread.at + len(misread.saw)
    if misread.saw and len(flat) <= 200:
        shown = f"Not understood at [ ]: {flat[:start]}[{flat[start:end]}]{flat[end:]}"
    elif len(flat) <= 200:
        shown = f"Not understood at the end: {flat} [ ]"
    else:
        shown = f"Not understood: {misread.saw[:60]}"
    lines = [shown]
    if misread.expected:
        lines.append(f"There I can read {_either(misread.expected[:4])}.")
    if misread.try_:
        lines += ["Did you mean:", *(f"· {reply}" for reply in misread.try_)]
    else:
        lines.append("Type help for examples.")
    return lines


def _either(words: tuple[str, ...]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"
