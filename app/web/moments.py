"""Moments in addresses and forms: compact UTC in an address, the unit's wall time in a form."""

from datetime import UTC, datetime

from app.rules.unit_clock import UnitClock

COMPACT = "%Y%m%dT%H%M%SZ"


class MomentRefused(ValueError):  # noqa: N818 - it names a state that a form has words for
    """A time that cannot be taken as it was typed; the sentence says why."""


def moment_in_address(text: str) -> datetime | None:
    """The moment that an address names; None for nothing or nonsense, which shows the newest."""
    try:
        return datetime.strptime(text, COMPACT).replace(tzinfo=UTC)
    except ValueError:
        return None


def moment_in_form(text: str, clock: UnitClock, now: datetime) -> datetime:
    """The moment that a wall time in a form means. Raises MomentRefused.

    A time that comes twice on the clock-change night is taken as the later one that has passed.
    """
    try:
        wall = datetime.fromisoformat(text)
    except ValueError:
        raise MomentRefused("Write day and time, such as 2026-11-26 03:28.") from None
    if wall.tzinfo is not None:
        raise MomentRefused("Write the unit's own time, without a zone.")
    moments = clock.moments_of(wall)
    if not moments:
        raise MomentRefused("This time does not exist: the clock was put forward over it.")
    passed = [moment for moment in moments if moment <= now]
    return passed[-1] if passed else moments[0]
