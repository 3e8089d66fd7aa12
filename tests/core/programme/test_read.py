"""Every mistake in a programme's text is found at once, with its line and what is allowed."""

import pytest

from core.catalogue import LoadedHold, RepRange, TimedHold
from core.packaged import packaged_text
from core.programme import Problem, Programme, default_programme, programme_from_toml

GOOD = """\
name = "A test"
minutes = 45

[warm_up]
ramp_percent = [50, 75]
exercises = [
    { name = "pulse-raiser", hold_s = [240, 300] },
    { name = "finger-opening" },
    { name = "shoulder-blade-pull" },
]

[[block]]
name = "fingers"
exercises = [
    { name = "half-crimp", sets = 5, hold_s = 7 },
    { name = "repeaters", sets = 2 },
]

[[block]]
name = "trunk"
exercises = [
    { name = "l-sit", hold_s = [10, 25] },
]

[[block]]
name = "hips"
exercises = [
    { name = "pancake", reps = [5, 8], rest_s = 90 },
]
"""


def good(text: str) -> Programme:
    found = programme_from_toml(text)
    assert isinstance(found, Programme), found
    return found


def mistakes(text: str) -> tuple[Problem, ...]:
    found = programme_from_toml(text)
    assert isinstance(found, tuple)
    assert found
    return found


def test_a_file_changes_what_it_names_and_leaves_the_rest_as_usual() -> None:
    programme, usual = good(GOOD), default_programme()
    assert (programme.name, programme.minutes) == ("A test", 45)
    assert [part.slug for part in programme.warm_up] == [
        "pulse-raiser",
        "finger-opening",
        "shoulder-blade-pull",
    ]
    crimp = programme.exercise("half-crimp").dose
    assert isinstance(crimp, LoadedHold)
    assert (crimp.sets, crimp.hold_s, crimp.rest_s) == (5, 7, 120)  # rest as in the catalogue
    sit = programme.exercise("l-sit").dose
    assert isinstance(sit, TimedHold)
    assert (sit.start_s, sit.ceiling_s, sit.step_s) == (10, 25, 5)
    assert [b.name for b in programme.blocks] == ["fingers", "trunk", "hips"]
    assert programme.deload_week == usual.deload_week
    fingers, before = programme.block("fingers"), usual.block("fingers")
    assert fingers is not None
    assert before is not None
    assert (fingers.most, fingers.every_evening, fingers.worth) == (3, 1, before.worth)
    assert fingers.listed[0].priority == 1
    # Optional is what the file says is optional.
    assert not fingers.listed[1].is_optional


@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_any_line_ends_give_the_same_programme(ends: str) -> None:
    assert good(GOOD.replace("\n", ends)) == good(GOOD)


# What is changed in GOOD; kind, line, field and a part of what is allowed.
CASES = {
    "no name": ('name = "A test"\n', "", "missing", 1, "name", "a text"),
    "name is a number": ('"A test"', "3", "wrong-type", 1, "name", "a text"),
    "name is blank": ('"A test"', '"  "', "out-of-bounds", 1, "name", "at most 60"),
    "minutes too few": ("= 45", "= 5", "out-of-bounds", 2, "minutes", "10 to 240"),
    "minutes as text": ("= 45", '= "45"', "wrong-type", 2, "minutes", "10 to 240"),
    "minutes as a fraction": ("= 45", "= 45.5", "wrong-type", 2, "minutes", "a whole number"),
    "true is no number": ("= 45", "= true", "wrong-type", 2, "minutes", "a whole number"),
    "unknown field": ("minutes", "minuts", "unknown-field", 2, "minuts", "minutes"),
    "deload too seldom": (
        "minutes = 45",
        "deload_every_weeks = 9",
        "out-of-bounds",
        2,
        "deload_every_weeks",
        "4 to 6",
    ),
    "flag that is no flag": (
        "minutes = 45",
        'share_rests = "yes"',
        "wrong-type",
        2,
        "share_rests",
        "true or false",
    ),
    "ramp falls": (
        "[50, 75]",
        "[75, 50]",
        "out-of-bounds",
        5,
        "warm_up > ramp_percent",
        "rising",
    ),
    "pulse not first": (
        '"finger-opening" },\n    { name = "shoulder-blade-pull" },',
        '"shoulder-blade-pull" },',
        "warm-up",
        6,
        "warm_up > exercises",
        '"finger-opening"',
    ),
    "part of the warm-up that does not exist": (
        '"finger-opening"',
        '"finger-openings"',
        "unknown-name",
        8,
        "warm_up > exercise 2 > name",
        "finger-opening",
    ),
    "unknown block": ('"trunk"', '"core"', "unknown-name", 20, "block 2 > name", "trunk"),
    "block twice": ('"trunk"', '"fingers"', "twice", 20, "fingers > name", "once"),
    "misspelt exercise": (
        '"half-crimp"',
        '"half-crmp"',
        "unknown-name",
        15,
        "fingers > exercise 1 > name",
        "half-crimp",
    ),
    "everyday name": (
        '"half-crimp"',
        '"crimp"',
        "unknown-name",
        15,
        "fingers > exercise 1 > name",
        "half-crimp",
    ),
    "exercise of another block": (
        '"l-sit"',
        '"lock-off"',
        "wrong-block",
        22,
        "trunk > lock-off > name",
        "the pull",
    ),
    "exercise twice": (
        '"repeaters"',
        '"half-crimp"',
        "twice",
        16,
        "fingers > half-crimp > name",
        "once",
    ),
    "no sets": ("sets = 5", "sets = 0", "out-of-bounds", 15, "fingers > half-crimp > sets", "1 to"),
    "hold too long": (
        "hold_s = 7",
        "hold_s = 31",
        "out-of-bounds",
        15,
        "fingers > half-crimp > hold_s",
        "5 to 30",
    ),
    "too little rest": (
        "hold_s = 7",
        "rest_s = 30",
        "out-of-bounds",
        15,
        "fingers > half-crimp > rest_s",
        "60 to 600",
    ),
    "field of another kind of dose": (
        "hold_s = 7",
        "reps = 7",
        "unknown-field",
        15,
        "fingers > half-crimp > reps",
        "hold_s",
    ),
    "hold of repeated lifts is in their name": (
        "sets = 2",
        "hold_s = 5",
        "unknown-field",
        16,
        "fingers > repeaters > hold_s",
        "sets",
    ),
    "one number for a range": (
        "[10, 25]",
        "10",
        "wrong-type",
        22,
        "trunk > l-sit > hold_s",
        "[from, to]",
    ),
    "range shorter than a step": (
        "[10, 25]",
        "[10, 12]",
        "out-of-bounds",
        22,
        "trunk > l-sit > hold_s",
        "at least 5 more",
    ),
    "range of three": (
        "[10, 25]",
        "[10, 15, 25]",
        "out-of-bounds",
        22,
        "trunk > l-sit > hold_s",
        "[from, to]",
    ),
    "exercise that is no table": (
        '{ name = "l-sit", hold_s = [10, 25] }',
        '"l-sit"',
        "wrong-type",
        22,
        "trunk > exercise 1",
        "a list of tables",
    ),
    "end of a range too high": (
        "[5, 8]",
        "[5, 80]",
        "out-of-bounds",
        28,
        "hips > pancake > reps",
        "1 to 30",
    ),
    "priority nought": (
        '"pancake", ',
        '"pancake", priority = 0, ',
        "out-of-bounds",
        28,
        "hips > pancake > priority",
        "1 to 99",
    ),
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_a_mistake_is_named_with_its_line_and_what_is_allowed(
    case: tuple[str, str, str, int, str, str],
) -> None:
    before, after, kind, line, field, allowed = case
    assert before in GOOD
    (problem,) = mistakes(GOOD.replace(before, after, 1))
    assert (problem.kind, problem.line, problem.field) == (kind, line, field)
    assert allowed in problem.allowed
    assert bool(problem.found) == (kind != "missing")


def test_fingers_come_first_and_hips_last() -> None:
    head, fingers, trunk, hips = GOOD.split("[[block]]")
    (problem,) = mistakes("[[block]]".join([head, trunk, fingers, hips]))
    assert (problem.kind, problem.line, problem.field) == ("wrong-order", 19, "fingers > name")
    (problem,) = mistakes("[[block]]".join([head, fingers, hips, trunk]))
    assert (problem.kind, problem.line, problem.field) == ("wrong-order", 20, "hips > name")


def test_all_mistakes_are_found_at_once_by_line() -> None:
    text = GOOD.replace("= 45", "= 5").replace('"half-crimp"', '"half-crmp"')
    text = text.replace("[10, 25]", "[10, 12]").replace('"pancake"', '"pancake", sets = 0, foo = 1')
    found = mistakes(text)
    assert [p.line for p in found] == [2, 15, 22, 28, 28]
    assert [p.kind for p in found] == [
        "out-of-bounds",
        "unknown-name",
        "out-of-bounds",
        "out-of-bounds",
        "unknown-field",
    ]


@pytest.mark.parametrize(
    ("text", "line", "column"),
    [
        ('name = "x"\nminutes 45\n', 2, 9),
        ('name = "x"\n\nminutes = \n', 3, 11),
        ('name = "x"\nminutes = 45', 2, 13),
    ],
)
def test_text_that_is_no_toml_is_named_with_line_and_column(
    text: str, line: int, column: int
) -> None:
    text = text if text.endswith("\n") else text + "\nlist = ["
    found = programme_from_toml(text)
    assert isinstance(found, tuple)
    assert found[0].kind == "syntax"
    assert len(found) == 1
    if "list" not in text:
        assert (found[0].line, found[0].column) == (line, column)
    else:
        assert found[0].line == 3


def test_text_without_end_is_refused() -> None:
    assert mistakes("#" * 100_001)[0].kind == "too-long"
    assert mistakes("a = " + "[" * 50_000)[0].kind == "syntax"
    (problem,) = mistakes("# first\na = " + "1" * 5_000)
    assert (problem.kind, problem.line) == ("syntax", 2)
    assert mistakes("minutes = 0x" + "f" * 5_000)[0].found == ""  # name is missing
    assert {p.found for p in mistakes("minutes = 0x" + "f" * 5_000)} == {
        "",
        "a number of many digits",
    }


def test_the_default_file_may_leave_nothing_out() -> None:
    # A copy may: what it leaves out is as in the default file.
    text = packaged_text("core.programme", "default.toml")
    shorter = text.replace("most = 2\n", "")
    assert shorter != text
    assert good(shorter) == default_programme()


def test_reps_of_a_loaded_exercise_end_where_the_equations_do() -> None:
    text = '\n[[block]]\nname = "pull"\nexercises = [{{ name = "pull-up", reps = [{}, {}] }}]\n'
    dose = good('name = "x"' + text.format(4, 12)).exercise("pull-up").dose
    assert isinstance(dose, RepRange)
    assert (dose.low, dose.high) == (4, 12)
    (problem,) = mistakes('name = "x"' + text.format(4, 13))
    assert (problem.line, problem.field) == (4, "pull > pull-up > reps")
