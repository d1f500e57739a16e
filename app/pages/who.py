"""Build the page of who a patient is: what stands, and writing it anew."""

from app.charting.facts import Identity
from app.pages.fill import FillSheet, patient_form, section
from app.pages.fill_page import FillForm, FillPage
from app.pages.frame import Frame
from app.pages.intake import MORE, WHO
from app.pages.known import Known

CODES = (*WHO, *MORE)


def who_page(frame: Frame, course: Known, sheet: FillSheet, *, may_write: bool) -> FillPage:
    """Who one patient is, with the form where the viewer may write."""
    facts = course.facts
    base = f"/courses/{facts.course_id}"
    is_open = may_write and facts.ended_at is None
    return FillPage(
        frame=frame,
        banner=course.banner,
        heading="Who this is",
        lead="What stands over every page of this patient. What stood before stays in the record.",
        ways=(),
        history=(),
        history_words="",
        form=_form(course, sheet) if is_open else None,
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


def _form(course: Known, sheet: FillSheet) -> FillForm:
    sections = (
        section("Who", WHO, sheet, "A birth date or an age; a bed is no identifier."),
        section("As on the patient's record", MORE, sheet),
    )
    return patient_form(course, "who", sheet, sections, "Save")
