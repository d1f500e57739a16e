"""Build the list of drafts that wait for a signature, oldest first."""

from collections.abc import Sequence
from datetime import datetime

from msgspec import Struct

from app.pages.frame import Frame
from app.pages.times import when_in
from app.pages.unsigned_page import UnsignedLine, UnsignedPage, UnsignedPart
from app.record.unsigned import Unsigned
from app.rules.unit_clock import UnitClock

KINDS = {"full": "Full check", "brief": "Brief check", "gas": "Blood gas", "event": "Event"}

TO_SIGN = "A student's draft is no fact and stands in no handoff until somebody has signed it."
CHARTING = (
    "You chart as a student: what you save is a draft. It is no fact, and in no handoff as one, "
    "until a therapist has signed it."
)
OWN = "What you charted is a draft: no fact, and in no handoff, until somebody has signed it."


class ListedDraft(Struct, frozen=True):
    """A draft with who and where: the bed is empty for a course in none."""

    draft: Unsigned
    bed: str
    name: str


def unsigned_page(
    frame: Frame,
    drafts: Sequence[ListedDraft],
    *,
    may_sign: bool,
    clock: UnitClock,
    now: datetime,
) -> UnsignedPage:
    """What was left from an earlier shift, then this one's; whoever may not sign sees their own."""
    began = clock.shift_start(now)
    left = [listed for listed in drafts if listed.draft.observed_at < began]
    new = [listed for listed in drafts if listed.draft.observed_at >= began]
    deed = "Look and sign" if may_sign else "Look"
    parts = (("Left from an earlier shift", left), ("This shift", new))
    return UnsignedPage(
        frame=frame,
        words=TO_SIGN if may_sign else OWN,
        parts=tuple(
            UnsignedPart(heading, tuple(_line(each, deed, clock, now) for each in some))
            for heading, some in parts
            if some
        ),
        empty_words="No draft waits for a signature."
        if may_sign
        else "You have no unsigned draft.",
    )


def _line(listed: ListedDraft, deed: str, clock: UnitClock, now: datetime) -> UnsignedLine:
    draft = listed.draft
    return UnsignedLine(
        bed=listed.bed or "no bed",
        name=listed.name,
        kind=KINDS[draft.kind],
        author=draft.author,
        observed=when_in(draft.observed_at, now, clock),
        href=draft_href(draft.course_id, draft.assessment_id),
        deed=deed,
    )


def draft_href(course_id: str, assessment_id: str) -> str:
    """The address of one draft."""
    return f"/courses/{course_id}/drafts/{assessment_id}"


def drafts_words(number: int) -> str:
    """ "2 unsigned drafts"; empty for none."""
    return f"{number} unsigned draft{'s' if number > 1 else ''}" if number else ""
