"""A course of four days with moves, a second tube, prone and an end; and one that just began."""

from datetime import timedelta

from msgspec.structs import replace

from app.charting.event_facts import Event
from app.charting.facts import BedStay, CourseEnd, CourseFacts
from app.charting.handing_over import HandoffStep, StepKind
from app.pages.known import known
from app.pages.timeline import timeline_page
from app.pages.timeline_page import TimelinePage
from app.rules.unit_clock import UnitClock
from tests.browser.sample_frame import frame
from tests.charting.rows import airway, course, later
from tests.rules.watch.scenes import POLICY, check

MODES = ((0, "ac_vc"), (20, "ac_pc"), (60, "csv_ps"), (75, "hfnc"))
HAPPENED = (
    ("prone", 22, 39, "Turned prone"),
    ("away", 48, 50, "Transport, away from the unit: CT of the chest"),
    ("suction", 8, None, "Suction: thick plug"),
    ("bronchoscopy", 52, None, "Bronchoscopy: left lower lobe"),
    ("breathing_trial", 66, 67, "Breathing trial begun"),
)


def timeline() -> TimelinePage:
    """The longer one, closed."""
    facts = course(*(check(hours, mode_family=family) for hours, family in MODES))
    ended = later(hours=90)
    tube = airway(at=later())
    facts = replace(
        facts,
        airways=(tube, replace(tube, act="exchanged", observed_at=later(hours=30), why="leak")),
        bed_stays=(
            BedStay(later(), "L3", "Ash"),
            BedStay(later(hours=26), "L11", "Cedar", "for isolation"),
        ),
        events=tuple(
            Event(
                f"e{start}", kind, later(hours=start), later(hours=end) if end else None, w, "Ash"
            )
            for kind, start, end, w in HAPPENED
        ),
        handoffs=(_accepted(13, "Birch", "Ash"), _accepted(37, "Ash", "Birch")),
        ended_at=ended,
        end_kind="left",
        ends=(CourseEnd(ended, "left", "ward 4", "Ash", ended),),
    )
    return _page(replace(facts, support_started_at=later()), 92)


def new_timeline() -> TimelinePage:
    """Nothing but its beginning."""
    return _page(replace(course(), support_started_at=later()), 0.5)


def _accepted(hours: float, by: str, giver: str) -> HandoffStep:
    at = later(hours=hours) + timedelta(minutes=55)
    return HandoffStep(f"h{hours}", StepKind.ACCEPTED, at, by, by, giver, giver, by, by)


def _page(facts: CourseFacts, hours: float) -> TimelinePage:
    clock, now = UnitClock("America/New_York"), later(hours=hours)
    return timeline_page(frame("Timeline"), known(facts, POLICY, clock, now))
