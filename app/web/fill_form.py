"""A form of a few fields: read as it was sent, and shown again with what holds it up.

A route tries the act and catches HOLDS_UP; `held_up` makes of it the sheet that is shown again::

    try:
        typed = read_sheet_of(sheet)
        with visit.writing() as writing:
            ...
    except HOLDS_UP as why:
        return _page(request, visit, course, held_up(sheet, why), 422)
    return RedirectResponse(..., status_code=303)

The status is always 422, for a form that was saved before with other content as well: what was
sent cannot be kept, and whoever sent it can put that right in it (so says the draft standard of the
Idempotency-Key header, IETF httpapi, section 2.7). 409 stays for what changed under a form, or was
opened for somebody else.
"""

from collections.abc import Collection, Mapping
from datetime import datetime

from msgspec.structs import replace

from app.actions.chart_assessment import HeldUp
from app.actions.refused import ActRefused
from app.charting.typed_sheet import SheetHeldUp, SheetRead, standing_sheet
from app.pages.fill import FillSheet
from app.record.errors import KeyReused
from app.rules.unit_clock import UnitClock
from app.web.check_form import LONGEST_KEY, new_save_key, observed_in
from app.web.forms import Form

HOLDS_UP = (SheetHeldUp, HeldUp, ActRefused, KeyReused)
"""Nothing was saved, for a reason that belongs beside what was typed."""

SENT_BEFORE = "This form was saved before with other content: look at what stands below."


def fill_sheet_of(form: Form, codes: Collection[str], clock: UnitClock, now: datetime) -> FillSheet:
    """What was typed in these fields; anything else that was sent is left aside."""
    text, moment, error = observed_in(form, clock, now)
    return FillSheet(
        save_key=form.one("save_key", LONGEST_KEY) or new_save_key(),
        observed_at=moment,
        typed={code: form.one(code) for code in codes if form.one(code)},
        observed_text=text,
        observed_error=error,
        accepted=frozenset(form.several("accept")),
    )


def blank_fill(now: datetime, typed: Mapping[str, str] | None = None) -> FillSheet:
    """A fresh form, with what is known already."""
    return FillSheet(new_save_key(), now, typed or {})


def read_sheet_of(sheet: FillSheet) -> SheetRead:
    """The fields once they stand. Raises SheetHeldUp, as `require_time` does."""
    require_time(sheet)
    return standing_sheet(sheet.typed, sheet.accepted)


def require_time(sheet: FillSheet) -> None:
    """Raises SheetHeldUp for a time that cannot be taken; the sheet says why beside it."""
    if sheet.observed_error:
        raise SheetHeldUp(())


def held_up(sheet: FillSheet, why: Exception) -> FillSheet:
    """The sheet with what holds it up, by its field or above everything."""
    if isinstance(why, SheetHeldUp):
        return replace(sheet, objections=why.objections)
    if isinstance(why, HeldUp):
        return replace(sheet, objections=why.read.objections)
    if isinstance(why, ActRefused):
        href = f"/courses/{why.course_id}" if why.course_id else ""
        return replace(sheet, error=str(why), error_href=href)
    return replace(sheet, error=SENT_BEFORE, save_key=new_save_key())
