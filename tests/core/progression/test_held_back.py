"""A session that time off had lowered does not count for the step that was not yet asked."""


def test_a_rest_that_another_exercise_of_the_tissue_ended_lowers_the_next_session_too(
    diary,
) -> None:
    log = diary()
    for day, aim in ((0, 15), (3, 20), (6, 25), (9, 30)):
        log.timed(day, (aim,) * 3, exercise="cross-plank")
    ready = log.next(12, "cross-plank")
    assert (ready.change, ready.hold_s) == ("harder-variation", 15)
    # A month off, ended by the plank; the cross plank, a day later, is done as before it.
    log.timed(40, (15,) * 3, exercise="long-lever-plank")
    lowered = log.next(41, "cross-plank")
    assert (lowered.change, lowered.variation) != (ready.change, ready.variation)
    # 31 days: a tenth less than 30 s.
    assert lowered.hold_s == 27
    log.timed(41, (27,) * 3, exercise="cross-plank")
    after = log.next(44, "cross-plank")
    assert (after.variation, after.hold_s) in {
        (lowered.variation, 30),
        (ready.variation, 15),
    }


def test_a_rest_before_the_lines_first_session_lowers_the_first_one_only(diary) -> None:
    log = diary().timed(0, (15,) * 3, exercise="long-lever-plank")
    log.timed(40, (15,) * 3, exercise="long-lever-plank")
    for day, aim in ((43, 15), (46, 20)):
        log.timed(day, (aim,) * 3, exercise="cross-plank")
    assert log.next(49, "cross-plank").hold_s == 25
