"""The words of one athlete: the grammar's, the catalogue's and the athlete's own."""

from collections.abc import Iterable, Iterator
from functools import cache, lru_cache
from typing import NamedTuple

from core.catalogue import logged_exercises
from core.replies.grammar import grammar_words
from core.replies.lexeme import lexemes_in
from core.replies.normal import normal_from


class Entry(NamedTuple):
    """What follows a first word, and what the whole is: a terminal and its text.

    ``text`` is the slug of an exercise, else the word; ``figures`` is true for a
    name without letters.
    """

    rest: tuple[str, ...]
    terminal: str
    text: str
    figures: bool


class Vocabulary(NamedTuple):
    """Words by their first lexeme, longest first, and what can be suggested.

    Attributes:
        entries: For a first lexeme, all that begins with it.
        names: Names of exercises as people type them, with the slug.
        parts: For each word of a name, the exercises that have it in theirs.
        bands: The athlete's bands, spaced out, with their own names; empty means that any
            word is a name.
        words: Everything above, and each word of it: what a typed word may have meant.
    """

    entries: dict[str, tuple[Entry, ...]]
    names: dict[str, str]
    parts: dict[str, tuple[str, ...]]
    bands: dict[str, str]
    words: tuple[str, ...]

    def is_word(self, word: str) -> bool:
        """Whether it means something on its own."""
        return any(not entry.rest for entry in self.entries.get(word, ()))

    def slugs_of(self, word: str) -> tuple[str, ...]:
        """Exercises whose names have this word in them, in the order of an evening."""
        return self.parts.get(word, ())


@lru_cache(maxsize=128)
def vocabulary_of(aliases: tuple[tuple[str, str], ...], bands: tuple[str, ...]) -> Vocabulary:
    """The vocabulary with an athlete's own names for exercises and bands."""
    own = {spaced(name): slug for name, slug in aliases if _is_name(spaced(name))}
    names = {**_catalogue_names(), **own}
    found: dict[tuple[str, ...], tuple[str, str]] = {}
    # The athlete's own names come last: they win over those of the catalogue.
    for name, slug in (*_catalogue_names().items(), *own.items()):
        for form in _forms(name):
            found[form] = ("EXERCISE", slug)
    # A word of the grammar wins: an alias must not take a command away. Places of the body
    # are words of pain reports only, where names are not asked for.
    for word, terminal in grammar_words().items():
        if terminal != "PLACE" or _lexemes(word) not in found:
            found[_lexemes(word)] = (terminal, word)
    entries: dict[str, list[Entry]] = {}
    for form, (terminal, text) in found.items():
        figures = not any(part.isalpha() for part in form) and form[0].isdigit()
        entries.setdefault(form[0], []).append(Entry(form[1:], terminal, text, figures))
    for listed in entries.values():
        listed.sort(key=lambda entry: -len(entry.rest))
    return Vocabulary(
        entries={first: tuple(listed) for first, listed in entries.items()},
        names=names,
        parts=_parts_of(names),
        bands={spaced(name): name for name in bands},
        words=_suggestible((*_with_plurals(names), *bands, *_commanding())),
    )


def _parts_of(names: dict[str, str]) -> dict[str, tuple[str, ...]]:
    found: dict[str, dict[str, None]] = {}
    for name, slug in names.items():
        for word in name.split():
            found.setdefault(word, {})[slug] = None
    return {word: tuple(slugs) for word, slugs in found.items()}


def _with_plurals(names: Iterable[str]) -> Iterator[str]:
    for name in names:
        yield name
        if name[-1:].isalpha() and not name.endswith("s"):
            yield f"{name}s"


def _commanding() -> tuple[str, ...]:
    """The words of the grammar but for places that hurt, which only a pain report has."""
    return tuple(word for word, terminal in grammar_words().items() if terminal != "PLACE")


def _suggestible(phrases: tuple[str, ...]) -> tuple[str, ...]:
    """The phrases and their single words, signs left out, each once."""
    words = (*phrases, *(word for phrase in phrases for word in phrase.split()))
    return tuple(dict.fromkeys(word for word in words if word[0].isalnum() and len(word) > 1))


@cache
def _catalogue_names() -> dict[str, str]:
    names: dict[str, str] = {}
    for exercise in logged_exercises():
        for name in (exercise.slug, exercise.name, *exercise.aliases):
            names[spaced(name)] = exercise.slug
    return names


def spaced(name: str) -> str:
    """A name in the form in which names are compared: its lexemes with single spaces."""
    return " ".join(_lexemes(normal_from(name).text))


def _is_name(name: str) -> bool:
    """Whether it can be told from a number: "22" as a name would swallow loads."""
    return bool(name) and not name.replace(".", "").isdigit()


def _lexemes(name: str) -> tuple[str, ...]:
    return tuple(lexeme.text for lexeme in lexemes_in(name))


def _forms(name: str) -> Iterable[tuple[str, ...]]:
    """The ways to type a name: as it is, as one word, each with a plural s, and 7:3 for 7 3."""
    parts = tuple(name.split())
    if len(parts) == 2 and all(part.isdigit() for part in parts):
        yield (parts[0], ":", parts[1])
    # A hyphen in front of a figure is no minus inside a name: "front-3".
    hyphened = tuple(
        piece
        for before, part in zip(("", *parts), parts, strict=False)
        for piece in (("-", part) if before.isalpha() and part.isdigit() else (part,))
    )
    for form in (parts, _lexemes("".join(parts)), hyphened):
        yield form
        if form[-1].isalpha():
            yield (*form[:-1], form[-1] + "s")
