"""Build the page on which support is said to be withdrawn, and on which that is ended again."""

from collections.abc import Iterator

from app.charting.events import COMFORT
from app.charting.in_force import going_on
from app.pages.fill import FillSheet, patient_form
from app.pages.fill_page import Blank, FillForm, FillPage, FillSection, HistoryLine
from app.pages.frame import Frame
from app.pages.known import Known
from app.pages.times import clock_time, when_in

CODES = ("ordered_by", "words")
BEGIN, END = "begin", "end"
NOT_QUIET = (
    "Limits, flags and due times count for this patient. Where support is withdrawn they can be "
    "muted: nothing is deleted, charting goes on, and board, bed page and handoff say so in words."
)


def quiet_page(frame: Frame, course: Known, sheet: FillSheet, *, may_place: bool) -> FillPage:
    """Whether one course is muted, and the form that begins or ends it."""
    facts = course.facts
    base = f"/courses/{facts.course_id}"
    going = going_on(facts.events, COMFORT, course.now)
    lead = NOT_QUIET
    if going is not None:
        lead = f"Quiet since {clock_time(going.observed_at, course.now, course.clock)}."
    is_open = may_place and facts.ended_at is None
    return FillPage(
        frame=frame,
        banner=course.banner,
        heading="Quiet view",
        lead=lead,
        ways=(),
        history=tuple(_history(course)),
        history_words="When this course was muted, newest first",
        form=_form(course, sheet, ends=going is not None) if is_open else None,
        back_href=base,
    )


def _history(course: Known) -> Iterator[HistoryLine]:
    for event in reversed(course.facts.events):
        if event.kind == COMFORT:
            ended = event.ended_at
            until = f", until {clock_time(ended, course.now, course.clock)}" if ended else ""
            when = when_in(event.observed_at, course.now, course.clock)
            yield HistoryLine(
                when,
                f"{event.words}{until}",
                event.author,
                holds=ended is None,
                href=f"/courses/{course.facts.course_id}/events/{event.id}",
            )


def _form(course: Known, sheet: FillSheet, *, ends: bool) -> FillForm:
    words = sheet.typed.get("words", "")
    who = Blank("ordered_by", "Ordered by", "text", sheet.typed.get("ordered_by", ""))
    if ends:
        legend, what = "End the quiet view", Blank("words", "Why", "text", words)
        note = "Limits, flags and due times count again, and flags that stand are shown again."
    else:
        hint = "What was agreed, alarms, who is with the patient."
        legend, what = "Support is withdrawn", Blank("words", "Plan", "text", words, hint=hint)
        note = "Nobody is told that a value is outside a limit, or overdue, until this is ended."
    return patient_form(
        course,
        "quiet",
        sheet,
        [FillSection(legend, (who, what), note)],
        "Save: limits count again" if ends else "Save: mute limits and due times",
        at="Ended at" if ends else "From",
        hidden=(("act", END if ends else BEGIN),),
    )
