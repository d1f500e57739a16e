"""Which fields a check asks for this time, so that a routine round is a straight walk.

What is required is always asked. Beside it: settings and marks that the last check carried, and
measured values that would be too old before the next check; of a gas, what the last slip had.
Everything else stays on the form and is reached by name, but nobody is walked through it.
"""

from collections.abc import Iterator, Mapping, Set
from datetime import datetime, timedelta

from app.charting.facts import Assessment, CourseFacts, Kind, Reading
from app.charting.field import Field, Manner, Shape, Use
from app.charting.uses import EITHER, fields_for, use_of
from app.rules.due import next_check
from app.rules.policy import Policy
from app.rules.stale import stale_after
from app.rules.unit_clock import UnitClock

DUE_UNSEEN = frozenset({"cuff_pressure_cmh2o"})
"""Measured fields that are due wherever they are offered, though nobody ever charted them: a cuff
is read by manometer (Respir Care 2024;69(8):1042)."""
LOOKED_BACK = timedelta(hours=24)
"""A measured value that nobody charted for a day is no longer part of the round (judgement)."""


def asked_this_round(
    facts: CourseFacts, family: str, kind: Kind, policy: Policy, clock: UnitClock, at: datetime
) -> frozenset[str]:
    """Codes of the fields that a check of this kind asks for at this moment.

    A brief check asks for what it requires; whoever made a change goes to the field that changed.
    """
    airway = facts.airways[-1].category if facts.airways else ""
    offered = fields_for(family or "other", kind, airway)
    required = {
        field.code
        for field in offered
        if use_of(family or "other", field.code, kind, airway) is Use.REQUIRED
    }
    if kind is Kind.BRIEF:
        return frozenset(required)
    before = [row for row in facts.standing if row.observed_at <= at]
    last = next((row for row in reversed(before) if row.kind is kind), None)
    carried = _with_a_value(last).keys() & {field.code for field in offered}
    again = {
        field.code
        for field in offered
        if field.code in carried
        and (field.confirmable or (kind is Kind.GAS and _is_measured(field)))
    }
    next_due = next_check(at, policy.rounds, clock).due_at
    due = set() if kind is Kind.GAS else set(_due(offered, before, policy, next_due))
    return frozenset((required | again | due) - _stood_in_for(carried))


def _with_a_value(row: Assessment | None) -> Mapping[str, Reading]:
    return {} if row is None else row.values


def _due(
    offered: tuple[Field, ...], before: list[Assessment], policy: Policy, next_due: datetime
) -> Iterator[str]:
    """Measured numbers of the last day that would be stale before the next check."""
    newest: dict[str, datetime] = {}
    for row in before:
        newest.update(dict.fromkeys(_with_a_value(row), row.observed_at))
    for field in offered:
        seen = newest.get(field.code)
        if not _is_measured(field):
            continue
        if seen is None:
            if field.code in DUE_UNSEEN:
                yield field.code
        elif _in_use(field, seen, next_due) and seen + stale_after(field.code, policy) <= next_due:
            yield field.code


def _is_measured(field: Field) -> bool:
    return field.manner is Manner.MEASURED and field.shape is Shape.NUMBER


def _in_use(field: Field, seen: datetime, next_due: datetime) -> bool:
    return field.code in DUE_UNSEEN or next_due - seen <= LOOKED_BACK


def _stood_in_for(carried: Set[str]) -> frozenset[str]:
    """Fields for which the last check charted another one of the same pair, and not them."""
    return frozenset(
        code
        for pair in EITHER
        if not pair.isdisjoint(carried)
        for code in pair
        if code not in carried
    )
