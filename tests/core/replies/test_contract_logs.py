"""Logs of the reader's contract, line by line, with the JSON that it promises."""

import pytest

from core.replies import read
from core.replies.act import ReplyContext
from core.replies.contract import reading_as_json


def said(many=1, **what):
    """So many sets in JSON; what was not said is null."""
    one = {
        "side": "both",
        "load_kg": None,
        "band": None,
        "reps": None,
        "hold_s": None,
        "effort": None,
        "rpe": None,
        "left": None,
    }
    return [{**one, **what}] * many


def log(exercise, *sets, edge_mm=None, note=None):
    flat = [one for run in sets for one in run]
    return {"act": "log", "exercise": exercise, "sets": flat, "edge_mm": edge_mm, "note": note}


def kg(many, load_kg, **what):
    return said(many, load_kg=load_kg, **what)


BARE = [
    ("crimp 4x22", log("half-crimp", kg(4, 22.0))),
    ("crimp 4x10x22", log("half-crimp", kg(4, 22.0, hold_s=10))),
    ("crimp 22/22/24", log("half-crimp", kg(2, 22.0), kg(1, 24.0))),
    ("pull-ups 3x8", log("pull-up", said(3, reps=8))),
    ("pull-ups 8,7,6", log("pull-up", said(reps=8), said(reps=7), said(reps=6))),
    ("pull-ups 3x8x5", log("pull-up", kg(3, 5.0, reps=8))),
    ("plank 3x15", log("long-lever-plank", said(3, hold_s=15))),
    ("plank 15/15/12", log("long-lever-plank", said(2, hold_s=15), said(hold_s=12))),
    ("lock-off 3x8", log("lock-off", said(3, hold_s=8))),
    ("splits 2x45", log("side-split", said(2, hold_s=45))),
    ("cossacks 2x6", log("cossack-squat", said(2, reps=6))),
    ("4x22", log(None, said(4, value=22))),
    ("4x22 ok", log(None, said(4, value=22, effort="ok"))),
]

TIMES = [
    (f"crimp {dose}", log("half-crimp", kg(4, 22.0)))
    for dose in (
        "4x22kg",
        "4X22kg",
        "4×22kg",
        "4*22kg",
        "4 sets of 22kg",
        "22kg x4",
        "22kg × 4",
        "4 sets at 22kg",
        "4x @22kg".replace("x @", " sets @"),
        "@22kg x4",
        "４×２２ｋｇ",
        "4\u00a0x\u00a022\u00a0kg",
    )
]

UNITS = [
    *[
        (f"crimp 22{unit}", log("half-crimp", kg(1, 22.0)))
        for unit in ("kg", "kgs", " kilo", " kilos")
    ],
    # 45 lb x 0.45359237 kg/lb = 20.41165665 kg, to the gram 20.412.
    *[
        (f"crimp 45{unit}", log("half-crimp", kg(1, 20.412)))
        for unit in ("lb", "lbs", " pound", " pounds")
    ],
    *[
        (f"plank 15{unit}", log("long-lever-plank", said(hold_s=15)))
        for unit in ("s", "sec", "secs", " second", " seconds", '"', "″", "”")
    ],
    *[
        (f"plank {time}", log("long-lever-plank", said(hold_s=90)))
        for time in (
            "1:30",
            "1m30",
            "1m30s",
            "1min30",
            "1.5 min",
            "1 min 30 s",
            "1 minute 30 seconds",
        )
    ],
    ("plank 1m", log("long-lever-plank", said(hold_s=60))),
    ("plank 2 min", log("long-lever-plank", said(hold_s=120))),
    ("crimp 20mm 4x22", log("half-crimp", kg(4, 22.0), edge_mm=20)),
    *[(f"pull-ups 8{unit}", log("pull-up", said(reps=8))) for unit in (" rep", " reps", "r")],
    ("crimp 22,5kg", log("half-crimp", kg(1, 22.5))),
    ("crimp 4x22,5kg ok", log("half-crimp", kg(4, 22.5, effort="ok"))),
    ("pull-ups 3x8 +5kg", log("pull-up", kg(3, 5.0, reps=8))),
    ("pull-ups 3x8 5kg", log("pull-up", kg(3, 5.0, reps=8))),
    ("pull-ups 8/8/7 @5kg", log("pull-up", kg(2, 5.0, reps=8), kg(1, 5.0, reps=7))),
    ("pull-ups +5kg 8/7/6", log("pull-up", *(kg(1, 5.0, reps=n) for n in (8, 7, 6)))),
    ("crimp 22kg, 4x10s", log("half-crimp", kg(4, 22.0, hold_s=10))),
]

HELP = [
    *[
        (f"pull-ups 3x8 {words}", log("pull-up", kg(3, -12.0, reps=8)))
        for words in ("-12kg", "−12kg", "12kg help", "assisted 12kg", "-12kg help")
    ],
    ("assisted pull-ups 3x8 12kg", log("pull-up", kg(3, -12.0, reps=8))),
    ("pull-ups 8/7 12kg help", log("pull-up", kg(1, -12.0, reps=8), kg(1, -12.0, reps=7))),
    (
        "pull-ups 8/7 green band, 6",
        log("pull-up", *(said(reps=n, band="green") for n in (8, 7)), said(reps=6)),
    ),
    ("pull-ups 3x8 Green band", log("pull-up", said(3, reps=8, band="green"))),
    ("pull-ups 3x8 ok band", log("pull-up", said(3, reps=8, band="ok"))),
    ("pull-ups 3x8 left band", log("pull-up", said(3, reps=8, band="left"))),
]

SIDES = [
    *[
        (text, log("half-crimp", kg(4, 22.0, side="left"), kg(4, 20.0, side="right")))
        for text in (
            "crimp L 4x22 R 4x20",
            "crimp 4x22 L 4x20 R",
            "crimp l 4x22, r 4x20",
            "crimp L: 4x22 / R: 4x20",
            "crimp (L 4x22, R 4x20)",
        )
    ],
    (
        "left 22/22/20 right 20/20/20",
        log(
            None,
            said(2, side="left", value=22),
            said(1, side="left", value=20),
            said(3, side="right", value=20),
        ),
    ),
    *[
        (f"crimp 4x22kg {words}", log("half-crimp", kg(4, 22.0)))
        for words in ("both", "each", "per side", "/side", "with both hands", ", each hand")
    ],
    ("crimp 4x22kg left 2 left", log("half-crimp", kg(4, 22.0, side="left", left=2))),
]


def efforts(*words, load_kg=22.0, exercise="half-crimp"):
    return log(exercise, *(kg(1, load_kg, effort=word) for word in words))


EFFORTS = [
    ("crimp 4x22kg ok", efforts("ok", "ok", "ok", "ok")),
    ("ok crimp 4x22kg", efforts("ok", "ok", "ok", "ok")),
    ("crimp 22 ok, 22 ok, 22 hard, 22 fail", efforts("ok", "ok", "hard", "fail")),
    ("crimp 22 ok / 22 ok / 22 hard", efforts("ok", "ok", "hard")),
    *[
        (f"crimp 4x22kg{row}", efforts("ok", "ok", "hard", "fail"))
        for row in (
            " ok ok hard fail",
            " ok, ok, hard, fail",
            " ok/ok/hard/fail",
            ": ok, ok, hard, fail",
            " ✅✅ hard ❌",
            " ok, ok, hard and fail",
            " first two ok, hard on 3, last fail",
        )
    ],
    (
        "crimp 22/22/24 ok ok hard",
        log("half-crimp", kg(2, 22.0, effort="ok"), kg(1, 24.0, effort="hard")),
    ),
    (
        "crimp L 2x22 ok hard R 2x20 hard fail",
        log(
            "half-crimp",
            kg(1, 22.0, side="left", effort="ok"),
            kg(1, 22.0, side="left", effort="hard"),
            kg(1, 20.0, side="right", effort="hard"),
            kg(1, 20.0, side="right", effort="fail"),
        ),
    ),
    ("crimp 4x22 👍👍", efforts("ok", "ok", "ok", "ok")),
    (
        "crimp 4x22kg ok last fail 7s",
        log("half-crimp", kg(3, 22.0, effort="ok"), kg(1, 22.0, effort="fail", hold_s=7)),
    ),
    *[
        (f"crimp 4x22kg ok {last}", efforts("ok", "ok", "hard", "hard"))
        for last in ("last two hard", "last 2 hard", "last 2 sets hard", "hard on 3 and 4")
    ],
    ("pull-ups 3x8 last 6 fail", log("pull-up", said(2, reps=8), said(reps=6, effort="fail"))),
    ("crimp 3x22kg fail on 3", efforts(None, None, "fail")),
    ("crimp 3x22kg fail on last", efforts(None, None, "fail")),
    ("crimp 4x22kg @8", log("half-crimp", kg(4, 22.0, rpe=8))),
    ("crimp 4x22kg rpe 8.5", log("half-crimp", kg(4, 22.0, rpe=8.5))),
    *[
        (f"crimp 4x22kg {words}", log("half-crimp", kg(4, 22.0, left=2)))
        for words in ("2 left", "rir 2", "2 rir", "2 in reserve", "2 reps left", "2s left")
    ],
]

VOICE = [
    (
        "four sets of ten seconds at twenty two kilos",
        log(None, kg(4, 22.0, hold_s=10)),
    ),
    ("crimp twenty two point two five kilos", log("half-crimp", kg(1, 22.25))),
    ("crimp one hundred and ten kilos", log("half-crimp", kg(1, 110.0))),
    ("crimp four by twenty two kilos", log("half-crimp", kg(4, 22.0))),
]

NOTES = [
    (f"crimp 22kg {sign} Cold; hands", log("half-crimp", kg(1, 22.0), note="Cold; hands"))
    for sign in ("#", "//", "note:")
]


@pytest.mark.parametrize(
    ("text", "act"), BARE + TIMES + UNITS + HELP + SIDES + EFFORTS + VOICE + NOTES
)
def test_read_log_of_the_contract_gives_its_json(as_json, text, act):
    assert as_json(text) == {"text": text, "acts": [act], "misread": None}


@pytest.mark.parametrize(
    ("text", "act"),
    [
        # In pounds every bare load is in pounds: 10 lb = 4.5359237 kg, 20 lb = 9.0718474 kg.
        ("crimp 4x10", log("half-crimp", kg(4, 4.536))),
        ("crimp 4x10x20", log("half-crimp", kg(4, 9.072, hold_s=10))),
        ("crimp 10/20", log("half-crimp", kg(1, 4.536), kg(1, 9.072))),
        ("crimp 10s 20", log("half-crimp", kg(1, 9.072, hold_s=10))),
        ("crimp 4 sets at 20", log("half-crimp", kg(4, 9.072))),
        ("pull-ups 3x8x10", log("pull-up", kg(3, 4.536, reps=8))),
        ("pull-ups 3x8 +10", log("pull-up", kg(3, 4.536, reps=8))),
        ("pull-ups 3x8 -10", log("pull-up", kg(3, -4.536, reps=8))),
        ("pull-ups 3x8 at 10", log("pull-up", kg(3, 4.536, reps=8))),
        ("3x8 reps 10", log(None, kg(3, 4.536, reps=8))),
        ("bw 20", None),
        ("bw 150", {"act": "bodyweight", "kg": 68.039}),
        ("pin 10", {"act": "kit", "pin_kg": 4.536}),
        ("pin limit 20", {"act": "kit", "pin_limit_kg": 9.072}),
        ("bar 20", {"act": "kit", "bar_limit_kg": 9.072}),
        ("band green 10", {"act": "kit", "band": {"name": "green", "help_kg": 4.536}}),
        ("plates 2x10", {"act": "kit", "plates": [{"kg": 4.536, "count": 2}]}),
        ("plates + 20", {"act": "kit", "plates": [{"kg": 9.072, "count": 1}], "change": "add"}),
        (
            "start crimp 20",
            {"act": "start_load", "exercise": "half-crimp", "load_kg": 9.072, "side": "both"},
        ),
        ("fix crimp 20", {"act": "fix", "log": log("half-crimp", kg(1, 9.072))}),
    ],
)
def test_read_bare_loads_in_pounds_wherever_a_load_can_stand(context, text, act):
    pounds = ReplyContext(units="lb", at=context.at, zone=context.zone)
    # 20 lb are 9.07 kg, which is nobody's body weight.
    assert reading_as_json(read(text, pounds))["acts"] == ([act] if act else [])


@pytest.mark.parametrize(
    ("text", "whole"),
    [(f"crimp {word} kilos", number) for word, number in [("one", 1), ("ninety nine", 99)]]
    + [("crimp a hundred kilos", 100), ("crimp one hundred kilos", 100)],
)
def test_read_number_words_up_to_one_hundred(as_json, text, whole):
    assert as_json(text)["acts"][0]["sets"][0]["load_kg"] == whole
