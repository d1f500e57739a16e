"""The plan of a shift as its template reads it: bed by bed, person by person, and who covers."""

from msgspec import Struct

from app.pages.frame import Frame, NavLink
from app.pages.handoff_page import Choice


class AssignBed(Struct, frozen=True):
    """One bed: who is in it, who has it, who is to have it."""

    bed: str
    href: str
    who: str
    hold: str
    """Who has the bed now, by acceptance."""
    assigned: str
    """Who is to have it, in words; "nobody assigned" where nobody is."""
    differs: bool
    """Whether that is somebody else than who has it now."""
    was: str
    """The row that a change would supersede; empty where nobody chose yet."""
    choices: tuple[Choice, ...]
    error: str = ""


class PersonLoad(Struct, frozen=True):
    """What is at one person's beds, counted, and the sum by the stated weights."""

    name: str
    counts: str
    sum_words: str


class CoverLine(Struct, frozen=True):
    """Who covers for whom; `end_action` is where this reader can end it, empty where not."""

    words: str
    end_action: str = ""


class CoverForm(Struct, frozen=True):
    """What a new cover asks for, with what was typed."""

    covering: tuple[Choice, ...]
    covered: tuple[Choice, ...]
    from_at: str
    to_at: str
    words: str
    zone: str
    twice: bool
    error: str = ""


class AssignmentsPage(Struct, frozen=True):
    """Who is to have which bed in one shift; the responsibility stands beside it."""

    frame: Frame
    shifts: tuple[NavLink, ...]
    starts: str
    """When the shift that the form is about begins, for the machine."""
    beds: tuple[AssignBed, ...]
    unassigned: str
    """Taken beds that nobody is to have, in words."""
    loads: tuple[PersonLoad, ...]
    hint: str
    weights: str
    moves_nothing: str
    covers: tuple[CoverLine, ...]
    form: CoverForm | None
    edits: bool
    error: str = ""
