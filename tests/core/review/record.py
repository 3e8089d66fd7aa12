"""A record written line by line, as the tests of a review need it."""

from datetime import UTC, date, datetime
from decimal import Decimal

from core.athlete import Athlete, athlete_from_facts
from core.facts import Effort, Entry, EveningsPlanned, Fact, Logged, SetDone, SettingChanged
from core.review import Diary, diary_of


class Record:
    """Entries in the order they are added, each a reply of its own. The zone is UTC."""

    def __init__(self) -> None:
        self.entries: list[Entry] = []

    def add(self, at: str, *facts: Fact) -> "Record":
        """Facts of one reply, written at "2026-12-01 20:30" UTC."""
        moment = datetime.fromisoformat(at).replace(tzinfo=UTC)
        reply = len(self.entries) + 1
        for fact in facts:
            number = len(self.entries) + 1
            self.entries.append(Entry(number, reply, moment, moment.date(), fact))
        return self

    def log(self, at: str, slug: str = "push-up", effort: Effort | None = "ok") -> "Record":
        """Three sets of ten."""
        return self.add(at, sets_of(slug, SetDone("both", reps=10, effort=effort), count=3))

    def crimp(self, at: str, kg: float, effort: Effort = "ok") -> "Record":
        """Four sets of half crimp, both hands."""
        done = SetDone("both", load_kg=Decimal(str(kg)), hold_s=10, effort=effort)
        return self.add(at, sets_of("half-crimp", done, count=4))

    @property
    def athlete(self) -> Athlete:
        return athlete_from_facts(tuple(self.entries))

    @property
    def diary(self) -> Diary:
        return diary_of(tuple(self.entries), minutes=60)


def sets_of(slug: str, done: SetDone, *, count: int) -> Logged:
    return Logged(slug, None, (done,) * count, (), None, "")


def planned(at: str = "2026-11-30 12:00", minutes: int = 60) -> Record:
    """Evenings on Tuesday and Thursday at 20:30, planned on Monday 30 November."""
    plan = EveningsPlanned(("tue", "thu"), "20:30", minutes)
    return Record().add(at, SettingChanged("zone", "UTC"), plan)


def days(text: str) -> tuple[date, ...]:
    """Days of December 2026: "1 3 8"."""
    return tuple(date(2026, 12, int(day)) for day in text.split())
