"""Build the page of who a patient is: what stands, and writing it anew."""

from app.charting.facts import Identity
from app.pages.banner import banner_of
from app.pages.bed import Known
from app.pages.fill import FillSheet, section
from app.pages.fill_page import FillForm, FillPage
from app.pages.frame import Frame
from app.pages.intake import MORE, WHO
from app.pages.row import asks_of

CODES = (*WHO, *MORE)


def who_page(frame: Frame, course: Known, sheet: FillSheet, *, may_write: bool) -> FillPage:
    """Who one patient is, with the form where the viewer may write."""
    facts = course.facts
    base = f"/courses/{facts.course_id}"
    is_open = may_write and facts.ended_at is None
    return FillPage(
        frame=frame,
        banner=banner_of(facts, course.policy, course.clock, course.now, course.words),
        heading="Who this is",
        lead="What stands over every page of this patient. What stood before stays in the record.",
        ways=(),
        history=(),
        history_words="",
        form=_form(base, sheet) if is_open else None,
        back_href=base,
    )


def stands(identity: Identity) -> dict[str, str]:
    """What is known, as its form shows it."""
    born, age = identity.birth_date, identity.age_y
    known = {
        "name": identity.name,
        "mrn": identity.record_number,
        "birth_date": born.isoformat() if born is not None else "",
        "age_y": str(age) if age is not None else "",
        "reason_for_support": identity.reason_for_support,
        "code_limits": identity.code_limits,
        "isolation": identity.isolation,
        "allergies": identity.allergies,
    }
    return {code: text for code, text in known.items() if text}


def _form(base: str, sheet: FillSheet) -> FillForm:
    return FillForm(
        action=f"{base}/who",
        sections=(
            section("Who", WHO, sheet, "A birth date or an age; a bed is no identifier."),
            section("As on the patient's record", MORE, sheet),
        ),
        save_label="Save",
        save_key=sheet.save_key,
        back_href=base,
        errors=sheet.errors,
        asks=asks_of(sheet.objections),
        accepted=tuple(sorted(sheet.accepted)),
    )
