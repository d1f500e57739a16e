"""Keep what somebody has typed and not saved, for that person alone; or forget it."""

from datetime import timedelta

from sqlmodel import Session

from app.record.drafts import Draft, drop_draft, drop_drafts_before, store_draft
from app.record.idempotency import was_saved

LONGEST = 100_000
"""Characters of one draft; the fullest form is a fifth of it."""

KEPT_FOR = timedelta(hours=24)
"""A day later nobody remembers what was seen (engineering judgement)."""


class DraftTooLong(ValueError):  # noqa: N818 - it names a state that a page has words for
    """More than one form can hold; nothing was kept."""


def keep_draft(session: Session, staff_id: str, draft: Draft, save_key: str) -> bool:
    """Keep a draft in place of the one before; returns whether it was kept.

    A form that was saved meanwhile is not kept, though its page may still send it while it closes:
    it would come back as if it had not been saved. Raises DraftTooLong.
    """
    if len(draft.typed) > LONGEST:
        raise DraftTooLong
    drop_drafts_before(session, draft.saved_at - KEPT_FOR)
    if was_saved(session, staff_id, save_key):
        drop_draft(session, staff_id, draft.course_id, draft.kind)
        return False
    store_draft(session, staff_id, draft)
    return True
