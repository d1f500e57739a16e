"""Build the page of one draft: every value in sight before somebody signs beside its author."""

from collections.abc import Iterator

from msgspec import Struct
from msgspec.structs import replace

from app.charting.drafted import DraftRead, fingerprint
from app.charting.facts import Assessment, Reading
from app.charting.field import Group
from app.charting.fields import FIELDS
from app.charting.mode_families import family_of
from app.charting.typed_check import Objection
from app.pages.frame import Frame
from app.pages.grid import INDICES
from app.pages.group_names import GROUP_NAMES
from app.pages.known import Known
from app.pages.shown import Shown
from app.pages.site_words import SiteWords
from app.pages.times import clock_time
from app.pages.unsigned import KINDS, draft_href
from app.pages.unsigned_page import DraftGroup, DraftPage, DraftValue, OpenQuestion
from app.pages.values import against, as_number, of_index, of_reading
from app.physiology.catalogue import CATALOGUE
from app.rules.bed_summary import work_out

HEADINGS = {Group.IDENTITY: "Mode", **GROUP_NAMES}
"""Every group that a field can stand in, in the order of the round."""


class Signer(Struct, frozen=True):
    """What the viewer may do with the draft, and what they sent that could not be done."""

    staff_id: str
    may_sign: bool
    accepted: frozenset[str] = frozenset()
    strike_typed: str = ""
    strike_error: str = ""


def draft_page(
    frame: Frame, course: Known, row: Assessment, read: DraftRead, signer: Signer
) -> DraftPage:
    """One draft; its author can strike it, and whoever may sign somebody else's can do both."""
    facts = course.facts
    base = draft_href(facts.course_id, row.id)
    own = row.author_id == signer.staff_id
    may_sign = signer.may_sign and not own
    return DraftPage(
        frame=frame,
        banner=course.banner,
        heading=f"Unsigned draft: {KINDS[row.kind.value].lower()} of {_at(row, course)}",
        words=_words(row, course),
        groups=tuple(_groups(row, course.words)),
        if_signed=tuple(_if_signed(row, course)),
        remarks=tuple(finding.sentence for finding in read.notes),
        questions=tuple(_questions(read, signer)) if may_sign else (),
        seen=fingerprint(row),
        sign_action=f"{base}/sign" if may_sign and read.can_be_signed else "",
        why_not=_why_not(read, own=own, may_sign=may_sign),
        strike_action=f"{base}/strike" if own or signer.may_sign else "",
        strike_typed=signer.strike_typed,
        strike_error=signer.strike_error,
        back_href=f"/courses/{facts.course_id}",
    )


def _words(row: Assessment, course: Known) -> str:
    written = clock_time(row.recorded_at, course.now, course.clock)
    mode = f", on {family_of(row.mode_family).label.lower()}" if row.mode_family else ""
    return f"Charted by {row.author}, written {written}{mode}. No fact, and in no handoff as one."


def _at(row: Assessment, course: Known) -> str:
    return clock_time(row.observed_at, course.now, course.clock)


def _why_not(read: DraftRead, *, own: bool, may_sign: bool) -> str:
    if own:
        return "You charted this: somebody else signs beside you."
    if may_sign and not read.can_be_signed:
        return "This cannot be signed as it stands: see what is refused below."
    return ""


def _groups(row: Assessment, words: SiteWords) -> Iterator[DraftGroup]:
    for group, heading in HEADINGS.items():
        held = [row.readings[code] for code in FIELDS if code in row.readings]
        here = tuple(_value(each, words) for each in held if FIELDS[each.field].group is group)
        if here:
            yield DraftGroup(heading, here)


def _value(reading: Reading, words: SiteWords) -> DraftValue:
    """The value as it was read, and as it was typed where that reads otherwise."""
    field = words.fields[reading.field]
    shown = of_reading(field, reading)
    same = as_number(reading.raw) == reading.number or reading.raw in (shown.text, reading.word)
    return DraftValue(field.label, shown, "" if same else reading.raw, reading.question)


def _if_signed(row: Assessment, course: Known) -> Iterator[Shown]:
    """What the draft's numbers would mean on this chart; nothing of it is in force."""
    signed = tuple(
        replace(each, signed=True) if each.id == row.id else each
        for each in course.facts.assessments
    )
    worked = work_out(replace(course.facts, assessments=signed), course.policies)
    answers = next((found for each, found in worked if each.id == row.id), {})
    for key in INDICES:
        shown = of_index(CATALOGUE[key], answers[key]) if key in answers else None
        if shown is not None and shown.text:
            limit = course.limit_at(key, row.observed_at)
            yield against(shown, limit, run=1)


_ANSWERS = {"asked": "Yes, as charted", "blocked": "Yes, as found"}


def _questions(read: DraftRead, signer: Signer) -> Iterator[OpenQuestion]:
    """What is open, after what this viewer has answered already."""
    told = (each for each in read.answered if each.key in signer.accepted)
    for objection in (*told, *read.still_open):
        yield _question(objection, signer)


def _question(objection: Objection, signer: Signer) -> OpenQuestion:
    field = FIELDS.get(objection.field)
    return OpenQuestion(
        label=field.label if field is not None else "This check",
        words=objection.sentence,
        key=objection.key if objection.kind in _ANSWERS else "",
        accepted=objection.key in signer.accepted,
        answer=_ANSWERS.get(objection.kind, ""),
    )
