"""The settings before and after a transport, and how long its cylinder lasts."""

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta

from app.charting.event_facts import Event, EventDetail
from app.charting.facts import CourseFacts, Kind, Reading
from app.charting.in_force import in_force
from app.pages.calculator_cylinder import cylinder_sheet
from app.pages.calculator_inputs import Sheet
from app.pages.calculator_page import CylinderSheet
from app.pages.known import Known
from app.pages.site_words import SiteWords
from app.pages.times import clock_time
from app.pages.values import reading_text
from app.rules.policy import Policy

CYLINDER = "cylinder."
"""Before the name of a calculator's input: what was typed of the cylinder."""

SETTINGS = ("fio2_set", "peep_set", "tidal_volume_set", "pressure_control_set", "resp_rate_set")


def cylinder_typed(values: Mapping[str, str]) -> dict[str, str]:
    """What was typed of the cylinder, by the calculator's own names."""
    return {
        name.removeprefix(CYLINDER): text
        for name, text in values.items()
        if name.startswith(CYLINDER)
    }


def cylinder_of(typed: Mapping[str, str], policy: Policy) -> CylinderSheet:
    """The calculator's sheet over what was typed; it answers as the calculator does."""
    return cylinder_sheet(Sheet("cylinder", typed), policy.cylinders)


def cylinder_words(detail: EventDetail, course: Known) -> str:
    """How long the cylinder lasts in each way of drawing on it, until when, by which formula."""
    typed = cylinder_typed(detail.values)
    if not typed:
        return ""
    sheet = cylinder_of(typed, course.policy)
    if sheet.words:
        return f"Cylinder: {sheet.words}"
    told = ", ".join(
        _lasts(answer.shown.label, answer.shown.text, answer.said, detail, course)
        for answer in sheet.answers
    )
    return f"Cylinder {told} ({sheet.formula})"


def _lasts(label: str, minutes: str, said: str, detail: EventDetail, course: Known) -> str:
    if not minutes:
        return f"{label}: {said}"
    until = detail.observed_at + timedelta(minutes=int(minutes.replace(" ", "")))
    return f"{label} {minutes} min, until {clock_time(until, course.now, course.clock)}"


def around_transport(event: Event, course: Known) -> Iterator[str]:
    """The settings when they left, and those of the first full check after they came back."""
    facts = course.facts
    before = in_force(facts.standing, event.observed_at).settings
    told = _settings(before, course.words)
    yield f"Settings before: {told or 'none charted in the 8 h before'}"
    if event.ended_at is not None:
        yield f"Settings after: {_after(facts, event.ended_at, course)}"


def _after(facts: CourseFacts, back: datetime, course: Known) -> str:
    for row in facts.standing:
        if row.kind is Kind.FULL and row.observed_at >= back:
            told = _settings(row.readings, course.words)
            return (
                f"{told or 'none charted'}, {clock_time(row.observed_at, course.now, course.clock)}"
            )
    return "not charted yet"


def _settings(readings: Mapping[str, Reading], words: SiteWords) -> str:
    found = (
        (words.fields[code], readings[code])
        for code in SETTINGS
        if code in readings and readings[code].has_value
    )
    return ", ".join(
        f"{field.name} {reading_text(field, reading)} {field.unit}".strip()
        for field, reading in found
    )
