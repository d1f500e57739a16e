"""Two people, one bed, as the template reads it: theirs, mine, and what is to be decided."""

from dataclasses import dataclass

from app.pages.frame import Banner, Frame
from app.pages.shown import When


@dataclass(frozen=True, slots=True)
class SaidLine:
    """One thing that one person says."""

    label: str
    text: str
    author: str = ""
    when: When | None = None


@dataclass(frozen=True, slots=True)
class Side:
    """What one of the two says, and what choosing it means; no `choice` where it is no choice."""

    lines: tuple[SaidLine, ...]
    choice: str
    words: str
    chosen: bool = False


@dataclass(frozen=True, slots=True)
class ToDecide:
    """One difference: nothing is chosen beforehand."""

    name: str
    heading: str
    note: str
    theirs: Side
    mine: Side


@dataclass(frozen=True, slots=True)
class MeetingPage:
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
