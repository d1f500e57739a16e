"""The unit's own clock: its zone, its shifts, and the nights on which the clock changes."""

from datetime import UTC, date, datetime, time, timedelta
from functools import lru_cache
from zoneinfo import ZoneInfo

from msgspec import Struct


class UnitClock(Struct, frozen=True):
    """A zone and the clock times at which shifts begin ("07:00", "19:00")."""

    zone: str
    shift_starts: tuple[time, ...] = (time(7), time(19))

    @property
    def info(self) -> ZoneInfo:
        """The zone's rules; raises ZoneInfoNotFoundError for a name that does not exist."""
        return ZoneInfo(self.zone)

    def local(self, moment: datetime) -> datetime:
        """The moment on the unit's wall clock."""
        return moment.astimezone(self.info)

    def day(self, moment: datetime) -> date:
        """The calendar day of the moment in the unit."""
        return self.local(moment).date()

    def moments_of(self, wall: datetime) -> tuple[datetime, ...]:
        """Every moment, in UTC, at which the wall clock shows this naive time, earliest first.

        None on the spring night for a time that is skipped; two on the autumn night for a time that
        comes twice; otherwise one.
        """
        return _moments_of(self.info, wall)

    def may_mean(self, wall: datetime) -> tuple[datetime, ...]:
        """Every moment, in UTC, that somebody who writes this wall time may mean.

        A skipped time is nobody's; then these are the moments an hour before and after it, which
        the old and the new offset make of it: somebody's watch had not been put forward, or had.
        """
        folds = (wall.replace(tzinfo=self.info, fold=fold).astimezone(UTC) for fold in (0, 1))
        return self.moments_of(wall) or tuple(sorted(set(folds)))

    def change_near(self, moment: datetime) -> bool:
        """Whether the clock changes within a day of the moment, so that the zone must be named."""
        return _change_near(self.info, moment.astimezone(UTC))

    def shift_start(self, moment: datetime) -> datetime:
        """The start of the shift in which the moment lies, in UTC."""
        today = self.day(moment)
        starts = (
            at
            for day in (today - timedelta(days=1), today)
            for start in self.shift_starts
            for at in self.first_moment(datetime.combine(day, start))
        )
        return max(at for at in starts if at <= moment)

    def shift_end(self, moment: datetime) -> datetime:
        """The end of the shift in which the moment lies: the start of the next, in UTC."""
        today = self.day(moment)
        starts = (
            at
            for day in (today, today + timedelta(days=1))
            for start in self.shift_starts
            for at in self.first_moment(datetime.combine(day, start))
        )
        return min(at for at in starts if at > moment)

    def first_moment(self, wall: datetime) -> tuple[datetime, ...]:
        """The first moment with this wall time; for a skipped one, as if nothing had jumped."""
        found = self.moments_of(wall)
        return found[:1] or (wall.replace(tzinfo=self.info, fold=0).astimezone(UTC),)


@lru_cache(maxsize=4096)
def _change_near(zone: ZoneInfo, moment: datetime) -> bool:
    """Kept by the moment in UTC, since a page writes the times of a few checks over and over."""
    day = timedelta(hours=24)
    before, after = ((moment + step).astimezone(zone).utcoffset() for step in (-day, day))
    return before != after


@lru_cache(maxsize=1024)
def _moments_of(zone: ZoneInfo, wall: datetime) -> tuple[datetime, ...]:
    """Kept, since every bed of a unit asks for the same rounds and shifts."""
    both = (wall.replace(tzinfo=zone, fold=fold) for fold in (0, 1))
    found = {each.astimezone(UTC) for each in both if _shows(each, zone, wall)}
    return tuple(sorted(found))


def _shows(aware: datetime, zone: ZoneInfo, wall: datetime) -> bool:
    """Whether the wall time survives a trip through UTC: a skipped one does not."""
    return aware.astimezone(UTC).astimezone(zone).replace(tzinfo=None) == wall
