"""Every kind of log of the reader's contract, with the sets it promises."""

from decimal import Decimal

import pytest

from core.quantity import POUND_KG
from core.replies import read
from core.replies.act import Fix, Log, ReplyContext, SetSaid

KG22 = {"load_kg": Decimal(22)}


def many(count, side="both", **said):
    return [SetSaid(side=side, **said)] * count


def kg(number):
    return {"load_kg": Decimal(number)}


BARE_NUMBERS = [
    # Loaded hold: sets x load, sets x seconds x load, a list of loads.
    ("crimp 4x22", "half-crimp", many(4, **KG22)),
    ("crimp 4x10x22", "half-crimp", many(4, hold_s=10, **KG22)),
    ("crimp 22/22/24", "half-crimp", [*many(2, **KG22), *many(1, **kg(24))]),
    ("crimp 22kg", "half-crimp", many(1, **KG22)),
    ("repeaters 3x15", "repeaters", many(3, **kg(15))),
    # Repetition range: sets x reps, a list of reps, reps and an added load.
    ("pull-ups 3x8", "pull-up", many(3, reps=8)),
    ("pull-ups 8,7,6", "pull-up", [SetSaid("both", reps=n) for n in (8, 7, 6)]),
    ("pull-ups 3x8x5", "pull-up", many(3, reps=8, **kg(5))),
    # Hold range, timed hold, long hold: seconds.
    ("dead hang 3x10", "dead-hang", many(3, hold_s=10)),
    ("dead hang 3x10x5", "dead-hang", many(3, hold_s=10, **kg(5))),
    ("lock-off 3x8", "lock-off", many(3, hold_s=8)),
    ("plank 3x15", "long-lever-plank", many(3, hold_s=15)),
    ("plank 15/15/12", "long-lever-plank", [SetSaid("both", hold_s=n) for n in (15, 15, 12)]),
    ("splits 2x45", "side-split", many(2, hold_s=45)),
    # Slow reps.
    ("cossacks 2x6", "cossack-squat", many(2, reps=6)),
    # No exercise, no unit: left to the conversation.
    ("4x22", None, many(4, value=Decimal(22))),
    ("22/24", None, [SetSaid("both", value=Decimal(n)) for n in (22, 24)]),
    ("8,7,6", None, [SetSaid("both", value=Decimal(n)) for n in (8, 7, 6)]),
    ("4x10x22", None, many(4, value=Decimal(10), **KG22)),
]

SIGNS_AND_UNITS = [
    *[
        (text, "half-crimp", many(4, **KG22))
        for text in (
            "crimp 4x22kg",
            "crimp 4X22 KG",
            "crimp 4×22kgs",
            "crimp 4*22 kilo",
            "crimp 4 x 22 kilos",
            "crimp 4 sets of 22kg",
            "crimp 22kg x4",
            "crimp 22kgx4",
            "crimp 4 sets at 22kg",
            "crimp 4 sets @22kg",
        )
    ],
    ("crimp 4x10s 22kg", "half-crimp", many(4, hold_s=10, **KG22)),
    ("crimp 4x22kg 10s", "half-crimp", many(4, hold_s=10, **KG22)),
    ("crimp 4x10s @22kg", "half-crimp", many(4, hold_s=10, **KG22)),
    ("crimp 4x10 22kg", "half-crimp", many(4, hold_s=10, **KG22)),
    ("crimp 4x10 @22kg", "half-crimp", many(4, hold_s=10, **KG22)),
    ("crimp 4x10 sec at 22", "half-crimp", many(4, hold_s=10, **KG22)),
    ('crimp 4x10" x 22kg', "half-crimp", many(4, hold_s=10, **KG22)),
    ("crimp 22kg 12s", "half-crimp", many(1, hold_s=12, **KG22)),
    # 45 lb x 0.45359237 kg/lb, exactly.
    *[
        (f"crimp 4x45{unit}", "half-crimp", many(4, load_kg=45 * POUND_KG))
        for unit in ("lb", "lbs", " pound", " pounds")
    ],
    ("plank 2x1:30", "long-lever-plank", many(2, hold_s=90)),
    ("plank 2x1m30", "long-lever-plank", many(2, hold_s=90)),
    ("plank 2x2 min", "long-lever-plank", many(2, hold_s=120)),
    ("plank 2x2m", "long-lever-plank", many(2, hold_s=120)),
    ("pull-ups 3x8 reps", "pull-up", many(3, reps=8)),
    ("pull-ups 3x8r", "pull-up", many(3, reps=8)),
    ("crimp 22,5kg", "half-crimp", many(1, **kg("22.5"))),
    ("crimp 4x22,5", "half-crimp", many(4, **kg("22.5"))),
    ("pull-ups 3x8x2,5", "pull-up", many(3, reps=8, **kg("2.5"))),
    ("pull-ups 8,7", "pull-up", [SetSaid("both", reps=n) for n in (8, 7)]),
    ("pull-ups 3x8 +5kg", "pull-up", many(3, reps=8, **kg(5))),
    ("pull-ups 3x8 5kg", "pull-up", many(3, reps=8, **kg(5))),
    ("pull-ups +5kg 3x8", "pull-up", many(3, reps=8, **kg(5))),
    (
        "crimp 45, 45, 50 lb",
        "half-crimp",
        [*many(2, **kg(45 * POUND_KG)), *many(1, **kg(50 * POUND_KG))],
    ),
    ("pull-ups 8r 8r 7r", "pull-up", [SetSaid("both", reps=n) for n in (8, 8, 7)]),
]

HELP = [
    *[
        (f"pull-ups 3x8 {words}", "pull-up", many(3, reps=8, **kg(-12)))
        for words in ("-12kg", "−12kg", "12kg help", "help 12kg", "assisted 12kg", "12kg assisted")
    ],
    ("pull-ups 3x8 green band", "pull-up", many(3, reps=8, band="green")),
    ("pull-ups green band 3x8", "pull-up", many(3, reps=8, band="green")),
    ("pull-ups 3x8 with Green band", "pull-up", many(3, reps=8, band="green")),
]

SIDES = [
    *[
        (
            text,
            "half-crimp",
            [*many(4, "left", **kg(22)), *many(4, "right", **kg(20))],
        )
        for text in (
            "crimp L 4x22 R 4x20",
            "crimp left 4x22 right 4x20",
            "crimp L 4x22, R 4x20",
            "crimp 4x22 L 4x20 R",
            "crimp 4x22 left, 4x20 right",
            "crimp left hand 4x22kg right hand 4x20kg",
        )
    ],
    (
        "left 22/22/20 right 20/20/20",
        None,
        [
            *many(2, "left", value=Decimal(22)),
            *many(1, "left", value=Decimal(20)),
            *many(3, "right", value=Decimal(20)),
        ],
    ),
    ("crimp 22L 20R", "half-crimp", [*many(1, "left", **kg(22)), *many(1, "right", **kg(20))]),
    ("crimp 4x22 left", "half-crimp", many(4, "left", **KG22)),
    *[
        (f"crimp {words}", "half-crimp", many(4, **KG22))
        for words in (
            "both 4x22",
            "l/r 4x22",
            "left and right 4x22",
            "4x22 each",
            "4x22 per side",
            "each hand 4x22",
            "4x22 both",
        )
    ],
]

EFFORTS = [
    ("crimp 4x22kg ok", "half-crimp", many(4, effort="ok", **KG22)),
    ("crimp 22/22 hard", "half-crimp", many(2, effort="hard", **KG22)),
    (
        "crimp 22 ok, 22 ok, 22 hard, 22 fail",
        "half-crimp",
        [SetSaid("both", effort=e, **KG22) for e in ("ok", "ok", "hard", "fail")],
    ),
    (
        "crimp 4x22kg ok last fail 7s",
        "half-crimp",
        [*many(3, effort="ok", **KG22), *many(1, effort="fail", hold_s=7, **KG22)],
    ),
    (
        "crimp 4x22kg ok, last 2 hard",
        "half-crimp",
        [*many(2, effort="ok", **KG22), *many(2, effort="hard", **KG22)],
    ),
    (
        "crimp 4x22kg fail on 3",
        "half-crimp",
        [*many(2, **KG22), *many(1, effort="fail", **KG22), *many(1, **KG22)],
    ),
    (
        "crimp L 4x22 fail on 3 R 4x20 ok",
        "half-crimp",
        [
            *many(2, "left", **KG22),
            *many(1, "left", effort="fail", **KG22),
            *many(1, "left", **KG22),
            *many(4, "right", effort="ok", **kg(20)),
        ],
    ),
    (
        "crimp 22 ok, 22 fail 7s",
        "half-crimp",
        [SetSaid("both", effort="ok", **KG22), SetSaid("both", effort="fail", hold_s=7, **KG22)],
    ),
    ("crimp 4x22kg all ok", "half-crimp", many(4, effort="ok", **KG22)),
    ("crimp 4x22kg @8", "half-crimp", many(4, rpe=Decimal(8), **KG22)),
    ("crimp 4x22kg rpe 8.5", "half-crimp", many(4, rpe=Decimal("8.5"), **KG22)),
    *[
        (f"crimp 4x22kg {words}", "half-crimp", many(4, left=2, **KG22))
        for words in ("2 left", "rir 2", "2 in reserve", ", 2 left")
    ],
    ("crimp 4x22kg hard 2s left", "half-crimp", many(4, effort="hard", left=2, **KG22)),
    *[
        (f"crimp 4x22kg {word}", "half-crimp", many(4, effort=effort, **KG22))
        for effort, words in {
            "easy": ["easy", "light", "comfy"],
            "ok": ["ok", "okay", "good", "fine", "solid", "done", "👍", "✅", "OK"],
            "hard": ["hard", "tough", "heavy"],
            "limit": ["limit", "max", "maxed", "all out", "grinder"],
            "fail": ["fail", "failed", "missed", "dropped", "❌"],
        }.items()
        for word in words
    ],
]


@pytest.mark.parametrize(
    ("text", "exercise", "sets"), BARE_NUMBERS + SIGNS_AND_UNITS + HELP + SIDES + EFFORTS
)
def test_read_log_gives_the_sets_that_were_said(context, text, exercise, sets):
    reading = read(text, context)
    assert reading.misread is None
    assert reading.acts == (Log(exercise, tuple(sets)),)


def test_read_example_of_the_contract_gives_its_json(as_json):
    one = {
        "side": "both",
        "load_kg": 22.0,
        "band": None,
        "reps": None,
        "hold_s": None,
        "effort": "ok",
        "rpe": None,
        "left": None,
    }
    assert as_json("crimp 4x22kg ok") == {
        "text": "crimp 4x22kg ok",
        "acts": [
            {
                "act": "log",
                "exercise": "half-crimp",
                "sets": [one] * 4,
                "edge_mm": None,
                "note": None,
            }
        ],
        "misread": None,
    }
    assert as_json("4x22 ok")["acts"][0]["sets"] == [{**one, "load_kg": None, "value": 22}] * 4


def test_read_pounds_are_exact_and_rounded_to_the_gram_only_in_json(as_json):
    # 45 lb = 20.41165665 kg; to the gram 20.412.
    assert as_json("crimp 45lb")["acts"][0]["sets"][0]["load_kg"] == 20.412


def test_read_bare_load_beside_seconds_is_in_the_units_of_the_athlete(context):
    pounds = ReplyContext(units="lb", at=context.at, zone=context.zone)
    assert read("10s 45", pounds).acts[0].sets[0].load_kg == 45 * POUND_KG
    # 764 lb are 346 kg, over the bound.
    assert read("8r 764", pounds).misread is not None


def test_read_units_of_the_athlete_say_what_a_bare_load_is(context):
    pounds = ReplyContext(units="lb", at=context.at, zone=context.zone)
    assert read("crimp 45", pounds).acts[0].sets[0].load_kg == 45 * POUND_KG
    assert read("crimp 20kg", pounds).acts[0].sets[0].load_kg == 20
    assert read("bw 150", pounds).acts[0].kg == 150 * POUND_KG


@pytest.mark.parametrize(
    ("text", "note"),
    [
        ("crimp 4x22 # Felt sharp; more chalk", "Felt sharp; more chalk"),
        ("crimp 4x22 // new edge", "new edge"),
        ("crimp 4x22 note: cold, and tired", "cold, and tired"),
        ("crimp 4x22 #", None),
    ],
)
def test_read_note_is_kept_as_typed(context, text, note):
    assert read(text, context).acts == (Log("half-crimp", tuple(many(4, **KG22)), None, note),)


def test_read_note_belongs_to_its_own_line(context):
    acts = read("crimp 4x22 # one\nplank 3x15 # two", context).acts
    assert [log.note for log in acts] == ["one", "two"]


def test_read_edge_belongs_to_the_log(context):
    for text in ("crimp 20mm 4x22", "crimp 4x22 20 mm", "crimp on 20mm edge 4x22"):
        assert read(text, context).acts[0].edge_mm == 20


def test_read_fix_holds_a_log(context):
    acts = read("fix crimp 4x20kg ok", context).acts
    assert acts == (Fix(Log("half-crimp", tuple(many(4, effort="ok", **kg(20))))),)


@pytest.mark.parametrize(
    "text",
    [
        "crimp 4x22 ok; plank 3x15",
        "crimp 4x22 ok\nplank 3x15",
        "crimp 4x22 ok, plank 3x15",
        "crimp 4x22 ok and plank 3x15",
        "crimp 4x22 ok then plank 3x15",
        "crimp 4x22 ok, then plank 3x15",
    ],
)
def test_read_clauses_are_cut_in_front_of_another_exercise(context, text):
    reading = read(text, context)
    assert reading.misread is None
    assert [log.exercise for log in reading.acts] == ["half-crimp", "long-lever-plank"]


NAMES = {
    "half-crimp": ["crimp", "hc", "half crimp", "Half-Crimp", "crimps", "halfcrimp"],
    "three-finger-crimp": ["front three", "f3", "three finger", "3 finger crimp"],
    "open-hand": ["drag", "open", "open-hand"],
    "wide-pinch": ["wide pinch", "wide  pinch", "wide-pinch"],
    "narrow-pinch": ["narrow pinch"],
    "rolling-handle": ["roller", "sloper", "rolling handle"],
    "wide-pull-up": ["wide pull", "wide pulls", "wide pull-ups", "Wide Pull-Up"],
    "pull-up": ["pull-ups", "pullups", "chins", "pull up", "chin-ups"],
    "lock-off": ["lockoff", "lock offs", "lock-off"],
    "long-lever-plank": ["plank", "planks", "long lever plank"],
    "cross-plank": ["cross plank"],
    "l-sit": ["l-sit", "l sit", "lsit", "L-Sits"],
    "cossack-squat": ["cossack", "cossacks", "cossack squats"],
    "pancake": ["pancake"],
    "side-split": ["split", "splits", "side split"],
    "push-up": ["push-ups", "pushups"],
    "external-rotation": ["external rotation"],
    "finger-extension": ["finger extension"],
    "dead-hang": ["dead hang", "hangs"],
    "repeaters": ["repeaters", "7:3"],
}


@pytest.mark.parametrize(
    ("name", "slug"), [(name, slug) for slug, names in NAMES.items() for name in names]
)
def test_read_names_of_exercises_in_any_case_spacing_and_number(context, name, slug):
    assert read(f"next {name}" if name != "7:3" else name, context).acts[0].exercise == slug


def test_read_knows_the_names_that_an_athlete_gave(context):
    own = ReplyContext(
        units="kg",
        at=context.at,
        zone=context.zone,
        bands=("thick one", "10-20"),
        aliases=(("Old Faithful", "half-crimp"), ("skip", "pancake")),
    )
    assert read("old faithful 4x22 ok", own).acts[0].exercise == "half-crimp"
    assert read("pull-ups 3x8 thick one band", own).acts[0].sets[0].band == "thick one"
    assert read("pull-ups 3x8 10-20 band", own).acts[0].sets[0].band == "10-20"
    # A command cannot be taken away by a name.
    assert read("skip", own).acts[0].about == "skip"
    # With bands known, any other word is asked about.
    assert read("pull-ups 3x8 thick two band", own).misread.try_ != ()
