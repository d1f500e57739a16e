"""The gases before and after a turn, from the gases that are charted: none is typed twice."""

from collections.abc import Iterator
from datetime import timedelta

from app.charting.event_facts import Event
from app.charting.facts import Assessment, Kind
from app.charting.fields import FIELDS
from app.charting.shown import with_unit
from app.pages.gas_words import specimen_words
from app.pages.known import Known
from app.pages.times import clock_time
from app.physiology.answer import Value

LOOKED_BACK = timedelta(hours=12)
"""A gas from longer before the turn says little of it (engineering judgement)."""


def around_turn(event: Event, course: Known) -> Iterator[str]:
    """The newest gas before the turn, and the first one in prone."""
    gases = [(row, answers) for row, answers in course.worked if row.kind is Kind.GAS]
    before = [
        each
        for each in gases
        if timedelta(0) <= event.observed_at - each[0].observed_at <= LOOKED_BACK
    ]
    after = [
        each
        for each in gases
        if each[0].observed_at > event.observed_at
        and (event.ended_at is None or each[0].observed_at <= event.ended_at)
    ]
    for words, found in (("before the turn", before[-1:]), ("in prone", after[:1])):
        if not found:
            yield f"No gas charted {words}"
        for row, answers in found:
            ratio = answers["pf_ratio"].answer
            shown = f"P/F {ratio.shown}" if isinstance(ratio, Value) else "no P/F"
            at = clock_time(row.observed_at, course.now, course.clock)
            told = filter(None, (_read(row, course), specimen_words(row), shown))
            yield f"Gas {words}: {', '.join(told)}, {at}"


def _read(row: Assessment, course: Known) -> str:
    return ", ".join(
        f"{FIELDS[code].name} {with_unit(course.words.fields[code], reading.number)}"
        for code in ("ph", "paco2", "pao2")
        if (reading := row.readings.get(code)) is not None and reading.number is not None
    )
