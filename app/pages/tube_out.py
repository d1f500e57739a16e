"""Build the page that records in one press that a tube came out unplanned."""

from msgspec.structs import replace

from app.charting.airways import has_tube
from app.charting.facts import Airway
from app.charting.in_force import airway_at
from app.pages import airway_words
from app.pages.bed_acts import tube_out_href
from app.pages.fill import FillSheet, patient_form
from app.pages.fill_page import FillForm, FillPage
from app.pages.frame import Frame
from app.pages.known import Known

LATER = (
    "Enter records it, with the time below, and ends invasive support there. What the patient "
    "breathes now, how it came out and whether a new tube went in can be told later."
)


def tube_out_page(frame: Frame, course: Known, sheet: FillSheet) -> FillPage:
    """One button and a time; without a tube in place, only the sentence that says so."""
    facts = course.facts
    base = f"/courses/{facts.course_id}"
    airway = airway_at(facts.airways, course.now)
    return FillPage(
        frame=frame,
        banner=course.banner,
        heading="Tube out, unplanned",
        lead=_lead(airway),
        ways=(),
        history=(),
        history_words="",
        form=_form(course, sheet) if tube_out_href(facts) or sheet.errors else None,
        back_href=base,
    )


def _lead(airway: Airway | None) -> str:
    if airway is None or not has_tube(airway):
        return "No tube is in place, so none can come out."
    return f"In place: {airway_words.tube(airway)}. {LATER}"


def _form(course: Known, sheet: FillSheet) -> FillForm:
    label = "Record: tube out, unplanned"
    form = patient_form(course, "tube-out", sheet, (), label, at="Found out at")
    return replace(form, one_press=True)
