"""Build the page of inhaled treatments: what is ordered, what was given, and one form at a time."""

from collections.abc import Iterator

from app.charting.facts import CourseFacts
from app.charting.fields.treatments import TO_GIVE, TO_ORDER, TO_STOP
from app.charting.treatments import Treatment
from app.pages.fill import FillSheet, patient_form, section
from app.pages.fill_page import FillForm, FillPage, FillSection, HistoryLine
from app.pages.frame import Frame, NavLink
from app.pages.known import Known
from app.pages.times import when_in
from app.pages.treatment_words import given_words, ordered_words, treatment_words
from app.rules.due_treatments import treatment_name

ORDER, GIVE, STOP = "order", "give", "stop"
CODES = {ORDER: TO_ORDER, GIVE: TO_GIVE, STOP: TO_STOP}
_TIMES = {ORDER: "Ordered at", GIVE: "At", STOP: "Stopped at"}
_SAVES = {ORDER: "Save the order", GIVE: "Save: given, or not", STOP: "Stop it"}


def treatments_page(
    frame: Frame, course: Known, act: str, treatment_id: str, sheet: FillSheet, *, may_record: bool
) -> FillPage:
    """The page; `act` on the treatment with that id is the open form, an order unless given."""
    facts = course.facts
    base = f"/courses/{facts.course_id}"
    chosen = next((each for each in facts.treatments if each.id == treatment_id), None)
    act = act if act in CODES and chosen is not None else ORDER
    is_open = may_record and facts.ended_at is None
    return FillPage(
        frame=frame,
        banner=course.banner,
        heading="Inhaled treatments",
        lead=_lead(course),
        ways=tuple(_ways(facts, act, treatment_id)) if is_open else (),
        history=tuple(_history(course)),
        history_words="Orders and times given, newest first",
        form=_form(course, act, chosen, sheet) if is_open else None,
        back_href=base,
    )


def _lead(course: Known) -> str:
    lines = tuple(treatment_words(course.facts, course.now, course.clock))
    return " ".join(f"{line}." for line in lines) or "No inhaled treatment is ordered."


def _ways(facts: CourseFacts, act: str, treatment_id: str) -> Iterator[NavLink]:
    base = f"/courses/{facts.course_id}/treatments"
    for each in facts.treatments:
        if each.stopped_at is None:
            here = each.id == treatment_id
            given = here and act == GIVE
            yield NavLink(f"Given: {each.drug}", f"{base}?give={each.id}", current=given)
            stopped = here and act == STOP
            yield NavLink(f"Stop: {each.drug}", f"{base}?stop={each.id}", current=stopped)
    yield NavLink("Order", base, current=act == ORDER)


def _history(course: Known) -> list[HistoryLine]:
    lines = [line for each in course.facts.treatments for line in _of_one(each, course)]
    return sorted(lines, key=lambda line: line.when.iso, reverse=True)


def _of_one(treatment: Treatment, course: Known) -> Iterator[HistoryLine]:
    now, clock = course.now, course.clock
    yield HistoryLine(
        when_in(treatment.ordered_at, now, clock),
        f"Ordered: {ordered_words(treatment)}",
        treatment.ordered_by,
        holds=treatment.stopped_at is None,
    )
    for given in treatment.given:
        words = f"{treatment_name(treatment)}: {given_words(given)}"
        yield HistoryLine(when_in(given.at, now, clock), words, given.author)
    if treatment.stopped_at is not None:
        yield HistoryLine(
            when_in(treatment.stopped_at, now, clock),
            f"Stopped: {treatment_name(treatment)}",
            treatment.stopped_by,
            treatment.stopped_why,
        )


def _form(course: Known, act: str, chosen: Treatment | None, sheet: FillSheet) -> FillForm:
    about = (("treatment", chosen.id),) if chosen is not None and act != ORDER else ()
    return patient_form(
        course,
        "treatments",
        sheet,
        [_section(act, chosen, sheet)],
        _SAVES[act],
        at=_TIMES[act],
        hidden=(("act", act), *about),
    )


def _section(act: str, chosen: Treatment | None, sheet: FillSheet) -> FillSection:
    if act == ORDER or chosen is None:
        note = "The drug in the words of the order. Every so many hours, or as needed."
        return section("As it was ordered", TO_ORDER, sheet, note, empty="not said")
    if act == GIVE:
        note = "Saved with nothing else, it was given at that time."
        return section(f"Given: {ordered_words(chosen)}", TO_GIVE, sheet, note)
    return section(f"Stopped: {ordered_words(chosen)}", TO_STOP, sheet)
