"""Which exercise a name on the command line means."""

from bot.errors import BadSettings
from core.catalogue import logged_exercises


def slug_of(name: str) -> str:
    """The slug for a slug or alias, whatever the case and hyphens.

    Raises:
        BadSettings: No exercise has that name; the message lists the slugs.
    """
    wanted = " ".join(name.casefold().replace("-", " ").split())
    for exercise in logged_exercises():
        if wanted in {exercise.slug.replace("-", " "), *exercise.aliases}:
            return exercise.slug
    slugs = ", ".join(e.slug for e in logged_exercises())
    raise BadSettings(f"no exercise is called {name!r}; there are: {slugs}")
