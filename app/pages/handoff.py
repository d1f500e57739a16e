"""Build the handoff page: ten fixed headings, filled from the record, with a person's words apart.

The order follows what a study of structured handoff put first: severity, then what changed, what is
to do, if-then plans, and a restatement by the receiver (N Engl J Med 2014;371:1803, abstract).
"""

from collections.abc import Callable, Iterator
from datetime import datetime

from app.charting.facts import HandoffNote, Reading
from app.charting.fields import FIELDS
from app.charting.mode_families import family_of
from app.charting.reasons import not_done
from app.charting.shown import shown, signed
from app.pages.banner import banner_of
from app.pages.bed import Known, due_lines, now_groups
from app.pages.frame import Frame
from app.pages.handoff_page import Change, HandoffPage, Section, Words
from app.pages.shown import Tone
from app.pages.times import clock_time, full_time, when_in
from app.pages.values import reading_text
from app.pages.worries import worries_of
from app.rules.changes import AIRWAY, HEIGHT, MODE_FAMILY, Step, changes_since
from app.rules.unit_clock import UnitClock

HEADINGS: tuple[tuple[str, str, str], ...] = (
    ("concern", "Concern", "Low, raised or high, and one reason"),
    ("danger", "Danger", "What could kill in the next hour, and what to have at hand"),
    ("course", "Why on support, and the course", "One or two sentences"),
    ("changed", "What changed this shift", "Why, and how the patient answered"),
    ("now", "Support, lungs, gas", "How you read these numbers"),
    ("airway", "Airway, secretions, sedation", "What the numbers do not say"),
    ("todo", "Still to do", "What is left, by when, and what it waits for"),
    ("if_then", "If … then …", "If … for …, then …, call … by … (or: none expected, because …)"),
    ("gaps", "Gaps and unknowns", "What you are not sure of"),
    ("restated", "Questions and restatement", "What the receiver asked and said back"),
)
"""Key, heading and prompt, in the order of the page; the order is part of the product."""

SECTIONS = {key: heading for key, heading, _ in HEADINGS}

SAFETY_TICKS = tuple(code for code in FIELDS if code.startswith("safe_"))


def handoff_page(frame: Frame, course: Known, *, editable: bool) -> HandoffPage:
    """One patient for the next shift, as known now."""
    facts, now, clock = course.facts, course.now, course.clock
    since = clock.shift_start(now)
    base = f"/courses/{facts.course_id}"
    return HandoffPage(
        frame=frame,
        banner=banner_of(facts, course.policy, clock, now),
        standing="Draft. Nobody has been offered this bed, and nobody has accepted it.",
        shift_words=f"This shift began {clock_time(since, now, clock)}",
        sections=tuple(
            _section(key, heading, prompt, course, editable=editable)
            for key, heading, prompt in HEADINGS
        ),
        editable=editable,
        note_action=f"{base}/handoff/notes",
        back_href=base,
        printed=full_time(now, clock),
    )


def _section(key: str, heading: str, prompt: str, course: Known, *, editable: bool) -> Section:
    filled = _FILLED[key](course)
    return Section(
        key=key,
        heading=heading,
        note=filled.note,
        lines=filled.lines,
        numbers=filled.numbers,
        changes=filled.changes,
        due=filled.due,
        worries=filled.worries,
        words=_words(course.facts.notes, key, course.now, course.clock),
        writable=editable,
        prompt=prompt,
        empty_words="" if _says_something(filled) else filled.empty_words,
    )


def _says_something(filled: Section) -> bool:
    return any((filled.lines, filled.numbers, filled.changes, filled.due, filled.worries))


def _words(
    notes: tuple[HandoffNote, ...], key: str, now: datetime, clock: UnitClock
) -> Words | None:
    newest = next((note for note in reversed(notes) if note.heading == key), None)
    if newest is None or not newest.words:
        return None
    return Words(newest.words, newest.author, when_in(newest.observed_at, now, clock))


def _concern(course: Known) -> Section:
    found = worries_of(course.summary, course.now, course.clock)
    return Section(
        "",
        "",
        note="a person decides; the record only suggests",
        worries=tuple(worry for worry in found if worry.tone is not Tone.NOT_EVALUABLE),
        empty_words="No flag raised. Concern not stated.",
    )


def _danger(course: Known) -> Section:
    lines = tuple(_dangers(course))
    return Section("", "", lines=lines, empty_words="Nothing of this kind is charted.")


def _dangers(course: Known) -> Iterator[str]:
    airway = course.facts.airways[-1] if course.facts.airways else None
    if airway is not None and airway.difficult not in ("", "no"):
        label = FIELDS["difficult_airway"].label_of(airway.difficult)
        yield f"Difficult airway: {label.lower()}"
    latest = course.facts.latest_readings()
    if "position" in latest and latest["position"].word == "prone":
        at = clock_time(latest["position"].observed_at, course.now, course.clock)
        yield f"Prone, charted {at}"
    for code in ("nitric_oxide_ppm", "ecmo_flow_lpm", "ecmo_sweep_lpm"):
        reading = latest.get(code)
        if reading is not None and reading.number:
            yield f"{FIELDS[code].label} {shown(FIELDS[code], reading.number)} {FIELDS[code].unit}"


def _course(course: Known) -> Section:
    facts = course.facts
    reason = facts.identity.reason_for_support
    return Section(
        "",
        "",
        lines=(reason,) if reason else (),
        empty_words="The reason for support is not charted.",
    )


def _changed(course: Known) -> Section:
    since = course.clock.shift_start(course.now)
    steps = changes_since(course.facts, since, course.policy)
    return Section(
        "",
        "",
        note=f"since {clock_time(since, course.now, course.clock)}; steps within noise left out",
        changes=tuple(_change(step, course) for step in steps),
        empty_words="No change of settings, airway, position or height charted this shift.",
    )


def _change(step: Step, course: Known) -> Change:
    before = "first seen" if step.before is None else _value(step.key, step.before)
    why = next(
        (
            row.readings["change_reason"].word
            for row in course.facts.standing
            if row.observed_at == step.at and "change_reason" in row.readings
        ),
        "",
    )
    return Change(
        what=_what(step.key),
        before=before,
        after=_value(step.key, step.after),
        when=when_in(step.at, course.now, course.clock),
        author=step.author,
        why=f"corrected. {why}".strip() if step.corrected else why,
    )


def _what(key: str) -> str:
    named = {MODE_FAMILY: "Mode", AIRWAY: "Airway", HEIGHT: "Height, cm"}
    if key in named:
        return named[key]
    field = FIELDS[key]
    return f"{field.name}, {field.unit}" if field.unit else field.name


def _value(key: str, value: object) -> str:
    if key == MODE_FAMILY:
        return family_of(str(value)).label
    if key == AIRWAY:
        category, _, size = str(value).partition(" ")
        return f"{FIELDS['airway_category'].label_of(category)} {size}".strip()
    if isinstance(value, str):
        return FIELDS[key].label_of(value)
    return signed(f"{value:f}")


def _now(course: Known) -> Section:
    return Section("", "", numbers=now_groups(course))


AIRWAY_FIELDS = (
    "airway_depth_cm",
    "cuff_pressure_cmh2o",
    "securement",
    "airway_skin",
    "breath_sounds",
    "secretions_amount",
    "secretions_colour",
    "secretions_consistency",
    "cough",
    "rass",
    "rass_target",
    "nmb",
    "synchrony",
    "position",
    "head_of_bed_deg",
    "humidifier",
)


def _airway(course: Known) -> Section:
    latest = course.facts.latest_readings()
    placed = course.facts.airways[-1] if course.facts.airways else None
    lines = [_placed(placed.category, placed.size_mm)] if placed else []
    by_time: dict[str, list[str]] = {}
    for reading in (latest[code] for code in AIRWAY_FIELDS if code in latest):
        by_time.setdefault(_at(reading, course), []).append(_told(reading))
    lines += [f"{at}: {' · '.join(told)}" for at, told in by_time.items()]
    return Section("", "", lines=tuple(lines), empty_words="No airway charted.")


def _placed(category: str, size: object) -> str:
    label = FIELDS["airway_category"].label_of(category)
    return f"{label}, {size} mm inside" if size is not None else f"{label}, size not charted"


def _told(reading: Reading) -> str:
    field = FIELDS[reading.field]
    if not reading.has_value:
        return not_done(field.name, reading.reason)
    return f"{field.name} {reading_text(field, reading)} {field.unit}".rstrip()


def _todo(course: Known) -> Section:
    return Section("", "", due=due_lines(course))


def _if_then(_course: Known) -> Section:
    return Section("", "", empty_words="No if-then line written.")


def _gaps(course: Known) -> Section:
    found = worries_of(course.summary, course.now, course.clock, every=True)
    latest = course.facts.latest_readings()
    open_ticks = tuple(
        f"{FIELDS[code].label}: no, {_at(latest[code], course)}"
        for code in SAFETY_TICKS
        if code in latest and latest[code].word == "no"
    )
    unseen = tuple(FIELDS[code].label for code in SAFETY_TICKS if code not in latest)
    lines = (*open_ticks, *((f"Never ticked: {', '.join(unseen)}",) if unseen else ()))
    return Section(
        "",
        "",
        lines=lines,
        worries=tuple(worry for worry in found if worry.tone is Tone.NOT_EVALUABLE),
        empty_words="Nothing is missing from what the unit asks for.",
    )


def _at(reading: Reading, course: Known) -> str:
    return clock_time(reading.observed_at, course.now, course.clock)


def _restated(_course: Known) -> Section:
    return Section("", "", empty_words="Nothing asked or said back yet.")


_FILLED: dict[str, Callable[[Known], Section]] = {
    "concern": _concern,
    "danger": _danger,
    "course": _course,
    "changed": _changed,
    "now": _now,
    "airway": _airway,
    "todo": _todo,
    "if_then": _if_then,
    "gaps": _gaps,
    "restated": _restated,
}
