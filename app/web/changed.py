"""What changed for this reader: since the moment that the address chooses, or that fits them."""

from app.pages.changed import SHIFT, changed_part, since_look, since_shift
from app.pages.changed_part import ChangedPart
from app.pages.known import Known
from app.record.last_looks import looked_before
from app.web.visit import Visit


def what_changed(visit: Visit, course: Known, choice: str, *, present: bool) -> ChangedPart:
    """Against this reader's last look or acceptance unless they choose the shift or had none.

    A page of an earlier moment is nobody's look: it is held against its own shift.
    """
    shift = since_shift(course.now, course.clock)
    if not present:
        return changed_part(course, shift, None)
    with visit.reading() as session:
        looked = looked_before(session, visit.person.id, course.facts.course_id, visit.now)
    look = since_look(course.facts, visit.person.id, looked, course.now, course.clock)
    chosen = look if look is not None and choice != SHIFT else shift
    return changed_part(course, chosen, look)
