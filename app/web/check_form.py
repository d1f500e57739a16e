"""A check as a form sends it: texts by field, what is kept, why not, which answers were given."""

import secrets
from datetime import datetime

from app.charting.check import TypedCheck
from app.charting.facts import Kind
from app.charting.fields import FIELDS
from app.charting.from_paper import LONGEST_NAME, PAPER
from app.charting.mode_families import MODE_FAMILIES
from app.pages.assess_head import SLIP_PRESSURES, SLIP_UNITS
from app.pages.assessment import Sheet
from app.pages.meeting import CHOICE
from app.rules.unit_clock import UnitClock
from app.web.forms import Form
from app.web.moments import MomentRefused, moment_in_form
from app.web.visit import Visit

REASON = "reason."
SEEN = "seen."
LONGEST_KEY = 64


def new_save_key() -> str:
    """A key for one form: sent twice, it saves one row."""
    return secrets.token_urlsafe(16)


def kind_in(text: str) -> Kind:
    """The kind of row that an address or a form names; a full check for anything else."""
    return Kind(text) if text in (Kind.GAS.value, Kind.BRIEF.value) else Kind.FULL


def sheet_of(form: Form, visit: Visit, clock: UnitClock) -> Sheet:
    """The form as a sheet that can be read, saved, or shown again with every word still in it."""
    observed_text, observed, error = observed_in(form, clock, visit.now)
    kind = kind_in(form.one("kind", 20))
    family = "" if kind is Kind.GAS else form.one("mode_family", 40)
    check = TypedCheck(
        kind=kind,
        observed_at=observed,
        mode_family=family if family in MODE_FAMILIES else "",
        typed={code: form.one(code) for code in FIELDS if form.one(code) and code != "mode_family"},
        kept=frozenset(code for code in form.several("keep") if code in FIELDS),
        reasons=_reasons(form),
        accepted=frozenset(key for keys in form.several("accept") for key in keys.splitlines()),
        units=_slip_units(form) if kind is Kind.GAS else {},
        seen=_seen(form),
        source=PAPER if form.one("paper", 1) else "bedside",
        paper_by=" ".join(form.one("paper_by", LONGEST_NAME).split()),
    )
    return Sheet(
        check=check,
        save_key=form.one("save_key", LONGEST_KEY) or new_save_key(),
        observed_text=observed_text,
        observed_error=error,
        opened=form.one("opened", LONGEST_KEY),
        choices=_choices(form),
    )


def being_typed(form: Form) -> str:
    """The field that somebody is still typing in while the form asks; empty where there is none."""
    code = form.one("at", 60)
    return code if code in FIELDS else ""


def observed_in(form: Form, clock: UnitClock, now: datetime) -> tuple[str, datetime, str]:
    """The time observed as text, as a moment, and what is wrong with it.

    The moment is now where the form leaves the time out, or where it cannot be taken.
    """
    text = form.one("observed_at", 40)
    if not text:
        return "", now, ""
    try:
        return text, moment_in_form(text, clock, now, form.one("observed_fold", 10)), ""
    except MomentRefused as refused:
        return text, now, str(refused)


def _slip_units(form: Form) -> dict[str, str]:
    """The unit of the slip's pressures, for numbers that were typed without one."""
    unit = form.one("slip_unit", 10)
    return dict.fromkeys(SLIP_PRESSURES, unit) if unit in SLIP_UNITS else {}


def _seen(form: Form) -> dict[str, str]:
    """What stood beside each tick that confirms a field."""
    kept = [code for code in form.several("keep") if code in FIELDS]
    seen = {code: form.one(f"{SEEN}{code}", 200) for code in kept}
    return {code: value for code, value in seen.items() if value}


def _choices(form: Form) -> dict[str, str]:
    """What was decided where the chart moved on, by the difference's key."""
    named = (name for name in form.values if name.startswith(CHOICE))
    return {name.removeprefix(CHOICE): form.one(name, 10) for name in named}


def _reasons(form: Form) -> dict[str, str]:
    named = {code: form.one(f"{REASON}{code}", 200) for code in FIELDS}
    return {code: reason for code, reason in named.items() if reason}
