"""What a visitor is told over their own pages: what others did to rows that they wrote."""

from msgspec.structs import replace

from app.actions.permissions import Role
from app.pages.frame import Frame
from app.pages.told import told_lines
from app.record.notices import notices_for
from app.web.visit import Visit


def telling(frame: Frame, visit: Visit) -> Frame:
    """The frame with those lines; asked for where somebody begins to look, not by every refresh."""
    with visit.reading() as session:
        found = notices_for(
            session,
            visit.unit.id,
            visit.person.id,
            visit.now,
            leads=visit.person.role == Role.LEAD,
        )
    return replace(frame, told=told_lines(found, visit.clock, visit.now))
