"""The times in which the unit worked on paper, as leads said them."""

from datetime import datetime

from msgspec import Struct
from sqlalchemy import bindparam
from sqlmodel import Session

from app.record.tables import OutageRow, table_of
from app.record.versions import authored, newest

OUTAGE = table_of(OutageRow)
_OF_UNIT = authored(OutageRow, OUTAGE.c.unit_id == bindparam("unit"))


class Outage(Struct, frozen=True):
    """One span of hours on paper."""

    id: str
    from_at: datetime
    to_at: datetime
    words: str
    author: str

    def touches(self, from_at: datetime, to_at: datetime) -> bool:
        """Whether any of it lies in that span, ends included."""
        return self.from_at <= to_at and self.to_at >= from_at


def list_outages(session: Session, unit_id: str, until: str | None = None) -> tuple[Outage, ...]:
    """Every span, the newest first; with `until`, those written when that was the last key."""
    rows = session.execute(_OF_UNIT, {"unit": unit_id}).all()
    found = [
        Outage(row.id, row.from_at, row.to_at, row.words, row.author)
        for row in newest(row for row in rows if until is None or row.id <= until)
    ]
    return tuple(sorted(found, key=lambda outage: outage.from_at, reverse=True))
