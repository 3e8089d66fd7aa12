"""When reminders, follow-ups and rests come due."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo, available_timezones

import pytest
from dateutil import rrule
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.conversation.moments import moments, occurrences
from bot.conversation.talk import Talk
from bot.ports import Due
from core.athlete import Athlete, athlete_from_facts
from core.facts import (
    WEEKDAYS,
    CameBack,
    Entry,
    EveningDropped,
    EveningMoved,
    EveningsPlanned,
    Fact,
    Paused,
    SettingChanged,
    WallVisited,
)

OSLO = "Europe/Oslo"
FROM = datetime(2025, 1, 1)  # noqa: DTZ001 - hypothesis puts the zone on
TO = datetime(2030, 12, 31)  # noqa: DTZ001
MONDAY = datetime(2026, 11, 30, 12, 0, tzinfo=UTC)
TUE_THU: tuple[Fact, ...] = (
    SettingChanged("zone", OSLO),
    EveningsPlanned(("tue", "thu"), "20:30", 60),
)


def athlete(*facts: Fact) -> Athlete:
    return athlete_from_facts(
        tuple(Entry(n, n, MONDAY, MONDAY.date(), f) for n, f in enumerate(facts, start=1))
    )


def planned(
    kind: str, person: Athlete, *, now: datetime = MONDAY, talk: Talk | None = None
) -> list[Due]:
    return [due for due in moments(person, talk or Talk(), now=now) if due.kind == kind]


def reminders(person: Athlete, now: datetime = MONDAY, talk: Talk | None = None) -> list[str]:
    dues = planned("reminder", person, now=now, talk=talk)
    return [f"{d.at.astimezone(ZoneInfo(OSLO)):%a %d %H:%M}" for d in dues]


def test_reminders_come_half_an_hour_before_the_next_two_evenings() -> None:
    assert reminders(athlete(*TUE_THU)) == ["Tue 01 20:00", "Thu 03 20:00"]


def test_nothing_is_planned_without_a_zone_or_without_evenings() -> None:
    assert reminders(athlete(TUE_THU[0])) == []
    assert reminders(athlete(TUE_THU[1])) == []


def test_remind_min_moves_the_reminder() -> None:
    person = athlete(*TUE_THU, SettingChanged("remind_min", "90"))
    assert reminders(person)[0] == "Tue 01 19:00"


def test_a_reminder_in_quiet_hours_comes_just_before_them() -> None:
    person = athlete(*TUE_THU, SettingChanged("quiet", "19:30-07:00"))
    assert reminders(person)[0] == "Tue 01 19:29"


def test_an_evening_called_off_spent_at_the_wall_or_paused_is_not_reminded_of() -> None:
    tuesday = date(2026, 12, 1)
    assert reminders(athlete(*TUE_THU, EveningDropped(tuesday)))[0] == "Thu 03 20:00"
    assert reminders(athlete(*TUE_THU, WallVisited(tuesday, None, None)))[0] == "Thu 03 20:00"
    away = Paused(date(2026, 12, 5), "away")
    assert reminders(athlete(*TUE_THU, away))[0] == "Tue 08 20:00"
    assert reminders(athlete(*TUE_THU, Paused(None, "sick"))) == []
    assert reminders(athlete(*TUE_THU, away, CameBack()))[0] == "Tue 01 20:00"


def test_a_moved_evening_is_reminded_of_at_its_new_time_only() -> None:
    moved = EveningMoved(date(2026, 12, 1), "2026-12-02T21:00")
    assert reminders(athlete(*TUE_THU, moved)) == ["Wed 02 20:30", "Thu 03 20:00"]


def test_a_reminder_is_void_once_the_evening_has_ended() -> None:
    due = planned("reminder", athlete(*TUE_THU))[0]
    assert due.until == datetime(2026, 12, 1, 20, 30, tzinfo=UTC)  # 21:30 in Oslo


def test_the_follow_up_waits_for_the_end_of_quiet_hours() -> None:
    # By hand: 20:30 + 60 min + 30 min is 22:00, the first quiet minute; quiet ends at 07:00.
    due = planned("follow-up", athlete(*TUE_THU))[0]
    assert due.at == datetime(2026, 12, 2, 6, 0, tzinfo=UTC)


def test_rest_and_later_become_moments() -> None:
    at = MONDAY + timedelta(seconds=90)
    talk = Talk(rest_until=at, remind_at=at)
    assert [d.at for d in planned("timer", athlete(), talk=talk)] == [at]
    assert [d.at for d in planned("reminder", athlete(), talk=talk)] == [at]


@settings(max_examples=300, deadline=None)
@given(
    zone=st.sampled_from(sorted(z for z in available_timezones() if "/" in z)),
    now=st.datetimes(FROM, TO, timezones=st.just(UTC)),
    days=st.sets(st.sampled_from(WEEKDAYS), min_size=1),
    minute=st.integers(0, 24 * 60 - 1),
)
def test_occurrences_agree_with_dateutil_in_every_zone(
    zone: str, now: datetime, days: set[str], minute: int
) -> None:
    # Independent: dateutil's weekly rule on wall-clock time, then the zone by zoneinfo fold=0.
    at = f"{minute // 60:02d}:{minute % 60:02d}"
    named = tuple(d for d in WEEKDAYS if d in days)
    person = athlete(SettingChanged("zone", zone), EveningsPlanned(named, at, 60))
    found = [o.begins for o in occurrences(person, now=now)]
    here = now.astimezone(ZoneInfo(zone)).replace(tzinfo=None)
    rule = rrule.rrule(
        rrule.DAILY,
        dtstart=(here - timedelta(days=3)).replace(hour=minute // 60, minute=minute % 60, second=0),
        until=here + timedelta(days=10),
        byweekday=[WEEKDAYS.index(d) for d in named],
    )
    wanted = [
        moment.replace(microsecond=0, tzinfo=ZoneInfo(zone)).astimezone(UTC) for moment in rule
    ]
    wanted = [m for m in wanted if m + timedelta(minutes=60) > now]
    assert found[: min(len(found), len(wanted))] == wanted[: min(len(found), len(wanted))]
    assert found


@pytest.mark.parametrize(
    ("zone", "day", "utc"),
    [
        # Evenings that the clock change takes away or repeats (tz database, recomputed): the
        # missing 22:30 on Easter Island is read with the offset before the gap.
        ("Pacific/Easter", date(2026, 9, 5), datetime(2026, 9, 6, 4, 30, tzinfo=UTC)),
        ("America/Nuuk", date(2026, 3, 28), datetime(2026, 3, 29, 0, 30, tzinfo=UTC)),
    ],
)
def test_an_evening_beside_a_clock_change_happens_once(zone: str, day: date, utc: datetime) -> None:
    person = athlete(SettingChanged("zone", zone), EveningsPlanned(WEEKDAYS, "22:30", 60))
    now = datetime(day.year, day.month, day.day, 12, 0, tzinfo=UTC)
    found = [o for o in occurrences(person, now=now) if o.day == day]
    assert [o.begins for o in found] == [utc]
