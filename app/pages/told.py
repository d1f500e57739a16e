"""What others did to a person's own rows, as one line each over that person's pages."""

from collections.abc import Iterable
from datetime import datetime
from decimal import Decimal

from app.charting.events import EVENT_KINDS
from app.charting.fields import FIELDS
from app.charting.shown import shown
from app.pages.frame import NavLink
from app.pages.times import clock_time
from app.record.notices import Done, Notice
from app.rules.unit_clock import UnitClock


def told_lines(notices: Iterable[Notice], clock: UnitClock, now: datetime) -> tuple[NavLink, ...]:
    """Each line with the way to what it is about. A bed is named and a time, never a patient."""
    return tuple(NavLink(_words(notice, clock, now), _way(notice)) for notice in notices)


def _way(notice: Notice) -> str:
    base = f"/courses/{notice.course_id}"
    if notice.event_kind:
        return f"{base}/timeline"
    return f"{base}/height" if notice.done is Done.HEIGHT else f"{base}/rows/{notice.row_id}"


def _words(notice: Notice, clock: UnitClock, now: datetime) -> str:
    at = clock_time(notice.at, now, clock)
    where = f" in {notice.bed}" if notice.bed else ""
    if notice.done is Done.HEIGHT:
        step = f"{_cm(notice.height_before)} to {_cm(notice.height_now)}"
        return f"Height{where} was corrected by {notice.by}, {at}: {step}, {notice.why}"
    observed = clock_time(notice.observed_at, now, clock) if notice.observed_at else ""
    if notice.event_kind:
        done = "struck" if notice.done is Done.EVENT_STRUCK else "corrected"
        what = f"“{EVENT_KINDS[notice.event_kind].label}” of {observed}{where}"
        return f"Your {what} was {done} by {notice.by}, {at}: {notice.why}"
    row = f"row of {observed}{where}"
    if notice.done is Done.STRUCK:
        return f"Your {row} was struck by {notice.by}, {at}: {notice.why}"
    field = FIELDS[notice.field].name
    return f"{field} in your {row} was corrected by {notice.by}, {at}: {notice.why}"


def _cm(height: Decimal | None) -> str:
    return f"{shown(FIELDS['height_cm'], height)} cm" if height is not None else "no height"
