"""A range of a patient's own as its form sends it."""

from collections.abc import Iterator
from datetime import datetime
from decimal import Decimal

from app.actions.order_own_range import Fault, NewRange, RangeRefused
from app.charting.digits import plain
from app.pages.own_ranges import CODES, OwnSheet
from app.pages.site_words import SiteWords
from app.rules.unit_clock import UnitClock
from app.web.check_form import LONGEST_KEY, new_save_key, observed_in
from app.web.forms import Form
from app.web.moments import MomentRefused, moment_in_form
from app.web.policy_form import is_number


def own_sheet(form: Form, clock: UnitClock, now: datetime) -> OwnSheet:
    """What was typed, with its time; a time that cannot be taken is said beside it."""
    text, moment, error = observed_in(form, clock, now)
    return OwnSheet(
        save_key=form.one("save_key", LONGEST_KEY) or new_save_key(),
        observed_at=moment,
        typed={code: form.one(code, 400) for code in CODES if form.one(code, 400)},
        observed_text=text,
        bad={"observed_at": error} if error else {},
    )


def new_range(
    sheet: OwnSheet, end: str, clock: UnitClock, now: datetime, words: SiteWords
) -> NewRange:
    """The order, its numbers as they are stored. Raises RangeRefused for no number or no time."""
    faults = list(_unreadable(sheet))
    until = None
    try:
        if sheet.typed.get("until") and not end:
            until = moment_in_form(sheet.typed["until"], clock, now)
    except MomentRefused as refused:
        faults.append(Fault("until", str(refused)))
    if faults:
        raise RangeRefused(*faults)
    told = {code: " ".join(sheet.typed.get(code, "").split()) for code in ("ordered_by", "why")}
    limit = end or sheet.typed.get("own_limit", "")
    per = words.fields[limit].per if limit in words.fields else Decimal(1)
    return NewRange(
        limit=limit,
        ordered_by=told["ordered_by"],
        ordered_at=sheet.observed_at,
        why=told["why"],
        under=None if end else _number(sheet, "own_under", per),
        over=None if end else _number(sheet, "own_over", per),
        until=until,
    )


def _unreadable(sheet: OwnSheet) -> Iterator[Fault]:
    for code, sentence in sheet.bad.items():
        yield Fault(code, sentence)
    for code in ("own_under", "own_over"):
        if code in sheet.typed and not is_number(sheet.typed[code]):
            side = code.removeprefix("own_")
            yield Fault(code, f"Outside {side}: write a number in digits, without a unit.")


def _number(sheet: OwnSheet, code: str, per: Decimal) -> Decimal | None:
    """As it is stored: a site that writes 0.70 means 70 %."""
    text = sheet.typed.get(code, "")
    if not text:
        return None
    number = Decimal(plain(text).replace(",", "."))
    return number if per == 1 else (number / per).quantize(Decimal("0.01"))
