"""Moments in addresses and forms: compact UTC in an address, the unit's wall time in a form."""

from datetime import UTC, date, datetime, timedelta

from app.charting.typed_words import EARLIEST_YEAR
from app.rules.unit_clock import UnitClock

COMPACT = "%Y%m%dT%H%M%SZ"

LONGEST_AHEAD = timedelta(days=366)
"""How far ahead a form takes a moment (engineering judgement). Pages write no year: a task due in
2062 would stand there as one of this month, and at the calendar's end no page can reckon on."""


class MomentRefused(ValueError):  # noqa: N818 - it names a state that a form has words for
    """A time that cannot be taken as it was typed; the sentence says why."""


def moment_in_address(text: str) -> datetime | None:
    """The moment that an address names; None for nothing or nonsense, which shows the newest."""
    try:
        return datetime.strptime(text, COMPACT).replace(tzinfo=UTC)
    except ValueError:
        return None


WHICH = ("first", "second")
"""What a form sends to say which of two moments a wall time means, the earlier one first."""


def moment_in_form(text: str, clock: UnitClock, now: datetime, which: str = "") -> datetime:
    """The moment that a wall time in a form means; `which` of two, where it may mean two.

    Raises MomentRefused for a time that nobody can have meant, before 1900 or more than a year
    ahead, and for one that comes twice or never on a night when the clock changes, until somebody
    says which moment it was. Of two, one that is still to come is not meant.
    """
    try:
        wall = datetime.fromisoformat(text)
    except ValueError:
        raise MomentRefused(_how_to_write(text)) from None
    if wall.tzinfo is not None:
        raise MomentRefused("Write the unit's own time, without a zone.")
    moments = _may_mean(wall, clock)
    if moments[0] > now + LONGEST_AHEAD:
        raise MomentRefused("This is more than a year ahead. Look at the year.")
    if which in WHICH[: len(moments)] and len(moments) > 1:
        return moments[WHICH.index(which)]
    if not clock.moments_of(wall):
        raise MomentRefused("This time did not exist: the clock was put forward. Which was it?")
    passed = [moment for moment in moments if moment <= now]
    if len(passed) > 1:
        raise MomentRefused("The clock showed this time twice. Which was it?")
    return passed[0] if passed else moments[0]


def _how_to_write(text: str) -> str:
    """What is wrong with a text that is no moment: its time, or all of it."""
    day, _, clock = text.partition("T")
    try:
        date.fromisoformat(day)
    except ValueError:
        return "Write day and time, such as 2026-11-26 03:28."
    return f"{clock or 'No time'}: write the time in 24 hours, such as 04:15 or 0415."


def _may_mean(wall: datetime, clock: UnitClock) -> tuple[datetime, ...]:
    try:
        moments = clock.may_mean(wall) if wall.year >= EARLIEST_YEAR else ()
    except (OverflowError, ValueError):
        moments = ()
    if not moments:
        raise MomentRefused("This is no time in anybody's care.")
    return moments
