"""When a bed's page folds to three lines: nothing on it asks to be read in full. It never vanishes.

Engineering judgement, to be ratified by the unit: low concern chosen by a person, no flag, no
change of settings in the shift that is handed over, no event in 12 h, nothing late, no gap, no
if-then line, no danger.
"""

from datetime import timedelta

from app.charting.fields import FIELDS
from app.pages.changed import since_handing_over
from app.pages.due_words import due_lines
from app.pages.handoff_danger import dangers
from app.pages.known import Known
from app.pages.site_words import LIMITS_OF_CARE
from app.pages.support_words import support_words
from app.pages.values import reading_text
from app.pages.worries import worries_of
from app.rules.changes import changes_since
from app.rules.offering import concern_for_offer, none_expected

NO_EVENT_FOR = timedelta(hours=12)


def folded(course: Known) -> tuple[str, ...]:
    """The three lines; empty where the page has to stand in full."""
    return _lines(course) if _may_fold(course) else ()


def _may_fold(course: Known) -> bool:
    facts, now = course.facts, course.now
    since = since_handing_over(facts, now, course.clock)
    changed = changes_since(facts, since.at, course.policy)
    recent = [event for event in facts.events if now - event.observed_at < NO_EVENT_FOR]
    late = [task for task in facts.tasks if task.is_open and task.due_at and task.due_at <= now]
    return concern_for_offer(facts) == "low" and not any(
        (
            worries_of(course.summary, now, course.clock, every=True, words=course.words),
            changed,
            recent,
            late,
            facts.if_thens,
            tuple(dangers(course)),
            any(item.state(now, course.summary.away) != "due" for item in course.summary.due_items),
        )
    )


def _lines(course: Known) -> tuple[str, ...]:
    return (_who(course), _support(course), _next(course))


def _who(course: Known) -> str:
    airway = course.summary.airway
    name = course.words.name(LIMITS_OF_CARE)
    limits = course.facts.identity.code_limits or f"{name} not stated"
    if airway is None:
        return f"{limits} · no airway charted"
    if airway.category == "none":
        return f"{limits} · no tube"
    label = FIELDS["airway_category"].label_of(airway.category)
    size = f"{airway.size_mm} mm" if airway.size_mm else ""
    reference = FIELDS["airway_depth_reference"].label_of(airway.depth_reference).lower()
    depth = f"at {airway.depth_cm} cm {reference}".strip() if airway.depth_cm else ""
    return " · ".join(filter(None, (limits, f"{label} {size} {depth}".strip())))


def _support(course: Known) -> str:
    latest = course.facts.latest_readings()
    told = [support_words(course.summary)]
    told += [
        f"{FIELDS[code].name} {reading_text(course.words.fields[code], latest[code])}"
        for code in ("fio2_set", "peep_set")
        if code in latest and latest[code].has_value
    ]
    volume = course.summary.cells.get("vt_per_pbw")
    if volume is not None and volume.text:
        told.append(f"{volume.text} mL/kg")
    return " · ".join(told)


def _next(course: Known) -> str:
    due = due_lines(course.summary, course.now, course.clock)
    told = [f"{line.what} {line.when.text}" for line in due if line.when]
    expected = none_expected(course.facts)
    told.append(f"none expected: {expected}" if expected else "no if-then line")
    return " · ".join(told)
