"""An index, explained: its formula, every input with its origin, its validity and its source."""

from collections.abc import Iterator, Mapping
from datetime import datetime
from decimal import Decimal

from msgspec.structs import replace

from app.charting.course import body_known, moments
from app.charting.derive import WorkedOut, work_out
from app.charting.facts import Assessment, BodySize
from app.charting.moment import Moment
from app.charting.terms import Origin, Term, Terms, terms_of
from app.pages.body_weight import predicted_weight
from app.pages.exact_words import exact_words
from app.pages.explained_inputs import Inputs
from app.pages.explained_page import Explanation, InputLine
from app.pages.explained_range import range_of
from app.pages.explained_row import ROWS, row_words
from app.pages.known import Known
from app.pages.number_links import RowLinks, number_href
from app.pages.series import Point
from app.pages.shown import Drawn, Shown
from app.pages.times import when_in
from app.pages.values import absent, of_index
from app.pages.what_it_needs import INDEX_BEHIND, needs_of
from app.physiology.answer import Answer, NotAvailable, Query, Value, Verdict
from app.physiology.catalogue import CATALOGUE, Index

WEIGHT = "pbw"

NO_INPUT_HELPS = "Nothing that could be charted here would give it. See when it holds."
INPUTS_DO_NOT_HOLD = "Its inputs are there, but they do not give a number that holds."
INPUTS_DISAGREE = "Inputs that fit together: these contradict each other, or one looks mistyped."

_NOTHING_CHARTED = NotAvailable("no row of this course could answer it")


def index_explained(key: str, point: Point | None, course: Known) -> Explanation:
    """The answer of an index in one row: its sum, or why there is none and what it would need."""
    index = CATALOGUE[key]
    if key == WEIGHT:
        return _weight(index, course)
    if point is None:
        shown = absent(index.short_label, Drawn.NOT_MEASURED, "not charted", key)
        bare = _bare(index, shown, course)
        needs = needs_of(index, _NOTHING_CHARTED, {}, None)
        return replace(bare, why_not=_sentence(_NOTHING_CHARTED.reason), needs=needs)
    row = point.row
    placed = replace(
        _bare(index, point.shown, course, row.observed_at),
        state=f"worked out from {ROWS[row.kind]}",
        when=when_in(row.observed_at, course.now, course.clock),
        author=row.author,
        notes=row_words(row, key, course),
    )
    if not row.counts:
        return replace(placed, why_not="The row does not count, so nothing is worked out from it.")
    return _of_row(placed, index, row, course)


def _bare(index: Index, shown: Shown, course: Known, at: datetime | None = None) -> Explanation:
    return Explanation(
        label=index.label,
        shown=_drawn(shown),
        state="not charted",
        judged=range_of(index.key, index.unit, shown, course, at or course.now),
        source=str(index.source),
        formula=index.formula,
        valid_when=index.valid_when,
        catalogue_href=f"/help/indices#{index.key}",
    )


def _drawn(shown: Shown) -> Shown:
    """Even what is drawn as nothing elsewhere has its place on its own page."""
    drawn = Drawn.NOT_VALID if shown.drawn is Drawn.NOTHING else shown.drawn
    return replace(shown, drawn=drawn, href="", word=shown.word if shown.text else "")


def _weight(index: Index, course: Known) -> Explanation:
    """Predicted body weight hangs on no row: the newest height counts for every one."""
    facts = course.facts
    body = body_known(facts)
    worked = predicted_weight(facts, adult_age_y=course.policy.adult_age_y)
    writer = Inputs(course, lambda key: number_href(facts.course_id, key))
    terms = {name: Term(value, body) for name, value in _size(body)} if body is not None else {}
    placed = replace(
        _bare(index, of_index(index, worked), course),
        state="worked out from the newest height",
        inputs=tuple(writer.line(name, origin) for name, origin in worked.inputs.items()),
        needs=needs_of(index, worked.answer, terms, None),
    )
    if body is not None:
        at = when_in(body.observed_at, course.now, course.clock)
        placed = replace(placed, when=at, author=body.author)
    return _answered(placed, worked.answer)


def _size(body: BodySize) -> tuple[tuple[str, Decimal | str | None], ...]:
    return (("height", body.height_cm), ("sex", body.pbw_sex or None))


def _of_row(placed: Explanation, index: Index, row: Assessment, course: Known) -> Explanation:
    answers = next(answers for known, answers in course.worked if known.id == row.id)
    moment = _moment(row, course)
    terms = terms_of(moment)
    worked = answers[index.key]
    links = RowLinks(course.facts.course_id, course.facts.assessments)
    writer = Inputs(course, lambda key: links.href(key, row), row.observed_at)
    with_inputs = replace(
        placed,
        inputs=tuple(_lines(index, worked, answers, terms, writer)),
        needs=needs_of(index, worked.answer, terms, moment),
        notes=(*placed.notes, *_from_set_peep(index, worked.answer, moment)),
    )
    return _answered(with_inputs, worked.answer)


def _from_set_peep(index: Index, answer: Answer, moment: Moment) -> Iterator[str]:
    """What set PEEP would give where total PEEP was measured, and why it does not (decision 4)."""
    if index.key not in ("driving_pressure", "compliance_static") or not isinstance(answer, Value):
        return
    row = moment.row
    read = {code: held for code, held in row.readings.items() if code != "peep_total"}
    other = work_out(replace(moment, row=replace(row, readings=read)), (index.key,))[index.key]
    if isinstance(other.answer, Value) and other.answer.shown != answer.shown:
        yield (
            f"From set PEEP it would be {other.answer.shown}. Total PEEP was measured in this "
            "check, and what lies above set PEEP is auto-PEEP: it counts."
        )


def _moment(row: Assessment, course: Known) -> Moment:
    around = moments(course.facts, course.site)
    return next(moment for moment in around if moment.row.id == row.id)


def _lines(
    index: Index,
    worked: WorkedOut,
    answers: Mapping[str, WorkedOut],
    terms: Terms,
    writer: Inputs,
) -> Iterator[InputLine]:
    """What was read, the sum's own inputs first; without a number, what is there of them."""
    has_number = isinstance(worked.answer, Value | Verdict)
    origins = worked.inputs if has_number else _there(index, terms)
    in_order = [wanted.name for wanted in index.inputs if wanted.name in origins]
    for name in in_order:
        yield writer.line(name, origins[name])
    for wanted in index.inputs:
        other = INDEX_BEHIND.get(wanted.name, "")
        if wanted.required and wanted.name not in origins and _has_number(other, answers):
            yield writer.worked(other, answers[other])


def _has_number(key: str, answers: Mapping[str, WorkedOut]) -> bool:
    return key in answers and isinstance(answers[key].answer, Value)


def _there(index: Index, terms: Terms) -> dict[str, Origin]:
    return {one.name: terms[one.name].origin for one in index.inputs if one.name in terms}


def _answered(placed: Explanation, answer: Answer) -> Explanation:
    if isinstance(answer, Value):
        exact = exact_words(answer.number, answer.unit)
        return replace(placed, exact=exact, basis=answer.basis, needs=())
    if isinstance(answer, Verdict):
        return replace(placed, basis=answer.basis, needs=())
    why_not = _sentence(answer.reason)
    return replace(placed, why_not=why_not, needs_words=_needs_words(answer, placed))


def _needs_words(answer: Answer, placed: Explanation) -> str:
    if isinstance(answer, Query):
        return INPUTS_DISAGREE
    if isinstance(answer, NotAvailable) and not answer.applicable:
        return NO_INPUT_HELPS
    return "" if placed.needs else INPUTS_DO_NOT_HOLD


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}."
