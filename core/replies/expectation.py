"""What would have been understood, in plain words, from the terminals that would have fitted."""

_MOST = 8

_IN_WORDS: tuple[tuple[tuple[str, ...], str], ...] = (
    (("EXERCISE",), "an exercise"),
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

_COVERED = {
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


def expected_from(accepted: frozenset[str]) -> tuple[str, ...]:
    """Up to eight things that would have fitted, in plain words."""
    if "UNDO" in accepted:
        return _AT_START
    found = [words for terminals, words in _IN_WORDS if accepted.issuperset(terminals)]
    needless = {covered for words in found for covered in _COVERED.get(words, ())}
    return tuple(words for words in found if words not in needless)[:_MOST] or ("another word",)
