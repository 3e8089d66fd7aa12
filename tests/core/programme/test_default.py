"""The evening that holds where no other programme is named is a file like any other."""

from core.catalogue import get_exercise, logged_exercises
from core.packaged import packaged_text
from core.programme import default_programme, programme_from_toml


def test_default_file_read_by_the_open_door_is_the_default_programme() -> None:
    assert programme_from_toml(packaged_text("core.programme", "default.toml")) == (
        default_programme()
    )


def test_default_lists_every_logged_exercise_once_with_the_catalogues_dose() -> None:
    listed = [one.exercise for block in default_programme().blocks for one in block.listed]
    assert len(listed) == len(logged_exercises()) > 0
    assert {e.slug: e for e in listed} == {e.slug: e for e in logged_exercises()}


def test_default_has_the_house_rules_of_an_evening() -> None:
    # House rules, as DEVELOPERS.md and the file itself state them.
    programme = default_programme()
    assert (programme.minutes, programme.deload_week, programme.optional_days) == (60, 5, 28)
    assert [str(part) for part in programme.ramp] == ["0.4", "0.6", "0.8"]
    assert {b.name: (b.most, b.every_evening, b.worth, b.least_sets) for b in programme.blocks} == {
        "fingers": (3, 1, 1000, 2),
        "pull": (2, None, 900, 2),
        "trunk": (3, None, 400, 2),
        "balance": (3, None, 150, 2),
        "hips": (3, None, 600, 1),
    }
    optional = {one.exercise.slug for b in programme.blocks for one in b.listed if one.is_optional}
    assert optional == {
        "two-hand-lift",
        "repeaters",
        "dead-hang",
        "pull-up",
        "one-arm-lock-off",
    }


def test_exercise_outside_the_programme_keeps_the_catalogues_dose() -> None:
    small = programme_from_toml(
        'name = "hips only"\n[[block]]\nname = "hips"\n'
        'exercises = [{ name = "pancake", sets = 4 }]\n'
    )
    assert not isinstance(small, tuple)
    assert small.exercise("pancake").dose.sets == 4
    assert small.exercise("half-crimp") is get_exercise("half-crimp")
