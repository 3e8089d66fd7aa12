"""A pain report: where, which side, how much, and warning signs."""

from core.facts import Side
from core.replies import bounds
from core.replies.act import Pain
from core.replies.node import Clause, SideSaid
from core.replies.token import Token
from core.replies.trouble import Trouble

_SIGNS = {
    "pop": ("pop", "popped"),
    "swelling": ("swelling", "swollen"),
    "numb": ("numb", "numbness"),
    "night": ("night", "at night"),
}
_STUCK = "stuck"
_LONGEST_PLACE = 4
"""More words than this in a row are a story, and are asked about. House rule."""
_OUT_OF = ("SLASH", "OUT_OF")


def pain_from(clause: Clause) -> Pain | Trouble:
    """The report, or the first word that makes it more than one place, side or score."""
    if clause.rule == "no_pain":
        return Pain(None, None, 0, ())
    side: Side | None = None
    score: Token | None = None
    places: list[list[Token]] = []
    before = ""
    for item in clause.items:
        if isinstance(item, SideSaid):
            if side is not None:
                return Trouble(item.at, item.end, ("one side",))
            side = item.side
        elif isinstance(item, Token):
            if item.type == "PLACE":
                if before != "PLACE":
                    places.append([])
                places[-1].append(item)
            elif item.type == "NUMBER" and before in _OUT_OF:
                if item.number != bounds.MOST_PAIN:
                    return _score_trouble(item)
            elif item.type == "NUMBER":
                if score is not None:
                    return _score_trouble(item)
                score = item
            if item.type not in ("SMALL_WORD", "A"):
                # "inside of my left elbow" is one place.
                before = item.type
    trouble = _place_trouble(places) or _bound_trouble(score)
    if trouble is not None:
        return trouble
    site = " ".join(token.text for token in places[0]) if places else None
    return Pain(site, side, int(score.number) if score else None, _flags(clause))


def _flags(clause: Clause) -> tuple[str, ...]:
    words = [t.text for kind in ("SIGN", "NIGHT") for t in clause.tokens(kind)]
    flags = [
        next((flag for flag, said in _SIGNS.items() if word in said), _STUCK) for word in words
    ]
    return tuple(dict.fromkeys(flags))


def _place_trouble(places: list[list[Token]]) -> Trouble | None:
    if len(places) > 1:
        token = places[1][0]
    elif places and len(places[0]) > _LONGEST_PLACE:
        token = places[0][_LONGEST_PLACE]
    else:
        return None
    return Trouble(token.start_pos, token.end_pos, ("one place that hurts", "a score from 0 to 10"))


def _score_trouble(token: Token) -> Trouble:
    return Trouble(token.start_pos, token.end_pos, ("one pain score from 0 to 10",))


def _bound_trouble(score: Token | None) -> Trouble | None:
    if score is None:
        return None
    at, end = score.start_pos, score.end_pos
    return bounds.whole(score.number, at, end, least=0, most=bounds.MOST_PAIN, what="a pain score")
