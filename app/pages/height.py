"""Build the height page: what was held to be true, what a correction moved, and the form."""

from collections.abc import Iterator

from msgspec import Struct, field

from app.charting.course import body_known
from app.charting.facts import BodySize
from app.charting.fields import FIELDS
from app.charting.shown import shown
from app.charting.typed_check import Objection
from app.pages.assess_page import Option
from app.pages.corrections import OF_A_HEIGHT
from app.pages.frame import Frame
from app.pages.known import Known
from app.pages.row import asks_of
from app.pages.row_page import HeightPage, HeightVersion
from app.pages.times import clock_time, when_in
from app.pages.values import against, of_index
from app.physiology.catalogue import CATALOGUE


class HeightSent(Struct, frozen=True):
    """What somebody sent, and what held it up; empty for a first look."""

    height: str = ""
    method: str = ""
    sex: str = ""
    why: str = ""
    objections: tuple[Objection, ...] = ()
    accepted: frozenset[str] = field(default_factory=frozenset)
    error: str = ""
    trouble: str = ""


def height_page(frame: Frame, course: Known, sent: HeightSent, *, may_correct: bool) -> HeightPage:
    """The height of one patient, newest first; a first one needs no reason."""
    facts = course.facts
    body = body_known(facts)
    refused = [o.sentence for o in sent.objections if o.kind == "refused"]
    moved = tuple(_moved(course))
    method, sex = (sent.method, sent.sex or (body.pbw_sex if body is not None else ""))
    return HeightPage(
        frame=frame,
        banner=course.banner,
        heading="Height",
        versions=tuple(_versions(body, course)) if body is not None else (),
        moved=moved,
        moved_words="Rows written before the correction, as they read now" if moved else "",
        action=f"/courses/{facts.course_id}/height",
        seen=body.id if body is not None else "",
        typed=sent.height,
        methods=_options("height_method", method),
        sexes=_options("pbw_sex", sex),
        why_typed=sent.why,
        errors=tuple(filter(None, (sent.error, *refused))),
        asks=asks_of(sent.objections),
        accepted=tuple(sorted(sent.accepted)),
        trouble=sent.trouble,
        first=body is None or body.height_cm is None,
        may_correct=may_correct,
        back_href=f"/courses/{facts.course_id}",
    )


def _options(code: str, chosen: str) -> tuple[Option, ...]:
    return tuple(Option(c.code, c.label, c.code == chosen) for c in FIELDS[code].choices)


def _versions(body: BodySize, course: Known) -> Iterator[HeightVersion]:
    for version in reversed(body.versions):
        at = version.recorded_at or version.observed_at
        when = when_in(at, course.now, course.clock)
        holds = version is body
        yield HeightVersion(_words(version), version.author, when, version.why, holds)


def _words(size: BodySize) -> str:
    sex = FIELDS["pbw_sex"].label_of(size.pbw_sex).lower() or "sex not known"
    if size.height_cm is None:
        return f"no height, {sex}"
    method = FIELDS["height_method"].label_of(size.height_method).lower() or "method not stated"
    return f"{shown(FIELDS['height_cm'], size.height_cm)} cm, {method}, {sex}"


def _moved(course: Known) -> Iterator[str]:
    """Each row that reads otherwise now: what it is, what it was, and its side of the limit."""
    for row, answers in course.worked:
        limit = course.limit_at(OF_A_HEIGHT, row.observed_at)
        cell = against(of_index(CATALOGUE[OF_A_HEIGHT], answers[OF_A_HEIGHT]), limit, run=1)
        if row.id in course.was and cell.text:
            at = clock_time(row.observed_at, course.now, course.clock)
            words = (
                f"{at}: {cell.text} {cell.unit}",
                cell.beyond and cell.word,
                course.was[row.id],
            )
            yield ", ".join(filter(None, words))
