"""Build the page of machine and gear: what is charted of it, and the form that charts it anew."""

from collections.abc import Iterator

from app.charting.facts import Reading
from app.charting.field import Group
from app.charting.fields import FIELDS, in_group
from app.pages.fill import FillSheet, patient_form, section
from app.pages.fill_page import FillForm, FillPage, HistoryLine
from app.pages.frame import Frame
from app.pages.known import Known
from app.pages.times import when_in
from app.pages.values import reading_text

MACHINE = ("device_id", "pre_use_check", "pre_use_check_passed_at", "safe_expiratory_filter")
HUMIDIFIER = ("humidifier", "safe_humidifier_filled")
DATES = tuple(code for code in FIELDS if code.endswith("_changed_on"))
RESCUE = tuple(
    field.code for field in in_group(Group.SAFETY) if field.code not in (*MACHINE, *HUMIDIFIER)
)
CODES = (*MACHINE, *HUMIDIFIER, *DATES, *RESCUE)
NOT_LOOKED = "not looked at now"
RESCUE_NOTE = (
    "Only what somebody looked at. A no becomes an open task until it is answered by a yes."
)


def machine_page(frame: Frame, course: Known, sheet: FillSheet, *, may_chart: bool) -> FillPage:
    """What stands at one patient's bed, each answer with its age."""
    facts = course.facts
    base = f"/courses/{facts.course_id}"
    return FillPage(
        frame=frame,
        banner=course.banner,
        heading="Machine and gear",
        lead="A check of the machine before use, what is in line, and what stands ready.",
        ways=(),
        history=tuple(_known(course)),
        history_words="As charted last",
        form=_form(sheet, course) if may_chart and facts.ended_at is None else None,
        back_href=base,
    )


def _known(course: Known) -> Iterator[HistoryLine]:
    latest = course.facts.latest_readings()
    for code in CODES:
        reading = latest.get(code)
        if reading is not None and reading.has_value:
            when = when_in(reading.observed_at, course.now, course.clock)
            yield HistoryLine(when, _words(reading), reading.author)


def _words(reading: Reading) -> str:
    field = FIELDS[reading.field]
    return f"{field.label}: {reading_text(field, reading)}"


def _form(sheet: FillSheet, course: Known) -> FillForm:
    sections = (
        section("The machine", MACHINE, sheet, empty=NOT_LOOKED),
        section("Humidifier", HUMIDIFIER, sheet, "One humidifier only.", empty=NOT_LOOKED),
        section("Changed on", DATES, sheet),
        section("Ready at the bed", RESCUE, sheet, RESCUE_NOTE, empty=NOT_LOOKED),
    )
    return patient_form(course, "machine", sheet, sections, "Save", at="Looked at")
