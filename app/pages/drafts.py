"""What a form says of text that was typed into it earlier and is kept, but not saved."""

from datetime import datetime, timedelta

from msgspec import Struct

from app.pages.shown import When
from app.pages.times import when_in
from app.rules.unit_clock import UnitClock

LOOK_AGAIN_AFTER = timedelta(minutes=15)
"""From then on the patient may have changed since it was seen (engineering judgement)."""


class KeptDraft(Struct, frozen=True):
    """The line over a form that stands as it was left."""

    when: When
    look_again: bool
    """Whether so much time has passed that the words say to look before saving."""
    discard_action: str


class DraftSaid(Struct, frozen=True):
    """What the form's foot says while somebody types: since when it is kept; nothing kept, None."""

    when: When | None


def kept_draft(saved_at: datetime, now: datetime, clock: UnitClock, course_id: str) -> KeptDraft:
    """The line for a draft that was kept at `saved_at`."""
    return KeptDraft(
        when=when_in(saved_at, now, clock),
        look_again=now - saved_at >= LOOK_AGAIN_AFTER,
        discard_action=f"/courses/{course_id}/assess/draft/discard",
    )
