"""What the reader's contract says of misreads: where, what was seen, what fits, what to send."""

from datetime import UTC, datetime

import pytest

from core.catalogue import logged_exercises
from core.replies import read
from core.replies.act import ReplyContext
from core.replies.contract import reading_as_json


def test_misread_has_the_fields_of_the_contract(as_json):
    assert as_json("ok; 22kq")["misread"] == {
        "clause": 2,
        "at": 4,
        "saw": "22kq",
        "expected": [
            "an exercise",
            "a load",
            "a time",
            "an effort such as ok or hard",
            "a word such as next, done, tonight or help",
        ],
        "try": ["ok; 22kg"],
    }
    assert as_json("crimp 4x22kq ok")["misread"] == {
        "clause": 1,
        "at": 8,
        "saw": "22kq",
        "expected": ["a load", "a time"],
        "try": ["crimp 4x22kg ok"],
    }


@pytest.mark.parametrize(
    ("text", "clause", "saw"),
    [
        ("crimp 4x22 ok; plank 3x15 blah", 2, "blah"),
        ("crimp 4x22 ok, plank 3x15 blah", 2, "blah"),
        ("crimp 4x22 ok\nplank 3x15 blah\nnext", 2, "blah"),
        # Empty clauses are none.
        (";;\n; crimp 4x22 ok;; blah", 2, "blah"),
        # The first misread is the one that is told.
        ("blah; crimp 4x22 ok; blub", 1, "blah"),
        # Columns are those of what was typed: two marks on one letter, wide figures, emoji.
        ("e\u0301\u0302 4x22 blah", 1, "e\u0301\u0302"),
        ("👍🏽; crimp ４×２２ blah", 2, "blah"),
        ("💪🏿 crimp 4x22", 1, "💪🏿"),
        ("\u200f\u200bcrimp 4x22 \u200fblah", 1, "blah"),
    ],
)
def test_misread_counts_clauses_and_characters_as_they_were_typed(as_json, text, clause, saw):
    misread = as_json(text)["misread"]
    assert (misread["clause"], misread["saw"]) == (clause, saw)
    assert misread["at"] == text.index(saw)


def test_good_clauses_stand_and_offers_are_whole_replies(as_json):
    read_so_far = as_json("crimp 4x22 ok; plonk 3x15; next")
    assert [act["act"] for act in read_so_far["acts"]] == ["log", "next"]
    for offered in read_so_far["misread"]["try"]:
        again = as_json(offered)
        assert again["misread"] is None
        assert [act["act"] for act in again["acts"]] == ["log", "log", "next"]


MISSING = {
    "move": "a day such as thu or tomorrow",
    "move to": "a day such as thu or tomorrow",
    "later": "how long, such as later 20 min",
    "snooze": "how long, such as later 20 min",
    "short": "how many minutes there are",
    "away until": "a day such as fri or 14 dec",
    "bw": "your body weight in kg or lb",
    "plates": "the plates you have, such as plates 2x10 2x5",
    "pin": "the mass of pin and handle in kg or lb",
    "pin limit": "what the pin may carry, in kg or lb",
    "bar": "what the bar may carry, in kg or lb",
    "edges": "the depths of your edges in mm, such as edges 20 15",
    "grips": "the grips you have, such as grips crimp roller",
    "band": "the name of the band and its help in kg or lb",
    "band green": "the help of the band in kg or lb",
    "no": "the name of a band and the word band",
    "evenings": "days such as tue thu",
    "wall days": "days such as sat sun",
    "zone": "a zone, a city or the time there",
    "age": "your age in years",
    "quiet": "two times of day, such as quiet 22:00-07:00",
    "remind": "how many minutes before",
    "start crimp": "a load in kg or lb",
    "fix": "the log as it should be, such as fix crimp 4x20kg ok",
    "crimp L": "sets",
    "crimp 20mm": "sets",
}


@pytest.mark.parametrize(("text", "wanted"), MISSING.items())
def test_a_command_without_its_details_says_what_is_missing(as_json, text, wanted):
    reading = as_json(text)
    assert reading["acts"] == []
    assert reading["misread"]["at"] == len(text)
    assert reading["misread"]["expected"][0] == wanted
    # A number or a day for somebody else would be made up.
    assert reading["misread"]["try"] == []


@pytest.mark.parametrize(
    ("text", "offered"),
    [
        ("units", ["units kg", "units lb"]),
        ("climbed 90", ["climbed 90 min"]),
        ("evenings tue 20:30 60", ["evenings tue 20:30 60 min"]),
        ("move thu 20.30", ["move thu 20:30"]),
        ("quiet 22-7", ["quiet 22:00-7:00"]),
        ("71.4kg bw", ["bw 71.4kg"]),
        ("green band 12kg", ["band green 12kg"]),
        ("crimp 4x22 oj", ["crimp 4x22 ok"]),
        ("crimp 4x22kgok", ["crimp 4x22kg ok", "crimp 4x22kg"]),
        ("crimp 4c22", ["crimp 4x22"]),
        ("crimp 4x2o", ["crimp 4x20"]),
        ("crimp 4x22 ok hard", ["crimp 4x22 ok last hard"]),
        ("8 pull-ups, 20 push-ups", ["8 pull-ups; 20 push-ups"]),
        ("evenings mon-wed 20:30", ["evenings mon/wed 20:30", "evenings mon tue wed 20:30"]),
        ("elbow 4", ["pain elbow 4"]),
        # Nothing is offered that would say the opposite, or take a number away.
        ("elbow pain gone", []),
        ("elbow doesn't hurt", []),
        ("crimpwide pinch 4x18", ["wide pinch 4x18", "narrow pinch 4x18"]),
        # 18:00 now: 15:00 has been, and tomorrow is for the athlete to say.
        ("move to 15:00", ["move to tomorrow 15:00"]),
        ("crimp 4x22 nearly failed", []),
        ("start pull-ups -12kg", []),
        ("HC 4x22 rest 120s", []),
        ("crimp 21x22", []),
    ],
)
def test_misread_offers_what_was_meant_and_nothing_else(as_json, text, offered):
    assert as_json(text)["misread"]["try"] == offered


GUESSES = [
    "4x22,5",
    "crimp 4x22,5,5",
    "crimp 22,5,22,5",
    "crimp 4x22 fail on 3, 4",
    "crimp 4x22 ok ok",
    "crimp 4x22 ok ok hard",
    "crimp 4x22 ok ok hard fail fail",
    "crimp 4x22 ok ok hard fail 7s",
    "crimp 22kg, 24kg, 4 sets",
    "crimp 4x22 rep 8",
    "5 3 reps 4",
    "pull-ups 3x8 +12kg help",
    "pull-ups -3x8",
    "pull-ups 8,7,6, 2 left",
    "2 left",
    "evenings mon-fri 20:30",
    "crimp 20mm",
]


@pytest.mark.parametrize("text", GUESSES)
def test_no_act_is_made_from_a_guess(as_json, text):
    reading = as_json(text)
    assert reading["acts"] == []
    for offered in reading["misread"]["try"]:
        assert as_json(offered)["misread"] is None


@pytest.mark.parametrize(
    ("text", "bound"),
    [
        ("fix crimp 0x22", "a number of sets from 1 to 20"),
        ("crimp L 21x22 R 4x20", "a number of sets from 1 to 20"),
        ("4x0", "a number above 0, at most 900"),
        ("pull-ups 3x0", "a number of reps from 1 to 100"),
        ("plank 3x15:01", "a time in whole seconds from 1 to 900"),
        ("pull-ups 3x8 301kg help", "a load above zero, at most 300 kg"),
        ("crimp 0.0004kg", "a load above zero, at most 300 kg"),
        ("crimp 4x22 rpe 0", "an RPE from 1 to 10 in halves"),
        ("wall 2h rpe 10.5", "an RPE from 1 to 10 in halves"),
        ("pain finger 11/10", "a pain score from 0 to 10"),
        ("pain finger 4.5", "a pain score from 0 to 10"),
        ("crimp 4x22 101 left", "reps or seconds left from 0 to 100"),
        ("plates 101x10", "plates from 1 to 100"),
        ("edges 201", "millimetres of edge from 1 to 200"),
        ("later 1441 min", "minutes from 1 to 1440"),
        ("20 min; only 0", "minutes from 1 to 1440"),
        ("evenings tue 0 min", "minutes from 1 to 1440"),
        ("pause 731 days", "days from 1 to 730"),
        ("age 0", "years from 1 to 120"),
        ("start crimp 301", "a mass above zero, at most 300 kg"),
        ("move thu 24:00", "a time of day from 0:00 to 23:59"),
    ],
)
def test_misread_says_the_bound_in_every_place(as_json, text, bound):
    assert as_json(text)["misread"]["expected"][0] == bound


@pytest.mark.parametrize("exercise", [e for e in logged_exercises() if not e.takes_help])
def test_help_on_what_takes_none_is_a_misread(as_json, exercise):
    reading = as_json(f"{exercise.slug} 12kg help")
    assert reading["acts"] == []
    assert exercise.name in reading["misread"]["expected"][0]


@pytest.mark.parametrize("exercise", logged_exercises())
def test_every_name_in_any_case_number_and_spacing_asks_what_is_next(as_json, exercise):
    act = {"act": "next", "exercise": exercise.slug}
    names = (exercise.slug, exercise.name, *exercise.aliases)
    for name in names:
        plural = name if name.endswith("s") or name[-1].isdigit() else f"{name}s"
        # Between figures alone a hyphen may be a list.
        hyphened = name.replace(" ", "-") if any(c.isalpha() for c in name) else name
        for typed in (name, plural, name.upper(), hyphened, name.replace(" ", "  ")):
            assert as_json(typed)["acts"] == [act], typed


@pytest.mark.parametrize(
    ("at", "zone", "text", "when"),
    [
        # 23:30 UTC is 00:30 the next day in Oslo (UTC+1), 18:30 the same day in New York (UTC-5).
        ("2026-12-01T23:30", "Europe/Oslo", "move to tomorrow", "2026-12-03"),
        ("2026-12-01T23:30", "America/New_York", "move to tomorrow", "2026-12-02"),
        # Oslo's clocks go from 02:00 to 03:00 on 28 March 2027, UTC+1 to UTC+2.
        ("2027-03-27T23:30", "Europe/Oslo", "move to 20:30", "2027-03-28T20:30"),
        ("2027-03-28T22:30", "Europe/Oslo", "move to 20:30", "2027-03-29T20:30"),
        # Said on a Tuesday: the evening is there already.
        ("2026-12-01T17:00", "Europe/Oslo", "move to tuesday", "2026-12-08"),
        ("2026-12-31T22:30", "Europe/Oslo", "move to sat", "2027-01-02"),
        ("2026-12-31T23:30", "Europe/Oslo", "move 31 dec", "2027-12-31"),
    ],
)
def test_relative_days_are_those_of_the_athletes_zone(at, zone, text, when):
    moment = datetime.fromisoformat(at).replace(tzinfo=UTC)
    reading = reading_as_json(read(text, ReplyContext(units="kg", at=moment, zone=zone)))
    assert reading["acts"] == [{"act": "move", "to": when}]
