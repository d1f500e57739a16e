"""Before a form is saved: what it says against what others charted since it was opened."""

from collections.abc import Mapping, Sequence

from msgspec import Struct, field

from app.charting.check import TypedCheck
from app.charting.facts import CourseFacts
from app.charting.meeting import Choice, Difference, meet, settle
from app.record.opening import Opening, as_known_then, moved_on
from app.record.writing import Writing


class Opened(Struct, frozen=True):
    """How far the record had come when the form was opened, and what was decided since, by key."""

    at: Opening
    choices: Mapping[str, str] = field(default_factory=dict)


class ChartMovedOn(ValueError):  # noqa: N818 - it names a state that a page has words for
    """Nothing was saved: the chart says otherwise meanwhile, and somebody has to decide."""

    def __init__(self, differences: Sequence[Difference]) -> None:
        super().__init__("the chart moved on since the form was opened")
        self.differences = tuple(differences)


def meet_the_chart(
    writing: Writing, facts: CourseFacts, check: TypedCheck, opened: Opened
) -> tuple[TypedCheck, tuple[Difference, ...]]:
    """The form with every decision carried out, inside the write that will save it.

    With it come the differences, all of them, while one is undecided; none once nothing is. What
    was decided stands in the audit.
    """
    if not moved_on(writing.session, facts.course_id, opened.at):
        return check, ()
    before = as_known_then(writing.session, facts, opened.at)
    differences = meet(before, facts, check, opened.at.at)
    settled = settle(check, differences, opened.choices)
    if settled.still_open:
        return settled.check, differences
    if differences:
        detail = {choice.value: _fields(differences, opened, choice) for choice in Choice}
        writing.audit("settle_differences", course_id=facts.course_id, detail=detail)
    return settled.check, ()


def _fields(differences: Sequence[Difference], opened: Opened, choice: Choice) -> list[str]:
    """The fields that were decided so; for the audit, which names no value."""
    chosen = [d for d in differences if opened.choices.get(d.key) == choice]
    return sorted({said.field for d in chosen for said in (*d.mine, *d.theirs)})
