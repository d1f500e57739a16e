"""Inhaled treatments in words, the same on bed page, handoff and the page of their own."""

from collections.abc import Iterator
from datetime import datetime

from app.charting.facts import CourseFacts
from app.charting.treatments import Given, Treatment
from app.pages.bed_page import TreatmentLine
from app.pages.times import clock_time
from app.rules.due_treatments import treatment_name
from app.rules.unit_clock import UnitClock


def treatment_lines(
    facts: CourseFacts, now: datetime, clock: UnitClock
) -> tuple[TreatmentLine, ...]:
    """The treatments that are ordered, each with when it was last given and what came of it."""
    base = f"/courses/{facts.course_id}/treatments"
    return tuple(
        TreatmentLine(
            words=ordered_words(treatment),
            detail="; ".join(_detail(treatment, now, clock)),
            give_href=f"{base}?give={treatment.id}",
        )
        for treatment in facts.treatments
        if treatment.stopped_at is None
    )


def treatment_words(facts: CourseFacts, now: datetime, clock: UnitClock) -> Iterator[str]:
    """The same as lines of plain words."""
    for line in treatment_lines(facts, now, clock):
        yield f"Inhaled: {line.words}; {line.detail}"


def ordered_words(treatment: Treatment) -> str:
    """ "salbutamol 2.5 mg, nebuliser, every 4 h"."""
    return f"{treatment_name(treatment)}, {often_words(treatment)}"


def often_words(treatment: Treatment) -> str:
    """ "every 4 h", "as needed"."""
    if treatment.interval_h is None:
        return "as needed"
    return f"every {treatment.interval_h.normalize():f} h"


def given_words(given: Given) -> str:
    """What was done and what came of it."""
    if given.not_given:
        return f"not given: {given.not_given}"
    told = (
        f"before: {given.before}" if given.before else "",
        f"after: {given.after}" if given.after else "",
        given.response,
    )
    response = "; ".join(filter(None, told))
    return f"given: {response}" if response else "given, response not charted"


def _detail(treatment: Treatment, now: datetime, clock: UnitClock) -> Iterator[str]:
    yield f"ordered by {treatment.ordered_by}, {clock_time(treatment.ordered_at, now, clock)}"
    last = treatment.given[-1] if treatment.given else None
    if last is None:
        yield "not given yet"
    else:
        yield f"{clock_time(last.at, now, clock)} {last.author}: {given_words(last)}"
    due = treatment.due_at()
    if due is not None:
        yield f"next due {clock_time(due, now, clock)}"
