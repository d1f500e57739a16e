"""A half-typed check as text and back, for the person who typed it and nobody else."""

import json

from msgspec.structs import replace

from app.actions.keep_draft import KEPT_FOR
from app.charting.facts import CourseFacts, Kind
from app.pages.assessment import Sheet
from app.record.drafts import Draft, drop_draft, find_draft
from app.record.writing import Writing
from app.web.check_form import sheet_of
from app.web.forms import Form
from app.web.visit import Visit

NOT_KEPT = frozenset({"csrf", "accept", "show", "at", "band", "identity"})
"""Proofs hold for one page, and an answer for the moment in which it was given."""


def holds_anything(sheet: Sheet) -> bool:
    """Whether somebody has entered anything; the time and the mode stand there by themselves."""
    return bool(sheet.check.typed or sheet.check.kept or sheet.check.reasons)


def draft_of(form: Form, visit: Visit, course_id: str, kind: Kind) -> Draft:
    """The form as it is kept: every text that was sent, in order."""
    pairs = {name: texts for name, texts in form.values.items() if name not in NOT_KEPT}
    return Draft(course_id, kind.value, json.dumps(pairs), visit.now)


def find_kept(visit: Visit, course_id: str, kind: Kind) -> Draft | None:
    """This person's draft of that form; None when there is none, or none of the last day."""
    with visit.reading() as session:
        draft = find_draft(session, visit.person.id, course_id, kind.value)
    return draft if draft is not None and visit.now - draft.saved_at < KEPT_FOR else None


def forget_draft(writing: Writing, course_id: str, kind: Kind) -> None:
    """The form was saved, in this very write, so nothing of it is left to save."""
    drop_draft(writing.session, writing.author_id or "", course_id, kind.value)


def sheet_from(draft: Draft, facts: CourseFacts, visit: Visit) -> Sheet:
    """The form as it was left.

    A tick that confirmed a setting is gone where the setting was charted anew since: it would
    confirm a value that nobody has looked at (decision 8).
    """
    values = {name: tuple(texts) for name, texts in json.loads(draft.typed).items()}
    sheet = sheet_of(Form(values), visit, visit.clock)
    last = facts.latest_readings()
    standing = {code for code in sheet.check.kept if code in last}
    kept = frozenset(code for code in standing if last[code].recorded_at <= draft.saved_at)
    return replace(sheet, check=replace(sheet.check, kept=kept), draft_saved_at=draft.saved_at)
