"""When the next check is due: at the unit's round times, late and overdue after a grace."""

from datetime import datetime, timedelta

from msgspec import Struct

from app.rules.policy import Rounds
from app.rules.unit_clock import UnitClock

ROUND_CREDIT = timedelta(minutes=45)
"""A check this long before a round counts as that round's (engineering judgement)."""


class CheckDue(Struct, frozen=True):
    """One check and the moments at which it becomes late and overdue, all in UTC."""

    due_at: datetime
    late_at: datetime
    overdue_at: datetime

    def state(self, now: datetime) -> str:
        """ "due", "late" or "overdue"; each begins at its own moment."""
        if now >= self.overdue_at:
            return "overdue"
        return "late" if now >= self.late_at else "due"

    def moved_to(self, due_at: datetime) -> "CheckDue":
        """The same check due at another time, with the same grace."""
        by = due_at - self.due_at
        return CheckDue(due_at, self.late_at + by, self.overdue_at + by)


def next_check(last_full_check: datetime, rounds: Rounds, clock: UnitClock) -> CheckDue:
    """The first round after the last full check, by the unit's clock (decision 30).

    A check done within ROUND_CREDIT before a round stands for that round. On a skipped hour the
    round is due at the moment the clock jumped; on a doubled hour at the first of the two.
    """
    day = clock.day(last_full_check)
    credited = last_full_check + ROUND_CREDIT
    candidates = (
        moment
        for offset in range(3)
        for at in rounds.times
        for moment in clock.first_moment(datetime.combine(day + timedelta(days=offset), at))
        if moment > credited
    )
    due_at = min(candidates)
    return CheckDue(
        due_at=due_at,
        late_at=due_at + timedelta(minutes=rounds.late_after_min),
        overdue_at=due_at + timedelta(minutes=rounds.overdue_after_min),
    )
