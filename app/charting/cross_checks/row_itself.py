"""The row as a whole: its time, its machine, and whether it looks like this patient's at all.

Bounds are engineering judgement.
"""

from app.charting.act_time import is_to_come
from app.charting.cross_checks.finding import Findings, Seen
from app.charting.facts import Kind, State
from app.charting.field import Manner, Shape
from app.charting.fields import FIELDS
from app.charting.in_force import going_on
from app.charting.questions import is_far

MANY_JUMPS = 3
MANY_REPEATS = 5
"""Measured values that all repeat: one volume in fifty does by chance, five at once hardly ever."""


def in_the_future(seen: Seen) -> Findings:
    """Blocked: observed more than two minutes from now."""
    if is_to_come(seen.row.observed_at, seen.context.now):
        yield seen.block("in_the_future", (), "The time observed is still to come.")


def before_support(seen: Seen) -> Findings:
    """Asked: observed before support started."""
    started = seen.context.support_started_at
    if started is not None and seen.row.observed_at < started:
        yield seen.question(
            "before_support", (), "The time observed is before support started. Wrong day?"
        )


def after_end(seen: Seen) -> Findings:
    """Asked: observed after the course had ended."""
    ended = seen.context.ended_at
    if ended is not None and seen.row.observed_at > ended:
        yield seen.question(
            "after_end", (), "The course had ended by the time observed. Is the time right?"
        )


def while_away(seen: Seen) -> Findings:
    """Asked: observed while the patient is charted as away or the machine as in standby."""
    for kind, words in (("away", "away from the unit"), ("standby", "in standby")):
        if seen.row.mode_family != "standby" and going_on(
            seen.context.events, kind, seen.row.observed_at
        ):
            sentence = f"At this time the patient is charted as {words}. Is the time right?"
            yield seen.question(f"while_{kind}", (), sentence)


def device_elsewhere(seen: Seen) -> Findings:
    """Blocked: the machine is charted at another open patient; the assessment itself is not."""
    where = seen.context.device_elsewhere
    if where and seen.word("device_id"):
        sentence = f"This ventilator is charted at {where}. Was it moved?"
        yield seen.block("device_elsewhere", ("device_id",), sentence)


def many_jumps(seen: Seen) -> Findings:
    """Asked: three or more values far from the last ones at once: is it this patient?"""
    far = tuple(
        code
        for code, reading in seen.row.readings.items()
        if reading.number is not None
        and is_far(FIELDS[code], reading.number, seen.context.previous.get(code))
    )
    if len(far) >= MANY_JUMPS:
        names = ", ".join(FIELDS[code].name for code in far)
        sentence = f"{names} are far from the last values. Is it the right patient?"
        yield seen.question("many_jumps", far, sentence)


def everything_repeats(seen: Seen) -> Findings:
    """Asked: five or more measured numbers and every one as in the row before."""
    if seen.row.kind is not Kind.FULL:
        return
    measured = [
        code
        for code, reading in seen.row.readings.items()
        if FIELDS[code].manner is Manner.MEASURED
        and FIELDS[code].shape is Shape.NUMBER
        and reading.state is not State.NOT_MEASURED
    ]
    if len(measured) < MANY_REPEATS:
        return
    if all(seen.number(code) == seen.before(code) for code in measured):
        sentence = "Every measured value is as it was in the last row. Were they read again?"
        yield seen.question("everything_repeats", tuple(measured), sentence)


def sedation_score_under_block(seen: Seen) -> Findings:
    """Noted: a RASS under a neuromuscular block says nothing (Sessler 2002, from memory)."""
    if seen.number("rass") is not None and seen.word("nmb") == "yes":
        sentence = "RASS cannot be read under a neuromuscular block."
        yield seen.note("sedation_score_under_block", ("rass", "nmb"), sentence)
