"""What is not understood says where, what would have been, and which replies would be."""

from decimal import Decimal

import pytest

from core.replies import read


@pytest.mark.parametrize(
    ("text", "clause", "at", "saw"),
    [
        ("crimp 4x22kq ok", 1, 8, "22kq"),
        ("crimp 4x22kg ok; plank 3x15 blah", 2, 28, "blah"),
        ("crimp 4x22kg okk", 1, 13, "okk"),
        ("pinch 4x18", 1, 0, "pinch"),
        ("next pinch", 1, 5, "pinch"),
        ("plates", 1, 6, ""),
        ("crimp 4x", 1, 8, ""),
        ("", 1, 0, ""),
        # The columns are those of the original, whatever was left out or made wider before them.
        ("\u200b\u200bcrimp 4x22kq", 1, 10, "22kq"),
        ("ｃｒｉｍｐ 4×22kq ok", 1, 8, "22kq"),
        ("crimp ✅ \ufe0f4x22kq", 1, 11, "22kq"),
    ],
)
def test_misread_says_where_and_what(context, text, clause, at, saw):
    misread = read(text, context).misread
    assert (misread.clause, misread.at, misread.saw) == (clause, at, saw)
    assert misread.expected


def test_misread_expects_what_the_contract_shows(context):
    assert read("crimp 4x22kq ok", context).misread.expected == ("a load", "a time")


@pytest.mark.parametrize(
    ("text", "first"),
    [
        ("crimp 4x22kq ok", "crimp 4x22kg ok"),
        ("crmp 4x22kg ok", "crimp 4x22kg ok"),
        ("Crmp 4×22kg OK", "crimp 4×22kg OK"),
        ("wide pich 4x18", "wide pinch 4x18"),
        ("lock of 3x8", "lock off 3x8"),
        ("crimp 4x22kg ok, next", "crimp 4x22kg ok; next"),
        ("crimp 4x22kg okk; wide pich 4x18", "crimp 4x22kg ok; wide pinch 4x18"),
        ("crimp 22 22 24", "crimp 22/22/24"),
        ("crimp 22x4", "crimp 4x22"),
        ("pull-ups 8-7-6", "pull-ups 8/7/6"),
        ("crimp -12kg", "crimp 12kg"),
        ("crimp 4x22 last fail 7", "crimp 4x22 last fail 7s"),
        ("undo it", "undo"),
    ],
)
def test_misread_offers_the_nearest_reply_first(context, text, first):
    assert read(text, context).misread.try_[0] == first


@pytest.mark.parametrize("text", ["pinch", "pinch 4x18 ok", "why pinch", "crimp 4x22, pinch 4x18"])
def test_misread_of_a_name_that_two_exercises_share_offers_both(context, text):
    offered = read(text, context).misread.try_
    assert offered[:2] == (
        text.replace("pinch", "wide pinch"),
        text.replace("pinch", "narrow pinch"),
    )


def test_misread_leaves_the_good_clauses(context):
    reading = read("crimp 4x22kg ok; blah; next", context)
    assert [type(act).__name__ for act in reading.acts] == ["Log", "Ask"]
    assert reading.misread.clause == 2


def test_misread_never_takes_a_spelling_silently(context):
    for text in ("crmp 4x22kg", "crimp 4x22kq", "crimp 4x22 okk", "undoo", "nxt", "pullip 3x8"):
        assert read(text, context).acts == ()


BOUNDS = [
    ("", "a reply"),
    ("  \n ;", "a reply"),
    ("crimp 0x22", "a number of sets from 1 to 20"),
    ("crimp 21x22", "a number of sets from 1 to 20"),
    ("crimp 12x22, 12x20", "at most 20 sets in a clause"),
    ("crimp " + "/".join(["22"] * 21), "at most 20 sets in a clause"),
    ("crimp 4x0kg", "a load above zero, at most 300 kg"),
    ("crimp 4x301", "a load above zero, at most 300 kg"),
    ("crimp 4x662lb", "a load above zero, at most 300 kg"),
    ("plank 3x0", "a time in whole seconds from 1 to 900"),
    ("plank 3x901", "a time in whole seconds from 1 to 900"),
    ("plank 16 min", "a time in whole seconds from 1 to 900"),
    ("plank 3x7.5", "a time in whole seconds from 1 to 900"),
    ("pull-ups 3x101", "a number of reps from 1 to 100"),
    ("crimp -12kg", "a load: half crimp takes no help"),
    ("crimp 12kg help", "a load: half crimp takes no help"),
    ("crimp 4x22 green band", "a load: half crimp takes no help"),
    ("crimp 4x22 @11", "an RPE from 1 to 10 in halves"),
    ("crimp 4x22 rpe 0.5", "an RPE from 1 to 10 in halves"),
    ("crimp 4x22 rpe 8.3", "an RPE from 1 to 10 in halves"),
    ("wall rpe 12", "an RPE from 1 to 10 in halves"),
    ("elbow hurts 11", "a pain score from 0 to 10"),
    ("bw 0", "a mass above zero, at most 300 kg"),
    ("age 200", "years from 1 to 120"),
    ("snooze 2000", "minutes from 1 to 1440"),
    ("x" * 1001, "a reply of at most 1,000 characters"),
    ("next;" * 41, "at most 40 clauses in a reply"),
]


@pytest.mark.parametrize(("text", "bound"), BOUNDS)
def test_misread_says_which_bound_was_broken(context, text, bound):
    reading = read(text, context)
    assert reading.acts == ()
    assert reading.misread.expected[0] == bound


@pytest.mark.parametrize(
    "text",
    [
        "crimp 20x22",
        "crimp 4x300",
        "plank 3x900",
        "plank 15 min",
        "pull-ups 3x100",
        "crimp 4x22 @10",
        "crimp 4x22 @1",
        "elbow hurts 10",
        "elbow hurts 0",
        "next;" * 40,
        "crimp 4x22 # " + "x" * 987,
    ],
)
def test_read_takes_what_is_just_inside_the_bounds(context, text):
    assert read(text, context).misread is None


def test_read_661_pounds_are_inside_300_kg(context):
    # 661 lb x 0.45359237 = 299.82 kg; 662 lb = 300.28 kg.
    assert read("crimp 661lb", context).acts[0].sets[0].load_kg == Decimal("299.82455657")


@pytest.mark.parametrize(
    "text",
    [
        "crimp 4x22kg 24kg",
        "crimp 8 8 8",
        "pull-ups 8-7",
        "crimp L R 4x22",
        "crimp 4x22 left 4x20",
        "crimp ok",
        "crimp 4x22 fail on 5",
        "crimp roller 4x22",
        "plank 3x20x5",
        "move yesterday",
        "move thu 25:00",
        "away until 31 feb",
        "evenings tue 20:30 21:00",
        "grips plank",
        "band 12kg",
        "start crimp",
        "wall 2h 3h",
        "pull-ups 8,,6",
        "pull-ups 8+8+7",
        "crimp 4 @ 22kg",
        "crimp 4x22 10s/10s/9s",
        "crimp 22kg 10s, 9s",
        "pull-ups 8, 7, 6 +5kg",
        "pull-ups 8,",
        "4crimp 4x22kg",
        "my lft elbow hurts",
        "my elbow hurts when locking off",
        "one of my fingers hurts",
        "zone",
        "and",
    ],
)
def test_read_what_could_mean_two_things_or_nothing_is_asked_about(context, text):
    reading = read(text, context)
    assert reading.acts == ()
    assert reading.misread is not None


def test_misread_offers_only_replies_that_are_understood(context):
    texts = ["crmp 4x22", "pinch", "crimp 4x22kq ok", "crimp 4x22, nxt", "pul up 3x8", "crimp 22x4"]
    offered = [one for text in texts for one in read(text, context).misread.try_]
    assert len(offered) >= len(texts)
    for text in offered:
        reading = read(text, context)
        assert reading.misread is None
        assert reading.acts
