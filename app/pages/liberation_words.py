"""Where a patient stands on the way off the ventilator, in lines for bed page and handoff."""

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta

from app.charting.airways import REMOVED, has_tube
from app.charting.facts import Airway, CourseFacts
from app.charting.liberation import reintubation_words, reintubations
from app.charting.off_ventilator import off_sessions
from app.pages.times import clock_time
from app.rules.off_ventilator import time_by_day
from app.rules.unit_clock import UnitClock

DAYS_BACK = 2
"""Calendar days of time off the ventilator that are shown, today's included."""

SHOWN_FOR = timedelta(days=3)
"""How long a tube that came out and went in again is told (engineering judgement)."""


def liberation_lines(facts: CourseFacts, now: datetime, clock: UnitClock) -> tuple[str, ...]:
    """The removal that holds, a re-intubation of late, and hours through a tracheostomy."""
    known = [airway for airway in facts.airways if airway.observed_at <= now]
    return (*_tube(known, now, clock), *_time_off(facts, now, clock))


def _tube(known: Sequence[Airway], now: datetime, clock: UnitClock) -> Iterator[str]:
    again = reintubations(known)
    if again and now - again[-1].in_at < SHOWN_FOR:
        at = clock_time(again[-1].in_at, now, clock)
        yield f"Re-intubated {at}, {reintubation_words(again[-1])}"
    out = next((row for row in reversed(known) if row.act == REMOVED), None)
    if out is not None and not any(has_tube(row) for row in known[known.index(out) :]):
        how = f", {out.words}" if out.words else ""
        yield f"Tube out since {clock_time(out.observed_at, now, clock)}{how}"


def _time_off(facts: CourseFacts, now: datetime, clock: UnitClock) -> Iterator[str]:
    spans = off_sessions(facts)
    today = clock.day(now)
    told = [
        f"{'today' if day == today else f'{day.day} {day:%b}'} {_hours(spent)}"
        for day, spent in sorted(time_by_day(spans, now, clock).items(), reverse=True)
        if (today - day).days < DAYS_BACK
    ]
    if spans and spans[-1].until is None:
        told.append(f"off now, since {clock_time(spans[-1].from_at, now, clock)}")
    if told:
        yield f"Off the ventilator through the tracheostomy: {', '.join(told)}"


def _hours(spent: timedelta) -> str:
    hours, minutes = divmod(int(spent.total_seconds()) // 60, 60)
    return f"{hours} h {minutes:02d}"
