"""What would have been understood, in plain words, from the terminals that would have fitted."""

from collections.abc import Sequence

from core.replies.token import Token
from core.replies.trouble import Trouble

_MOST = 8
_LEAST_MINUTES = 10
"""A smaller number alone may be hours, or a rating."""

_IN_WORDS: tuple[tuple[tuple[str, ...], str], ...] = (
    (("EXERCISE",), "an exercise"),
    (("BAR", "EDGE", "BAND_NAME"), "a band, an edge such as edge 20, or a bar"),
    (("PLUS", "MINUS", "NUMBER"), "a load"),
    (("CLOCK", "MINUTES_SECONDS", "NUMBER"), "a time"),
    (("NUMBER",), "a number"),
    (("KG",), "kg or lb"),
    (("SECOND",), "seconds or minutes"),
    (("REP",), "reps"),
    (("TIMES",), "x"),
    (("SLASH",), "a slash"),
    (("OK", "HARD"), "an effort such as ok or hard"),
    (("RPE",), "an RPE"),
    (("LEFT", "RIGHT"), "a side"),
    (("BAND_NAME",), "a band"),
    (("BAND",), "the word band"),
    (("TAKES",), "takes and a mass"),
    (("COMMA",), "a comma"),
    (("LAST",), "last"),
    (("WEEKDAY",), "a day"),
    (("MONTH",), "a month"),
    (("MINUTE",), "minutes"),
    (("CLOCK",), "a time of day"),
    (("DAY",), "days or weeks"),
    (("UNTIL",), "until a day"),
    (("MM",), "mm"),
    (("ZONE_TEXT",), "a zone, a city or the time there"),
    (("HURT", "PLACE"), "where it hurts, and how much from 0 to 10"),
    (("NEXT", "UNDO"), "a word such as next, done, tonight or help"),
    (("HURT",), "the word pain"),
    (("$END",), "the end"),
)
"""Terminals that must all fit, and the words for them, the most telling first."""

_MISSING: dict[tuple[str, ...], tuple[str, ...]] = {
    ("MOVE",): ("a day such as thu or tomorrow", "a time of day such as 20:30"),
    ("MOVE", "TO"): ("a day such as thu or tomorrow", "a time of day such as 20:30"),
    ("LATER",): ("how long, such as later 20 min",),
    ("ONLY",): ("how many minutes there are",),
    ("SHORT",): ("how many minutes there are",),
    ("PAUSE", "UNTIL"): ("a day such as fri or 14 dec",),
    ("SICK", "UNTIL"): ("a day such as fri or 14 dec",),
    ("AWAY", "UNTIL"): ("a day such as fri or 14 dec",),
    ("BODY_WEIGHT",): ("your body weight in kg or lb",),
    ("PLATES",): ("the plates you have, such as plates 2x10 2x5",),
    ("PIN",): ("the mass of pin and handle in kg or lb", "limit and a mass"),
    ("PIN", "LIMIT"): ("what the pin may carry, in kg or lb",),
    ("PIN", "EXERCISE"): ("the mass of that grip's own pin in kg or lb",),
    ("HANDLE",): ("a grip and its handle's mass, such as handle wide pinch 0.8kg",),
    ("HANDLE", "LIMIT"): ("a grip and what its handle may carry",),
    ("HANDLE", "EXERCISE"): ("the mass of the handle in kg or lb",),
    ("BELT",): ("the mass of the belt in kg or lb",),
    ("PULLEY",): ("what hangs and what that takes off, such as pulley 20kg takes 18kg",),
    ("BAR",): ("what the bar may carry, in kg or lb",),
    ("BAR", "LIMIT"): ("what the bar may carry, in kg or lb",),
    ("EDGE",): ("the depths of your edges in mm, such as edges 20 15",),
    ("GRIP",): ("the grips you have, such as grips crimp roller",),
    ("BAND",): ("the name of the band and its help in kg or lb",),
    ("BAND", "BAND_NAME"): ("the help of the band in kg or lb",),
    ("NO",): ("the name of a band and the word band", "pulley", "wall"),
    ("EVENING",): ("days such as tue thu", "a time of day such as 20:30", "minutes"),
    ("WALL_DAY",): ("days such as sat sun",),
    ("UNITS",): ("kg or lb",),
    ("ZONE",): ("a zone, a city or the time there",),
    ("AGE",): ("your age in years",),
    ("QUIET",): ("two times of day, such as quiet 22:00-07:00",),
    ("REMIND",): ("how many minutes before",),
    ("START", "EXERCISE"): ("a load in kg or lb", "a side"),
    ("FIX",): ("the log as it should be, such as fix crimp 4x20kg ok",),
    ("FIX", "EXERCISE"): ("sets", "a load", "a time", "reps"),
}
"""What a command lacks that ends too soon, by the terminals of its words."""

_CHOICES: dict[tuple[str, ...], tuple[str, ...]] = {("UNITS",): (" kg", " lb")}
"""All there is to choose from, where that is little enough to be offered."""

_COVERED = {
    "a band, an edge such as edge 20, or a bar": ("a number", "a band"),
    "a load": ("a number",),
    "a time": ("a number", "a time of day"),
    "seconds or minutes": ("minutes",),
}
_AT_START = (
    "an exercise",
    "a load",
    "a time",
    "an effort such as ok or hard",
    "a word such as next, done, tonight or help",
)


def missing_from(tokens: Sequence[Token], accepted: frozenset[str]) -> Trouble:
    """Why a clause that ends too soon is not understood."""
    end = tokens[-1].end_pos
    said = tuple(token.type for token in tokens)
    instead = _CHOICES.get(said, ())
    last = tokens[-1]
    timed = last.type == "NUMBER" and "MINUTE" in accepted and "TIMES" not in accepted
    if timed and last.number >= _LEAST_MINUTES:
        instead = (" min",)
    return Trouble(end, end, _MISSING.get(said) or expected_from(accepted), instead)


def expected_from(accepted: frozenset[str]) -> tuple[str, ...]:
    """Up to eight things that would have fitted, in plain words."""
    if "UNDO" in accepted:
        return _AT_START
    found = [words for terminals, words in _IN_WORDS if accepted.issuperset(terminals)]
    needless = {covered for words in found for covered in _COVERED.get(words, ())}
    return tuple(words for words in found if words not in needless)[:_MOST] or ("another word",)
