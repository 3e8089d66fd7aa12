"""An athlete's own names for bands and exercises, beside the words of the grammar."""

import pytest

from core.replies import read
from core.replies.act import Ask, Kit, Log, ReplyContext


@pytest.fixture
def own(context):
    """An athlete whose names collide with nearly everything."""
    return ReplyContext(
        units="kg",
        at=context.at,
        zone=context.zone,
        bands=("red", "light blue", "ok", "left", "ten", "grün"),
        aliases=(
            ("Board 20", "half-crimp"),
            ("beast-hang", "dead-hang"),
            ("Übung", "long-lever-plank"),
            ("plank", "l-sit"),
            ("b-12", "pull-up"),
            ("big o\u2019s", "open-hand"),
            ("skip", "pancake"),
            ("22", "pull-up"),
        ),
    )


@pytest.mark.parametrize("name", ["red", "light blue", "ok", "left", "ten", "grün"])
def test_a_band_may_be_called_anything(own, name):
    for typed in (name, name.upper(), name.replace("ü", "u\u0308")):
        (log,) = read(f"pull-ups 3x8 {typed} band", own).acts
        assert [one.band for one in log.sets] == [name] * 3
    (log,) = read(f"pull-ups 3x8 {name} band ok", own).acts
    assert {(one.band, one.effort) for one in log.sets} == {(name, "ok")}
    assert read(f"no {name} band", own).acts == (Kit(drop_band=name),)
    assert read(f"band {name} 12kg", own).acts[0].band.name == name


@pytest.mark.parametrize("name", ["blue", "green", "dark blue"])
def test_a_band_that_nobody_owns_is_asked_about(own, name):
    reading = read(f"pull-ups 3x8 {name} band", own)
    assert reading.acts == ()
    assert reading.misread is not None


@pytest.mark.parametrize(
    ("typed", "slug"),
    [
        ("board 20", "half-crimp"),
        ("board-20", "half-crimp"),
        ("beast hang", "dead-hang"),
        ("beasthangs", "dead-hang"),
        ("übung", "long-lever-plank"),
        ("u\u0308bung", "long-lever-plank"),
        ("ÜBUNG", "long-lever-plank"),
        ("b-12", "pull-up"),
        ("big o's", "open-hand"),
        # The athlete's own name wins over another exercise's, whose other names stay.
        ("plank", "l-sit"),
        ("planks", "l-sit"),
        ("long lever plank", "long-lever-plank"),
    ],
)
def test_an_exercise_may_be_called_anything(own, typed, slug):
    assert read(typed, own).acts == (Ask("next", slug),)
    (log,) = read(f"{typed} 3x8 ok", own).acts
    assert isinstance(log, Log)
    assert (log.exercise, len(log.sets)) == (slug, 3)


def test_a_command_and_a_number_stay_what_they_are(own):
    assert read("skip", own).acts == (Ask("skip"),)
    (log,) = read("22 hard", own).acts
    assert log.exercise is None


def test_a_misspelt_name_of_ones_own_is_offered(own):
    assert read("ubung 3x8", own).misread.try_[0] == "übung 3x8"
