"""Build the page of one row: what was charted, what it was before, how it is put right."""

from collections.abc import Iterator, Sequence

from msgspec import Struct, field
from msgspec.structs import replace

from app.charting.facts import Assessment, CourseFacts, Reading
from app.charting.field import Field, Manner
from app.charting.fields import FIELDS
from app.charting.mode_families import family_of
from app.charting.reasons import NOT_MEASURED_REASONS, not_done
from app.charting.typed_check import Objection
from app.pages.assess_page import Option
from app.pages.frame import Frame
from app.pages.grid import row_notes
from app.pages.group_names import GROUP_NAMES
from app.pages.known import Known
from app.pages.row_page import AskedFirst, OldValue, RowGroup, RowPage, RowValue, StrikeForm
from app.pages.shown import Shown
from app.pages.times import clock_time, when_in
from app.pages.values import of_reading, reading_text

KINDS = {"full": "Full check", "brief": "Brief check", "gas": "Blood gas", "event": "Event"}


class Sent(Struct, frozen=True):
    """What somebody sent to put a row right, and what held it up; empty for a first look."""

    version: str = ""
    text: str = ""
    not_measured: str = ""
    why: str = ""
    objections: tuple[Objection, ...] = ()
    accepted: frozenset[str] = field(default_factory=frozenset)
    error: str = ""
    trouble: str = ""
    strike_error: str = ""
    beside: tuple[tuple[str, str], ...] = ()
    """Label and text of what stands in no form of the page any more."""


class Hands(Struct, frozen=True):
    """What the viewer may do with the row."""

    may_correct: bool
    staff_id: str
    beds: Sequence[str] = ()
    """Codes of the unit's other taken beds; a bed is no identifier, so nobody is named."""


def row_page(frame: Frame, course: Known, row: Assessment, hands: Hands, sent: Sent) -> RowPage:
    """One row; a struck one can only be read."""
    facts, now, clock = course.facts, course.now, course.clock
    base = f"/courses/{facts.course_id}"
    observed, written = (clock_time(m, now, clock) for m in (row.observed_at, row.recorded_at))
    mode = f", {family_of(row.mode_family).label.lower()}" if row.mode_family else ""
    return RowPage(
        frame=replace(frame, unsaved=sent.beside),
        banner=course.banner,
        heading=f"{KINDS[row.kind.value]} of {observed}",
        written=f"Written {written} by {row.author}{mode}",
        notes=tuple(note for note in row_notes(row, now, clock) if not note.startswith("struck")),
        struck=struck_words(row, course),
        trouble=sent.trouble,
        groups=tuple(_groups(row, course, sent)),
        correct_action=f"{base}/rows/{row.id}/values" if hands.may_correct else "",
        strike=_strike(facts, row, hands, sent),
        back_href=base,
    )


def struck_words(row: Assessment, course: Known) -> str:
    """ "Struck 16:02 by Birch: wrong bed"; empty while the row stands."""
    if not row.struck or row.struck_at is None:
        return ""
    at = clock_time(row.struck_at, course.now, course.clock)
    return f"Struck {at} by {row.struck_by}: {row.struck}"


def _strike(facts: CourseFacts, row: Assessment, hands: Hands, sent: Sent) -> StrikeForm | None:
    if row.struck or not hands.may_correct:
        return None
    base = f"/courses/{facts.course_id}/rows/{row.id}"
    return StrikeForm(
        action=f"{base}/strike",
        typed=sent.why if sent.strike_error else "",
        error=sent.strike_error,
        is_mine=row.author_id == hands.staff_id,
        again_action=f"{base}/elsewhere",
        beds=tuple(Option(code, code) for code in hands.beds),
    )


def _groups(row: Assessment, course: Known, sent: Sent) -> Iterator[RowGroup]:
    for group, heading in GROUP_NAMES.items():
        codes = [c for c in FIELDS if c in row.readings and FIELDS[c].group is group]
        if codes:
            values = tuple(
                _value(course.words.fields[c], row.readings[c], row, course, sent) for c in codes
            )
            yield RowGroup(heading, values)


def _value(known: Field, held: Reading, row: Assessment, course: Known, sent: Sent) -> RowValue:
    mine = sent if sent.version == held.id else Sent()
    now, clock = course.now, course.clock
    by = f"{held.author}, {clock_time(held.recorded_at, now, clock)}" if held.corrected_from else ""
    return RowValue(
        code=known.code,
        label=known.label,
        shown=_as_it_stands(known, held, row),
        by=by,
        why=held.why,
        old=tuple(_old(known, held, course)),
        version=held.id,
        shape=known.shape.value,
        typed=mine.text,
        options=tuple(Option(c.code, c.label, c.code == mine.text) for c in known.choices),
        reasons=_reasons(known, mine.not_measured),
        why_typed=mine.why,
        error=mine.error or _refused(mine),
        asks=asks_of(mine.objections),
        accepted=tuple(sorted(mine.accepted)),
        open=bool(mine.version),
    )


def _as_it_stands(known: Field, held: Reading, row: Assessment) -> Shown:
    """Without "was ...": what it was before stands beneath, struck."""
    word = "" if held.has_value else not_done(known.name, held.reason)
    return replace(of_reading(known, held), word=word, struck=bool(row.struck))


def _reasons(known: Field, chosen: str) -> tuple[Option, ...]:
    if known.manner is not Manner.MEASURED:
        return ()
    return tuple(Option(r.code, r.label, r.code == chosen) for r in NOT_MEASURED_REASONS)


def _refused(sent: Sent) -> str:
    return " ".join(o.sentence for o in sent.objections if o.kind == "refused")


def asks_of(objections: Sequence[Objection]) -> tuple[AskedFirst, ...]:
    """The open questions, each with the word that answers it."""
    words = {"asked": "Yes, as typed", "blocked": "As found"}
    return tuple(
        AskedFirst(objection.key, objection.sentence, words[objection.kind])
        for objection in objections
        if objection.kind in words
    )


def _old(known: Field, held: Reading, course: Known) -> Iterator[OldValue]:
    before = held.corrected_from
    while before is not None:
        missing = not_done(known.name, before.reason)
        text = f"{reading_text(known, before)} {known.unit}".strip()
        when = when_in(before.recorded_at, course.now, course.clock)
        yield OldValue(text if before.has_value else missing, before.author, when, before.why)
        before = before.corrected_from
