"""Build the handoff page: fixed headings, filled from the record, with a person's words apart.

The order follows what a study of structured handoff put first: severity, then what changed, what is
to do, if-then plans, and a restatement by the receiver (N Engl J Med 2014;371:1803, abstract).
"""

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta

from app.charting.drafted import drafts_of
from app.charting.facts import HandoffNote
from app.charting.fields import FIELDS
from app.charting.shown import with_unit
from app.pages.bed import now_groups
from app.pages.changed import NOTHING, changed_line, changes_of, since_handing_over
from app.pages.due_words import due_lines, nothing_due
from app.pages.episode_words import NOT_DANGEROUS, going_lines, weaning_lines
from app.pages.frame import Frame
from app.pages.handing_over import LEVEL_WORDS, standing_words, thread_of
from app.pages.handoff_airway import airway_section
from app.pages.handoff_danger import dangers
from app.pages.handoff_fold import folded
from app.pages.handoff_forms import Reader, deeds_of
from app.pages.handoff_page import HandoffPage, Section, Words
from app.pages.handoff_plan import plan_forms, task_lines
from app.pages.if_then_words import if_then_line
from app.pages.known import Known
from app.pages.liberation_words import liberation_lines
from app.pages.muted_words import CLOSED_DETAIL, muted_words
from app.pages.shown import Tone
from app.pages.times import clock_time, full_time, when_in
from app.pages.worries import worries_of
from app.rules.handoff_state import concern_of, handoff_of
from app.rules.unit_clock import UnitClock

HEADINGS: tuple[tuple[str, str, str], ...] = (
    ("concern", "Concern", "Low, raised or high, and one reason"),
    ("danger", "Danger", "What could kill in the next hour, and what to have at hand"),
    ("course", "Why on support, and the course", "The course in one or two sentences"),
    ("changed", "What changed", "Why, and how the patient answered"),
    ("now", "Support, lungs, gas", "How you read these numbers"),
    ("airway", "Airway, secretions, sedation", "What the numbers do not say"),
    ("todo", "Still to do", "What the tasks wait for"),
    ("if_then", "If … then …", "None expected, because …"),
    ("call", "Whom to call tonight", "Names, roles and numbers"),
    ("gaps", "Gaps and unknowns", "What you are not sure of"),
    ("restated", "Questions and restatement", ""),
)
"""Key, heading and prompt, in the order of the page; the order is part of the product."""

SECTIONS = {key: heading for key, heading, _ in HEADINGS}

SAFETY_TICKS = tuple(code for code in FIELDS if code.startswith("safe_"))

NOT_MEASURED = frozenset({"estimated", "reported"})
"""Ways to find a height without measuring anything."""

SHIFT = timedelta(hours=12)
TASKS = frozenset({"task"})
"""Tasks stand below what the rules make due, with what became of each."""


def handoff_page(
    frame: Frame, course: Known, *, editable: bool, reader: Reader | None = None
) -> HandoffPage:
    """One patient for the next shift, as known now; with a reader, what they can do about it."""
    facts, now, clock = course.facts, course.now, course.clock
    base = f"/courses/{facts.course_id}"
    handoff = handoff_of(facts.handoffs)
    standing, note = standing_words(handoff, clock, now)
    if facts.ended_at is not None and course.summary.muted is not None:
        standing, note = muted_words(course.summary.muted, now, clock), f"{CLOSED_DETAIL}."
        editable, reader = False, None
    return HandoffPage(
        frame=frame,
        banner=course.banner,
        standing=standing,
        standing_note=note,
        shift_words=f"This shift began {clock_time(clock.shift_start(now), now, clock)}.",
        sections=sections_of(course, editable=editable),
        editable=editable,
        note_action=f"{base}/handoff/notes",
        back_href=base,
        printed=full_time(now, clock),
        standing_href=f"{base}/handoff/standing?mark={reader.mark}" if reader else "",
        deeds=deeds_of(course, reader) if reader else None,
        plan=plan_forms(course, reader.save_key) if reader and editable else None,
        folded=folded(course),
        changed_words=changed_line(course),
    )


def sections_of(course: Known, *, editable: bool) -> tuple[Section, ...]:
    """The headings in their order, filled."""
    return tuple(
        _section(key, heading, prompt, course, editable=editable)
        for key, heading, prompt in HEADINGS
    )


def _section(key: str, heading: str, prompt: str, course: Known, *, editable: bool) -> Section:
    filled = _FILLED[key](course)
    return Section(
        key=key,
        heading=heading,
        note=filled.note,
        lines=filled.lines,
        seen=filled.seen,
        numbers=filled.numbers,
        changes=filled.changes,
        due=filled.due,
        worries=filled.worries,
        words=_words(course.facts.notes, key, course.now, course.clock),
        writable=editable and bool(prompt) and key != "concern",
        prompt=prompt,
        empty_words="" if _says_something(filled) else filled.empty_words,
        lede=filled.lede,
        words_label=filled.words_label,
        tasks=filled.tasks,
        if_thens=filled.if_thens,
        thread=filled.thread,
    )


def _says_something(filled: Section) -> bool:
    parts = (filled.lines, filled.seen, filled.numbers, filled.changes, filled.due, filled.worries)
    return any((*parts, filled.tasks, filled.if_thens, filled.thread))


def _words(
    notes: tuple[HandoffNote, ...], key: str, now: datetime, clock: UnitClock
) -> Words | None:
    newest = next((note for note in reversed(notes) if note.heading == key), None)
    if newest is None or not newest.words:
        return None
    return Words(newest.words, newest.author, when_in(newest.observed_at, now, clock))


def _concern(course: Known) -> Section:
    found = worries_of(course.summary, course.now, course.clock, words=course.words)
    level, _ = concern_of(course.facts)
    return Section(
        "",
        "",
        note="a person decides; the record only suggests",
        worries=tuple(worry for worry in found if worry.tone is not Tone.NOT_EVALUABLE),
        empty_words="No flag raised." if level else "No flag raised. Concern not stated.",
        lede=f"{LEVEL_WORDS[level]}." if level else "",
    )


def _danger(course: Known) -> Section:
    lines = tuple(dangers(course))
    return Section("", "", lines=lines, empty_words="Nothing of this kind is charted.")


def _course(course: Known) -> Section:
    facts, missing = course.facts, "The reason for support is not charted."
    told = liberation_lines(facts, course.now, course.clock)
    reason = facts.identity.reason_for_support or (missing if told else "")
    lines = (reason, *told) if reason else ()
    return Section("", "", lines=lines, empty_words=missing)


def _changed(course: Known) -> Section:
    since = since_handing_over(course.facts, course.now, course.clock)
    return Section(
        "",
        "",
        note=f"{since.words}; steps within noise left out",
        changes=changes_of(course, since),
        empty_words=NOTHING,
    )


def _now(course: Known) -> Section:
    lines = going_lines(course.facts, course.policy, course.clock, course.now, NOT_DANGEROUS)
    weaning = weaning_lines(course.facts, course.clock, course.now)
    return Section("", "", lines=(*lines, *weaning), numbers=now_groups(course))


def _todo(course: Known) -> Section:
    due = due_lines(course.summary, course.now, course.clock, ahead=SHIFT, without=TASKS)
    muted = course.summary.muted
    note = nothing_due(course.summary, course.now, course.clock) if muted else ""
    return Section("", "", note=note, due=due, tasks=task_lines(course))


def _if_then(course: Known) -> Section:
    lines = tuple(if_then_line(line, course) for line in course.facts.if_thens)
    return Section(
        "",
        "",
        if_thens=lines,
        words_label="None expected" if not lines else "",
        empty_words="No if-then line written.",
    )


def _call(_course: Known) -> Section:
    return Section("", "", empty_words="Nobody is named.")


def _gaps(course: Known) -> Section:
    found = worries_of(course.summary, course.now, course.clock, every=True, words=course.words)
    latest = course.facts.latest_readings()
    said_no = [code for code in SAFETY_TICKS if code in latest and latest[code].word == "no"]
    times = [clock_time(latest[code].observed_at, course.now, course.clock) for code in said_no]
    open_ticks = tuple(
        f"{FIELDS[code].label}: no, {at}" for code, at in zip(said_no, times, strict=True)
    )
    unseen = tuple(FIELDS[code].label for code in SAFETY_TICKS if code not in latest)
    never = (f"Never ticked: {', '.join(unseen)}",) if unseen else ()
    lines = (*open_ticks, *never, *_height_not_measured(course), *_unsigned(course))
    return Section(
        "",
        "",
        lines=lines,
        worries=tuple(worry for worry in found if worry.tone is Tone.NOT_EVALUABLE),
        empty_words="Nothing is missing from what the unit asks for.",
    )


def _height_not_measured(course: Known) -> Iterator[str]:
    """By eye, predicted weight is off by over 10 % in 4 of 10 (Respir Care 2014;59(7):1025)."""
    size = course.facts.body_sizes[-1] if course.facts.body_sizes else None
    if size is None or size.height_cm is None or size.height_method not in NOT_MEASURED:
        return
    if not course.summary.adult:
        return
    height = with_unit(FIELDS["height_cm"], size.height_cm)
    method = FIELDS["height_method"].label_of(size.height_method).lower()
    yield f"Height {height} is {method}: predicted weight and mL/kg rest on it"


def _unsigned(course: Known) -> Iterator[str]:
    """That there are drafts, and no number of them: what nobody has signed is not handed over."""
    for row in drafts_of(course.facts):
        at = clock_time(row.observed_at, course.now, course.clock)
        yield f"Unsigned draft by {row.author}, {at}: not in this handoff as fact"


def _restated(course: Known) -> Section:
    thread = thread_of(course.facts, course.clock, course.now)
    return Section("", "", thread=thread, empty_words="Nothing offered, asked or said back yet.")


_FILLED: dict[str, Callable[[Known], Section]] = {
    "concern": _concern,
    "danger": _danger,
    "course": _course,
    "changed": _changed,
    "now": _now,
    "airway": airway_section,
    "todo": _todo,
    "if_then": _if_then,
    "call": _call,
    "gaps": _gaps,
    "restated": _restated,
}
