"""One event as its template reads it: what is charted of it, what was, and how it is put right."""

from msgspec import Struct

from app.pages.assess_page import ObservedInput
from app.pages.frame import Banner, Frame
from app.pages.row_page import OldValue
from app.pages.shown import When


class PutRightForm(Struct, frozen=True):
    """The forms of one part: other time and words, or none of it, each with a reason."""

    part: str
    """ "event" or "end"; names the fields of the form, too."""
    version: str
    observed: ObservedInput
    words: str
    may_correct: bool
    """False for what is moved by striking it and recording it anew."""
    strike_words: str
    strike_note: str
    correct_error: str = ""
    strike_error: str = ""
    why: str = ""
    strike_why: str = ""

    @property
    def correct_open(self) -> bool:
        """Whether the correction stands open, because something on it is to be looked at."""
        return self.correct_error != ""


class EventPart(Struct, frozen=True):
    """The event itself, or its end: as it stands, and what stood there before."""

    heading: str
    words: str
    when: When
    author: str
    old: tuple[OldValue, ...] = ()
    """The newest of them first."""
    form: PutRightForm | None = None


class SaidLine(Struct, frozen=True):
    """What somebody said of it at one time."""

    words: str
    author: str
    when: When


class OneEventPage(Struct, frozen=True):
    """One event of one patient."""

    frame: Frame
    banner: Banner
    heading: str
    struck: str
    """By whom, when and why; empty while it stands."""
    trouble: str
    parts: tuple[EventPart, ...]
    said: tuple[SaidLine, ...]
    correct_action: str
    strike_action: str
    back_href: str
    timeline_href: str
    note: str = ""
    note_href: str = ""
    """Where what the note asks for is charted."""
