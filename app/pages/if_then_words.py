"""An if-then line in words, and the first halves that a patient's own limits offer."""

from collections.abc import Iterator

from app.charting.handing_over import IfThen
from app.pages.flag_words import with_site_unit
from app.pages.handoff_page import Choice, IfThenLine
from app.pages.known import Known
from app.pages.times import when_in
from app.pages.worries import label_of


def if_words(line: IfThen) -> str:
    """ "SpO2 under 88 for 5 min"."""
    lasting = f"for {line.lasting}" if line.lasting else ""
    return " ".join(part for part in (line.measure, line.comparison, line.value, lasting) if part)


def if_then_line(line: IfThen, course: Known) -> IfThenLine:
    """The line as a page draws it."""
    within = f" within {line.within_min:f} min" if line.within_min is not None else ""
    return IfThenLine(
        key=line.id,
        if_words=if_words(line),
        then_words=line.action,
        call_words=f"{line.call}{within}",
        tried=line.tried,
        author=line.author,
        when=when_in(line.written_at, course.now, course.clock),
    )


def offered_ifs(course: Known) -> tuple[Choice, ...]:
    """First halves from this patient's limits, as `limit_key side value`; none for a child."""
    return tuple(_offered(course)) if course.summary.adult else ()


def _offered(course: Known) -> Iterator[Choice]:
    for key, limit in course.policy_at(course.now).limits.items():
        low = course.facts.targets.spo2_low if limit.of_patient else limit.under
        ends = {"under": low, "over": limit.over}
        for side, end in ends.items():
            if end is not None:
                written = with_site_unit(key, f"{end:f}", course.words)
                told = f"{label_of(key)} {side} {written}"
                yield Choice(f"{key} {side} {end:f}", told)
