"""Handoffs on paper: one sheet or more for each patient, each saying whose it is and how old."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from app.pages.bed import Known
from app.pages.frame import CAUTIONS, Frame
from app.pages.handoff import handoff_page
from app.pages.handoff_page import HandoffPage
from app.pages.shown import When
from app.pages.times import clock_time, full_time
from app.rules.handoff_state import concern_of
from app.rules.unit_clock import UnitClock

DESTROY_AFTER = timedelta(hours=24)
"""How long a printed sheet is kept (engineering judgement: a shift and the one after it)."""

PAPERS = {"a4": "A4", "letter": "Letter"}
ORDER = ("high", "raised", "", "low")
"""Beds in the order of concern; one that nobody stated comes before a low one."""


@dataclass(frozen=True, slots=True)
class Leaf:
    """One patient's handoff as it is printed."""

    page: HandoffPage
    anchor: str
    concern: str


@dataclass(frozen=True, slots=True)
class SheetsPage:
    """A set of sheets, made at one moment."""

    title: str
    heading: str
    unit_name: str
    made: When
    as_of: str
    """The moment in large letters: "as of 02:00"."""
    destroy: str
    by: str
    """Who printed it; empty for a set that the program wrote by itself."""
    leaves: tuple[Leaf, ...]
    empty_beds: str
    styles: tuple[str, ...]
    cautions: str = CAUTIONS
    back_href: str = ""
    overview: bool = False
    blanks: tuple[tuple[str, str], ...] = ()
    """Blank forms that lie beside a set without a server: address and label."""


@dataclass(frozen=True, slots=True)
class Made:
    """When a set is made, for which unit, in whose name, and with which style sheets."""

    at: datetime
    clock: UnitClock
    unit_name: str
    styles: tuple[str, ...]
    by: str = ""
    back_href: str = ""

    @property
    def moment(self) -> When:
        """Day, time and zone."""
        return full_time(self.at, self.clock)

    @property
    def as_of(self) -> str:
        """The time alone, with its zone where the clock changes."""
        return f"as of {clock_time(self.at, self.at, self.clock)}"

    @property
    def destroy(self) -> str:
        """Until when the paper may be kept."""
        return f"Destroy after {full_time(self.at + DESTROY_AFTER, self.clock).text}"


def sheets_page(
    made: Made, heading: str, courses: Sequence[Known], empty_beds: Sequence[str] = ()
) -> SheetsPage:
    """The handoffs of these courses, the most worrying first; inside a level in the order given."""
    leaves = sorted((_leaf(course, made) for course in courses), key=_place)
    return SheetsPage(
        title=f"{heading} · Leeboard",
        heading=heading,
        unit_name=made.unit_name,
        made=made.moment,
        as_of=made.as_of,
        destroy=made.destroy,
        by=made.by,
        leaves=tuple(leaves),
        empty_beds=f"Empty: {', '.join(empty_beds)}." if empty_beds else "",
        styles=made.styles,
        back_href=made.back_href,
        overview=len(leaves) > 1,
    )


def _place(leaf: Leaf) -> int:
    return ORDER.index(leaf.concern)


def _leaf(course: Known, made: Made) -> Leaf:
    frame = Frame("", made.unit_name, "", "", made.moment)
    page = handoff_page(frame, course, editable=False)
    level, _ = concern_of(course.facts)
    anchor = f"bed-{course.facts.course_id}"
    sections = tuple(
        replace(section, anchor=f"{anchor}-{section.key}") for section in page.sections
    )
    return Leaf(replace(page, ages=False, sections=sections), anchor, level)
