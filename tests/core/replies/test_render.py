"""What the program writes as a log reads back to the same sets."""

from dataclasses import replace
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from core.catalogue import get_exercise, logged_exercises
from core.quantity import POUND_KG
from core.replies import read
from core.replies.act import Log, ReplyContext, SetSaid
from core.replies.render import log_text

BANDS = ("green", "light green", "no 3", "black")
EFFORTS = ("easy", "ok", "hard", "limit", "fail")


@st.composite
def loads(draw, helped):
    grams = draw(st.integers(1, 300_000))
    pounds = draw(st.integers(1, 600))
    load = draw(st.sampled_from([Decimal(grams) / 1000, Decimal(pounds) * POUND_KG]))
    return -load if helped and draw(st.booleans()) else load


@st.composite
def sets(draw, exercise, bare):
    """Any set that a reply about the exercise can say; ``bare`` where no unit is named."""
    helped = exercise is not None and exercise.takes_help
    said = SetSaid(
        side=draw(st.sampled_from(["left", "right", "both"])),
        effort=draw(st.none() | st.sampled_from(EFFORTS)),
        rpe=draw(st.none() | st.integers(2, 20).map(lambda halves: Decimal(halves) / 2)),
        left=draw(st.none() | st.integers(0, 20)),
    )
    if bare:
        return replace(said, value=Decimal(draw(st.integers(1, 900))))
    wanted = draw(st.sets(st.sampled_from(["load_kg", "reps", "hold_s"]), min_size=1))
    if exercise is not None and not exercise.from_floor:
        said = replace(said, band=draw(st.none() | st.sampled_from(BANDS)))
    return replace(
        said,
        load_kg=draw(loads(helped)) if "load_kg" in wanted else None,
        reps=draw(st.integers(1, 100)) if "reps" in wanted else None,
        hold_s=draw(st.integers(1, 900)) if "hold_s" in wanted else None,
    )


@st.composite
def logs(draw):
    slugs = [exercise.slug for exercise in logged_exercises()]
    slug = draw(st.none() | st.sampled_from(slugs))
    exercise = get_exercise(slug) if slug else None
    bare = exercise is None and draw(st.booleans())
    one = st.tuples(sets(exercise, bare), st.integers(1, 4))
    runs = draw(st.lists(one, min_size=1, max_size=5))
    edge_mm = draw(st.none() | st.integers(1, 60))
    note = draw(st.none() | st.sampled_from(["felt strong", "ring finger; a bit", "5 x 5"]))
    return Log(slug, tuple(one for one, many in runs for _ in range(many)), edge_mm, note)


@given(log=logs(), units=st.sampled_from(["kg", "lb"]))
def test_log_text_reads_back_to_the_same_log(context, log, units):
    known = ReplyContext(units=units, at=context.at, zone=context.zone, bands=BANDS)
    reading = read(log_text(log, units), known)
    assert reading.misread is None
    assert reading.acts == (log,)


def test_log_text_is_what_a_person_would_type():
    four = (SetSaid("both", load_kg=Decimal("22.5"), hold_s=10, effort="ok"),) * 4
    three = (SetSaid("both", load_kg=Decimal(-12), reps=8, effort="hard"),) * 3
    assert log_text(Log("half-crimp", four, 20), "kg") == "half crimp 20mm 4x22.5kg 10s ok"
    assert log_text(Log("pull-up", three), "kg") == "pull up 3x8 -12kg hard"


def test_log_text_in_pounds_shows_whole_pounds():
    one = (SetSaid("left", load_kg=45 * POUND_KG),)
    assert log_text(Log("wide-pinch", one), "lb") == "wide pinch L 45lb"
