"""Handoffs on paper: one sheet or more for each patient, each saying whose it is and how old."""

from collections.abc import Sequence
from datetime import datetime, timedelta

from msgspec import Struct
from msgspec.structs import replace

from app.pages.assigned_words import cover_words
from app.pages.frame import CAUTIONS, Frame
from app.pages.handoff import handoff_page
from app.pages.handoff_page import HandoffPage
from app.pages.known import Known
from app.pages.shown import When
from app.pages.times import clock_time, full_time
from app.rules.handoff_state import concern_of
from app.rules.shift_plan import Plan
from app.rules.unit_clock import UnitClock

DESTROY_AFTER = timedelta(hours=24)
"""How long a printed sheet is kept (engineering judgement: a shift and the one after it)."""

PAPERS = {"a4": "A4", "letter": "Letter"}
ORDER = ("high", "raised", "", "low")
"""Beds in the order of concern; one that nobody stated comes before a low one."""


class Leaf(Struct, frozen=True):
    """One patient's handoff as it is printed."""

    page: HandoffPage
    anchor: str
    concern: str
    assigned: str = ""
    """To whom the bed is assigned in the shift that runs; empty where nobody plans here."""


class SheetsPage(Struct, frozen=True):
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
    planned: str = ""
    """For which shift the beds are assigned; empty where nobody plans here."""
    covers: tuple[str, ...] = ()
    """Who covers for whom."""
    blanks: tuple[tuple[str, str], ...] = ()
    """Blank forms that lie beside a set without a server: address and label."""


class Made(Struct, frozen=True):
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
    made: Made,
    heading: str,
    courses: Sequence[Known],
    empty_beds: Sequence[str] = (),
    plan: Plan | None = None,
) -> SheetsPage:
    """The handoffs of these courses, the most worrying first; inside a level in the order given.

    `plan` is that of the shift that runs: it stands beside who has a bed and moves nothing.
    """
    used = plan if plan is not None and plan.used else None
    leaves = sorted((_leaf(course, made, used) for course in courses), key=_place)
    return SheetsPage(
        title=f"{heading} · Leeboard",
        heading=heading,
        unit_name=made.unit_name,
        made=made.moment,
        as_of=made.as_of,
        destroy=made.destroy,
        by=made.by,
        leaves=tuple(leaves),
        empty_beds=_empty(empty_beds, used),
        styles=made.styles,
        back_href=made.back_href,
        overview=len(leaves) > 1,
        planned=_shift(used, made) if used is not None else "",
        covers=_covers(plan, made) if plan is not None else (),
    )


def _shift(plan: Plan, made: Made) -> str:
    start, end = (clock_time(at, made.at, made.clock) for at in (plan.starts_at, plan.ends_at))
    return f"Assigned {start} to {end}"


def _covers(plan: Plan, made: Made) -> tuple[str, ...]:
    return tuple(cover_words(cover, made.at, made.clock) for cover in plan.covers_now(made.at))


def _empty(beds: Sequence[str], plan: Plan | None) -> str:
    """Which beds are empty, and whose the next patient in one of them would be."""
    told = []
    for bed in beds:
        name = plan.assigned_name(bed) if plan is not None else ""
        told.append(f"{bed} (assigned to {name})" if name else bed)
    return f"Empty: {', '.join(told)}." if told else ""


def _place(leaf: Leaf) -> int:
    return ORDER.index(leaf.concern)


def _leaf(course: Known, made: Made, plan: Plan | None) -> Leaf:
    frame = Frame("", made.unit_name, "", "", made.moment)
    page = handoff_page(frame, course, editable=False)
    level, _ = concern_of(course.facts)
    anchor = f"bed-{course.facts.course_id}"
    sections = tuple(
        replace(section, anchor=f"{anchor}-{section.key}") for section in page.sections
    )
    assigned = (plan.assigned_name(page.banner.bed) or "nobody") if plan is not None else ""
    return Leaf(replace(page, ages=False, sections=sections), anchor, level, assigned)
