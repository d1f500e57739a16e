"""The unit's time in the demo: its zone, its shifts, who is on duty, and when notes are written."""

from datetime import datetime, time, timedelta

from msgspec import Struct

from app.rules.policy import Rounds
from app.rules.unit_clock import UnitClock
from seed_demo.story import DAYS_OF_HISTORY
from seed_demo.when import rounds_between, wall_moments

CLOCK = UnitClock("America/New_York", (time(7), time(19)))
NIGHT = "birch"
NOTES_WRITTEN = (time(6, 30), time(18, 30))
FIRST_HALF_HOUR = timedelta(minutes=30)
HANDOFF = timedelta(hours=12)


class Span(Struct, frozen=True):
    """The stretch of time that the demo tells: from the day the record was opened until now, which
    is in UTC, so that sums of hours are real time across a clock change."""

    now: datetime
    rounds: Rounds
    clock: UnitClock = CLOCK

    @property
    def opened(self) -> datetime:
        """When the unit began to chart here."""
        start = self.now - timedelta(days=DAYS_OF_HISTORY) - FIRST_HALF_HOUR
        return start.replace(second=0, microsecond=0)

    def round_times(self) -> tuple[datetime, ...]:
        """Every round since then."""
        return rounds_between(self.opened, self.now, self.rounds, self.clock)

    def hour(self, moment: datetime) -> float:
        """Hours from now: negative for what has been."""
        return (moment - self.now).total_seconds() / 3600

    def is_day(self, moment: datetime) -> bool:
        """Whether the moment lies in the day shift."""
        start = self.clock.local(self.clock.shift_start(moment)).time()
        return start == min(self.clock.shift_starts)

    def on_duty(self, moment: datetime, by_day: str) -> str:
        """Who has the bed at that moment."""
        return by_day if self.is_day(moment) else NIGHT

    def newest_notes(self, after: timedelta) -> datetime:
        """When the newest notes were written at a bed whose turn comes `after` the first."""
        written = wall_moments(NOTES_WRITTEN, self.now, 2, self.clock)
        return max(at + after for at in written if at + after <= self.now)
