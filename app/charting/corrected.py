"""What stands on a corrected value, and what it was before the correction."""

from collections.abc import Mapping

from msgspec.structs import replace

from app.charting.course import moments
from app.charting.derive import work_out
from app.charting.facts import Assessment, BodySize, CourseFacts, Reading
from app.charting.site_figures import SiteInTime
from app.charting.terms import Origin, WorkedOut


def stands_on_a_correction(row: Assessment, worked: WorkedOut) -> bool:
    """Whether an input was corrected: a reading at any time, a height after the row was written."""
    return any(_was_corrected(origin, row) for origin in worked.inputs.values())


def _was_corrected(origin: Origin, row: Assessment) -> bool:
    if isinstance(origin, WorkedOut):
        return stands_on_a_correction(row, origin)
    if isinstance(origin, Reading):
        return origin.corrected_from is not None
    return isinstance(origin, BodySize) and body_then(origin, row) is not None


def body_then(body: BodySize, row: Assessment) -> BodySize | None:
    """The body size that the row's numbers were first worked out from, where it was another.

    None where it is the same as now, and where no height was known then.
    """
    then = body.as_of(row.recorded_at)
    if then is None or then.height_cm is None:
        return None
    is_other = (then.height_cm, then.pbw_sex) != (body.height_cm, body.pbw_sex)
    return then if is_other else None


def as_first_worked_out(
    facts: CourseFacts, key: str, site: SiteInTime
) -> Mapping[str, tuple[WorkedOut, BodySize]]:
    """An index as each row showed it before a height was corrected, with that height, by row.

    Rows that were written after the correction are left out.
    """
    found: dict[str, tuple[WorkedOut, BodySize]] = {}
    if not any(size.corrected_from for size in facts.body_sizes):
        return found
    for moment in moments(facts, site):
        then = body_then(moment.body, moment.row) if moment.body is not None else None
        if then is not None:
            found[moment.row.id] = (work_out(replace(moment, body=then))[key], then)
    return found
