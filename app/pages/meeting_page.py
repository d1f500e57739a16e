"""Two people, one bed, as the template reads it: theirs, mine, and what is to be decided."""

from msgspec import Struct

from app.pages.frame import Banner, Frame
from app.pages.shown import When


class SaidLine(Struct, frozen=True):
    """One thing that one person says."""

    label: str
    text: str
    author: str = ""
    when: When | None = None


class Side(Struct, frozen=True):
    """What one of the two says, and what choosing it means; no `choice` where it is no choice."""

    lines: tuple[SaidLine, ...]
    choice: str
    words: str
    chosen: bool = False


class ToDecide(Struct, frozen=True):
    """One difference: nothing is chosen beforehand."""

    name: str
    heading: str
    note: str
    theirs: Side
    mine: Side


class MeetingPage(Struct, frozen=True):
    """What was charted since the form was opened, beside what the form says."""

    frame: Frame
    banner: Banner
    heading: str
    words: str
    decisions: tuple[ToDecide, ...]
    rest: str
    """What nobody says otherwise of: it is saved whatever is chosen."""
    carried: tuple[tuple[str, str], ...]
    """Everything that the form sent, to be sent again with the choices."""
    action: str
    back_href: str
