"""Build the page that charts a row again, on the patient whose numbers they are."""

from app.charting.check import read_check
from app.charting.correcting import typed_again
from app.charting.facts import Assessment
from app.charting.fields import FIELDS
from app.charting.reasons import not_done
from app.pages.frame import Frame
from app.pages.known import Known
from app.pages.row import KINDS, asks_of
from app.pages.row_page import AgainPage, AgainValue
from app.pages.site_words import SiteWords
from app.pages.times import when_in
from app.pages.values import reading_text


def again_page(
    frame: Frame, course: Known, row: Assessment, accepted: frozenset[str] = frozenset()
) -> AgainPage:
    """The row's values on the right patient's page; nothing of the chart they come from."""
    facts, now = course.facts, course.now
    read = read_check(
        typed_again(row, accepted),
        facts,
        now=now,
        site=course.site,
    )
    base = f"/courses/{facts.course_id}"
    return AgainPage(
        frame=frame,
        banner=course.banner,
        heading=f"{KINDS[row.kind.value]} charted elsewhere by mistake",
        observed=when_in(row.observed_at, now, course.clock),
        values=tuple(_values(row, course.words)),
        asks=asks_of(read.objections),
        accepted=tuple(sorted(accepted)),
        refused=tuple(o.sentence for o in read.objections if o.kind == "refused"),
        action=f"{base}/again/{row.id}",
        back_href=base,
    )


def _values(row: Assessment, words: SiteWords) -> list[AgainValue]:
    found: list[AgainValue] = []
    for code in FIELDS:
        held = row.readings.get(code)
        if held is not None:
            known = words.fields[code]
            text = f"{reading_text(known, held)} {known.unit}".strip()
            missing = not_done(known.name, held.reason)
            found.append(AgainValue(known.label, text if held.has_value else missing))
    return found
