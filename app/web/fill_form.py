"""A form of a few fields as it was sent: texts by field, its time, and which answers were given."""

from collections.abc import Collection, Mapping
from datetime import datetime

from app.pages.fill import FillSheet
from app.rules.unit_clock import UnitClock
from app.web.check_form import LONGEST_KEY, new_save_key, observed_in
from app.web.forms import Form

SENT_BEFORE = "This form was saved before with other content: look at what stands below."


def fill_sheet_of(form: Form, codes: Collection[str], clock: UnitClock, now: datetime) -> FillSheet:
    """What was typed in these fields; anything else that was sent is left aside."""
    text, moment, error = observed_in(form, clock, now)
    return FillSheet(
        save_key=form.one("save_key", LONGEST_KEY) or new_save_key(),
        observed_at=moment,
        typed={code: form.one(code, 200) for code in codes if form.one(code, 200)},
        observed_text=text,
        observed_error=error,
        accepted=frozenset(form.several("accept")),
    )


def blank_fill(now: datetime, typed: Mapping[str, str] | None = None) -> FillSheet:
    """A fresh form, with what is known already."""
    return FillSheet(new_save_key(), now, typed or {})
