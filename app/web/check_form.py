"""A check as a form sends it: texts by field, what is kept, why not, which answers were given."""

import secrets

from app.charting.check import TypedCheck
from app.charting.facts import Kind
from app.charting.fields import FIELDS
from app.charting.mode_families import MODE_FAMILIES
from app.pages.assessment import Sheet
from app.rules.unit_clock import UnitClock
from app.web.forms import Form
from app.web.moments import MomentRefused, moment_in_form
from app.web.visit import Visit

REASON = "reason."
LONGEST_KEY = 64


def new_save_key() -> str:
    """A key for one form: sent twice, it saves one row."""
    return secrets.token_urlsafe(16)


def kind_in(text: str) -> Kind:
    """The kind of row that an address or a form names; a full check for anything else."""
    return Kind(text) if text in (Kind.GAS.value, Kind.BRIEF.value) else Kind.FULL


def sheet_of(form: Form, visit: Visit, clock: UnitClock) -> Sheet:
    """The form as a sheet that can be read, saved, or shown again with every word still in it."""
    observed_text = form.one("observed_at", 40)
    observed, error = visit.now, ""
    if observed_text:
        try:
            observed = moment_in_form(observed_text, clock, visit.now)
        except MomentRefused as refused:
            error = str(refused)
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
    )
    return Sheet(
        check=check,
        save_key=form.one("save_key", LONGEST_KEY) or new_save_key(),
        observed_text=observed_text,
        observed_error=error,
    )


def _reasons(form: Form) -> dict[str, str]:
    named = {code: form.one(f"{REASON}{code}", 200) for code in FIELDS}
    return {code: reason for code, reason in named.items() if reason}
