"""One hand on a harder exercise than the other: two exercises of one hand each."""

import pytest


@pytest.fixture
def says(talker):
    """The left hand lifted all plates there are; the right did not. Three days later."""
    says = talker("zone Europe/Oslo", "plates 2x5 2x2.5", "pin 1.25kg", "edges 20", "bw 71")
    says("evenings tue fri 20:30 60 min", "crimp L 4x16.25kg easy R 4x11.25kg ok")
    says("week", days=3)
    return says


def test_next_time_is_said_of_each_hand(talker) -> None:
    says = talker("zone Europe/Oslo", "plates 2x5 2x2.5", "pin 1.25kg", "edges 20", "bw 71")
    answer = says("crimp L 4x16.25kg easy R 4x11.25kg ok")
    assert "Next time: Three-finger half crimp, 20 mm, on to something harder:\nleft: 4" in answer
    assert "Next time, a little more work at the same load:\nright: 4" in answer


def test_tonight_names_each_with_its_hand(says) -> None:
    tonight = says("tonight")
    assert "· three-finger half crimp left 4 × 10 s at 6.25 kg" in tonight
    assert "· half crimp right 4 × 11 s at 11.25 kg" in tonight


def test_ok_counts_the_hand_and_the_exercise_that_were_asked(says) -> None:
    assert "Three-finger half crimp, 20 mm\nleft: 4 × 10 s" in says("start")
    assert "Three-finger half crimp, 20 mm: left 1 × 6.25 kg × 10 s ok." in says("ok")
    answer = says("3x6.25kg ok")
    assert "left 3 × 6.25 kg × 10 s ok." in answer
    assert "Half crimp, 20 mm\nright: 4 × 11 s at 11.25 kg" in answer
    says("ok")
    last = says.athlete.logs[-1].log
    assert (last.exercise, [s.side for s in last.sets]) == ("half-crimp", ["right"])


def test_why_tells_the_hands_apart(says) -> None:
    answer = says("why crimp")
    assert "· left: so on to three-finger half crimp" in answer
    assert "· right: 4 of 4 sets at 11.25 kg were ok on Tue 1 Dec" in answer
