"""Times on paper as pages tell them."""

from datetime import datetime, timedelta

from msgspec.structs import replace

from app.pages.frame import Frame
from app.pages.outage import outage_words
from app.record.ids import last_by
from app.record.outages import list_outages
from app.web.visit import Visit

SHOWN = 6

DAY = timedelta(hours=24)
"""What a bed page and a handoff look back on."""


def with_outages(frame: Frame, visit: Visit, as_of: datetime | None = None) -> Frame:
    """The frame that says which times on paper the last day touches.

    Of an earlier moment: the day before it, and what had been said of it by then.
    """
    to_at, until = as_of or visit.now, last_by(as_of) if as_of is not None else None
    with visit.reading() as session:
        found = list_outages(session, visit.unit.id, until)
    touched = [outage for outage in found if outage.touches(to_at - DAY, to_at)]
    if not touched:
        return frame
    words = tuple(outage_words(outage, to_at, visit.clock) for outage in touched)
    return replace(frame, outages=words)


def told_outages(visit: Visit) -> tuple[str, ...]:
    """The newest few, as sentences."""
    with visit.reading() as session:
        found = list_outages(session, visit.unit.id)[:SHOWN]
    return tuple(outage_words(outage, visit.now, visit.clock) for outage in found)
