"""Build the parts of a form of a few fields, fresh or sent back with what holds it up."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime

from msgspec import Struct, field

from app.charting.field import Field, Shape
from app.charting.typed_check import Objection
from app.charting.typed_sheet import declared
from app.pages.assess_head import observed_input
from app.pages.assess_page import ObservedInput, Option
from app.pages.fill_page import Blank, FillForm, FillSection
from app.pages.frame import NavLink
from app.pages.known import Known
from app.pages.row import asks_of
from app.rules.unit_clock import UnitClock

TICKS = frozenset({"confirmed_co2", "confirmed_ears", "confirmed_image"})
"""Questions that are only ever answered with yes."""


class FillSheet(Struct, frozen=True):
    """What somebody typed, and what held it up; empty for a first look."""

    save_key: str
    observed_at: datetime
    typed: Mapping[str, str] = field(default_factory=dict)
    observed_text: str = ""
    observed_error: str = ""
    objections: tuple[Objection, ...] = ()
    accepted: frozenset[str] = frozenset()
    error: str = ""
    error_href: str = ""

    @property
    def errors(self) -> tuple[str, ...]:
        """What is wrong with the whole, then each refusal."""
        refused = (o.sentence for o in self.objections if o.kind == "refused")
        return tuple(filter(None, (self.error, *refused)))


def patient_form(
    course: Known,
    path: str,
    sheet: FillSheet,
    sections: Iterable[FillSection],
    save_label: str,
    *,
    at: str = "",
    hidden: tuple[tuple[str, str], ...] = (),
) -> FillForm:
    """The form at a path of one patient, with every word that was typed still in it.

    `at` says what its time means; a form without it asks for none.
    """
    base = f"/courses/{course.facts.course_id}"
    return FillForm(
        action=f"{base}/{path}",
        sections=tuple(sections),
        save_label=save_label,
        save_key=sheet.save_key,
        back_href=base,
        observed=time_of(sheet, at, course.clock, course.now) if at else None,
        hidden=hidden,
        errors=sheet.errors,
        way_out=NavLink("Open who is there", sheet.error_href) if sheet.error_href else None,
        asks=asks_of(sheet.objections),
        accepted=tuple(sorted(sheet.accepted)),
    )


def time_of(sheet: FillSheet, label: str, clock: UnitClock, now: datetime) -> ObservedInput:
    """The time of a form, as it was typed."""
    at, typed, error = sheet.observed_at, sheet.observed_text, sheet.observed_error
    return observed_input(label, at, typed, error, clock, now)


def section(
    legend: str,
    codes: tuple[str, ...],
    sheet: FillSheet,
    note: str = "",
    *,
    empty: str = "not yet",
) -> FillSection:
    """A section with these fields; `empty` is what an unanswered choice says."""
    return FillSection(legend, tuple(blank(code, sheet, empty) for code in codes), note)


def blank(code: str, sheet: FillSheet, empty: str = "not yet") -> Blank:
    """One field as its form shows it, with what was typed."""
    known, typed = declared(code), sheet.typed.get(code, "")
    bad = [o.sentence for o in sheet.objections if o.field == code and o.kind == "refused"]
    return Blank(
        code=code,
        label=known.label,
        shape="tick" if code in TICKS else known.shape.value,
        typed=typed,
        unit=known.unit,
        hint=known.help,
        options=tuple(_options(known, typed)),
        empty=empty,
        bad=bad[0] if bad else "",
    )


def _options(known: Field, typed: str) -> Iterator[Option]:
    if known.shape is Shape.CHOICE:
        for each in known.choices:
            yield Option(each.code, each.label, each.code == typed)
