"""What is kept in memory: the newest values, no more than so much."""

from hypothesis import given
from hypothesis import strategies as st

from bot.kept import Kept


@given(st.lists(st.tuples(st.integers(0, 5), st.integers(0, 6)), max_size=40))
def test_the_last_used_values_are_kept_up_to_their_weight(puts: list[tuple[int, int]]) -> None:
    kept: Kept[int, list[int]] = Kept(most=12, weigh=len)
    order: list[int] = []
    values: dict[int, list[int]] = {}
    for key, size in puts:
        kept.put(key, [0] * size)
        order = [k for k in order if k != key] + [key]
        values[key] = [0] * size
        while sum(len(values[k]) for k in order) > 12 and len(order) > 1:
            order.pop(0)
    for key in values:
        assert kept.get(key) == (values[key] if key in order else None)


def test_what_was_asked_for_is_let_go_last() -> None:
    kept: Kept[str, str] = Kept(most=2, weigh=len)
    kept.put("a", "1")
    kept.put("b", "2")
    assert kept.get("a") == "1"
    kept.put("c", "3")
    assert (kept.get("a"), kept.get("b"), kept.get("c")) == ("1", None, "3")


def test_what_is_too_heavy_alone_still_stays_until_the_next() -> None:
    kept: Kept[str, str] = Kept(most=2, weigh=len)
    kept.put("a", "12345")
    assert kept.get("a") == "12345"
    kept.put("b", "1")
    assert (kept.get("a"), kept.get("b")) == (None, "1")
