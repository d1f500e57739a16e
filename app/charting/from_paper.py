"""A check typed in from paper: seen in the past, written by somebody, and not there already."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from app.charting.facts import Assessment, CourseFacts
from app.charting.fields import FIELDS
from app.charting.shown import shown
from app.charting.typed_check import Objection, TypedCheck

PAPER = "paper"
"""Where such a row comes from."""

IN_THE_PAST = timedelta(minutes=5)
"""What was seen later than this is no check from paper (engineering judgement)."""

SAME_CHECK = timedelta(minutes=10)
"""Two checks of a kind this near may be one, written down twice (engineering judgement)."""

LONGEST_NAME = 80
COMPARED = (
    "fio2_set",
    "peep_set",
    "resp_rate_obs",
    "tidal_volume_obs",
    "plateau_pressure_obs",
    "spo2",
)


def paper_objections(check: TypedCheck, facts: CourseFacts, now: datetime) -> Iterator[Objection]:
    """What holds a check from paper up; nothing for any other check.

    The time is refused unless it is past, the writer unless there is one; a check of the same kind
    within ten minutes of one that stands is asked about, with both in words.
    """
    if check.source != PAPER:
        return
    if not check.paper_by.strip():
        yield Objection("paper_by", "refused", "Say who wrote it on paper.")
    if check.observed_at > now - IN_THE_PAST:
        sentence = "Type the time that stands on the paper; this one is now."
        yield Objection("observed_at", "refused", sentence)
    for row in facts.assessments:
        apart = abs(row.observed_at - check.observed_at)
        if row.kind is check.kind and not row.struck and apart <= SAME_CHECK:
            yield Objection("", "asked", _both(row, check), f"from_paper:{row.id}")


def _both(row: Assessment, check: TypedCheck) -> str:
    minutes = round((check.observed_at - row.observed_at).total_seconds() / 60)
    when = "at this very time" if minutes == 0 else f"{_apart(minutes)} this time"
    return (
        f"{row.author} charted a check {when}: {_there(row)}."
        f" On the paper stands {_here(check)}. Is it another check?"
    )


def _apart(minutes: int) -> str:
    unit = "minute" if abs(minutes) == 1 else "minutes"
    return f"{abs(minutes)} {unit} {'before' if minutes > 0 else 'after'}"


def _there(row: Assessment) -> str:
    told = [
        f"{FIELDS[code].name} {shown(FIELDS[code], reading.number)}"
        for code in COMPARED
        if (reading := row.readings.get(code)) is not None and reading.number is not None
    ]
    return ", ".join(told) or "no number of those compared"


def _here(check: TypedCheck) -> str:
    told = [f"{FIELDS[code].name} {check.typed[code]}" for code in COMPARED if code in check.typed]
    return ", ".join(told) or "no number of those compared"
