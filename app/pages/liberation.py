"""Build the page of coming off the ventilator: a planned removal, what was left open, time off."""

from collections.abc import Iterator

from app.charting.airways import TUBES, has_tube
from app.charting.episodes import TRIAL
from app.charting.event_facts import Event
from app.charting.facts import Airway, CourseFacts
from app.charting.fields.intake import ASKED_ONCE
from app.charting.in_force import airway_at, going_on
from app.charting.liberation import (
    AGAIN,
    BREATHES,
    CHECKLISTS,
    DECANNULATION,
    EXTUBATION,
    HOW,
    REINTUBATION,
    UNPLANNED,
)
from app.charting.off_ventilator import OFF
from app.pages import airway_words
from app.pages.fill import FillSheet, patient_form, section
from app.pages.fill_page import FillForm, FillPage, FillSection, HistoryLine
from app.pages.frame import Frame, NavLink
from app.pages.known import Known
from app.pages.liberation_words import liberation_lines
from app.pages.times import clock_time, when_in

OFF_BEGINS, OFF_ENDS, TOLD = "off", "back", "told"
LEAK = ("cuff_leak_ml", "cuff_leak_percent", "cuff_leak_not_done")
AFTER = ("breathes_now", "stridor", "voice")
TOLD_LATER = {BREATHES: "breathes_now", HOW: "tube_out_how", AGAIN: "tube_in_again"}
"""The field in which each open task of an unplanned extubation is told."""

LABELS = {
    EXTUBATION: "Extubation",
    DECANNULATION: "Decannulation",
    OFF_BEGINS: "Off the ventilator",
    OFF_ENDS: "Back on the ventilator",
    TOLD: "What was left open",
}
_TIMES = {
    EXTUBATION: "Tube out at",
    DECANNULATION: "Tube out at",
    OFF_BEGINS: "Off since",
    OFF_ENDS: "Back at",
    TOLD: "So since",
}
_KINDS = (EXTUBATION, DECANNULATION, REINTUBATION, UNPLANNED, OFF)
CHECKED = "Each answer is kept as a fact; none of them holds up the record."


def codes_of(act: str) -> tuple[str, ...]:
    """The fields that the form of an act may send."""
    if act == EXTUBATION:
        return (*CHECKLISTS[act], *LEAK, *AFTER)
    if act == DECANNULATION:
        return (*CHECKLISTS[act], *AFTER)
    return tuple(TOLD_LATER.values()) if act == TOLD else ("airway_words",)


def offered_acts(course: Known) -> tuple[str, ...]:
    """What can be written down with the airway in place, the likeliest first."""
    facts, now = course.facts, course.now
    airway = airway_at(facts.airways, now)
    if airway is not None and has_tube(airway):
        if airway.category != "trach":
            return (EXTUBATION,)
        off = going_on(facts.events, OFF, now) is not None
        return (OFF_ENDS if off else OFF_BEGINS, DECANNULATION)
    return (TOLD,) if open_after(facts) else ()


def open_after(facts: CourseFacts) -> tuple[str, ...]:
    """What of an unplanned extubation nobody has told yet, by the rule of its task."""
    is_open = {task.rule for task in facts.tasks if task.is_open}
    return tuple(rule for rule in TOLD_LATER if rule in is_open)


def liberation_page(
    frame: Frame, course: Known, act: str, sheet: FillSheet, *, may_record: bool
) -> FillPage:
    """The page of one patient; `act` names the form that is open, the likeliest unless given."""
    facts = course.facts
    base = f"/courses/{facts.course_id}"
    offered = offered_acts(course)
    is_open = may_record and facts.ended_at is None
    # A form that was sent comes back with what was typed, whatever the airway is by now.
    chosen = act if act in offered or (sheet.errors and act in LABELS) else (*offered, "")[0]
    return FillPage(
        frame=frame,
        banner=course.banner,
        heading="Off the ventilator",
        lead=_lead(course),
        ways=tuple(_ways(base, course, offered, chosen)) if is_open else (),
        history=tuple(_history(course)),
        history_words="Tubes out and in, and time off, newest first",
        form=_form(course, chosen, sheet) if is_open and chosen else None,
        back_href=base,
    )


def _lead(course: Known) -> str:
    airway = airway_at(course.facts.airways, course.now)
    tube = (
        f"In place: {airway_words.tube(airway)}."
        if airway is not None and has_tube(airway)
        else "No tube is in place."
    )
    lines = liberation_lines(course.facts, course.now, course.clock)
    return " ".join((tube, *(f"{line}." for line in lines), *_open_trial(course)))


def _open_trial(course: Known) -> Iterator[str]:
    trial = going_on(course.facts.events, TRIAL, course.now)
    if trial is not None:
        since = clock_time(trial.observed_at, course.now, course.clock)
        yield f"A breathing trial is open since {since}: the tube's removal closes it."


def _ways(base: str, course: Known, offered: tuple[str, ...], chosen: str) -> Iterator[NavLink]:
    for act in offered:
        yield NavLink(LABELS[act], f"{base}/liberation?act={act}", current=act == chosen)
    airway = airway_at(course.facts.airways, course.now)
    if not has_tube(airway) and any(_was_a_tube(row) for row in course.facts.airways):
        yield NavLink("Re-intubated", f"{base}/airway?act=placed")


def _was_a_tube(airway: Airway) -> bool:
    return airway.category in TUBES


def _history(course: Known) -> Iterator[HistoryLine]:
    events = [event for event in course.facts.events if event.kind in _KINDS]
    for event in reversed(events):
        ended = when_in(event.ended_at, course.now, course.clock).text if event.ended_at else ""
        yield HistoryLine(
            when=when_in(event.observed_at, course.now, course.clock),
            words=f"{event.words}, until {ended}" if ended else event.words,
            author=event.author,
            why="; ".join(_answers(event)),
            href=f"/courses/{course.facts.course_id}/events/{event.id}",
        )


def _answers(event: Event) -> Iterator[str]:
    for code in CHECKLISTS.get(event.kind, ()):
        said = event.detail(code)
        yield f"{ASKED_ONCE[code].label}: {said or 'not answered'}"


def _form(course: Known, act: str, sheet: FillSheet) -> FillForm:
    label, hidden = f"Save: {LABELS[act].lower()}", (("act", act),)
    sections = _sections(course.facts, act, sheet)
    at = _TIMES[act]
    return patient_form(course, "liberation", sheet, sections, label, at=at, hidden=hidden)


def _sections(facts: CourseFacts, act: str, sheet: FillSheet) -> Iterator[FillSection]:
    if act in CHECKLISTS:
        yield section("Looked at before", CHECKLISTS[act], sheet, CHECKED, empty="not answered")
    if act == EXTUBATION:
        yield section("Cuff leak", LEAK, sheet, "A value, or why it was not tested.")
    if act in CHECKLISTS:
        yield section("Afterwards", AFTER, sheet, empty="not said")
    elif act == TOLD:
        codes = tuple(TOLD_LATER[rule] for rule in open_after(facts))
        yield section("What was left open", codes, sheet, empty="still open")
    else:
        yield section(LABELS[act], ("airway_words",), sheet)
