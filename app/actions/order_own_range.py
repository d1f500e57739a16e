"""Write down another range than the unit's for one patient, as somebody ordered it, or end it.

It holds for what is observed from now on, until the course ends, a date, or another order.
"""

from collections.abc import Iterator
from datetime import datetime, timedelta
from decimal import Decimal

from msgspec import Struct
from msgspec.structs import asdict

from app.actions.refresh_summary import refresh_summary
from app.actions.sent_once import did_before, keep_sent
from app.charting.act_time import is_to_come
from app.charting.facts import CourseFacts
from app.record.courses import course_facts
from app.record.judging import judging
from app.record.tables import OwnRangeRow
from app.record.writing import Writing
from app.rules.own_ranges import in_force
from app.rules.policy import Limit, Policy
from app.rules.policy_check import wrong_with
from app.rules.policy_fields import entry_rule

LONGEST_UNTIL = timedelta(days=180)
LONGEST_WHY = 200
LONGEST_NAME = 60


class NewRange(Struct, frozen=True):
    """The range as ordered; without ends it ends the one that holds."""

    limit: str
    ordered_by: str
    ordered_at: datetime
    why: str
    under: Decimal | None = None
    over: Decimal | None = None
    until: datetime | None = None

    @property
    def ends(self) -> bool:
        """Whether it only ends what holds."""
        return self.under is None and self.over is None


class Fault(Struct, frozen=True):
    """What is wrong with one field of the form."""

    field: str
    sentence: str


class RangeRefused(ValueError):  # noqa: N818 - it names a state that a form has words for
    """Nothing was saved; `faults` say why, field by field."""

    def __init__(self, *faults: Fault) -> None:
        super().__init__(" ".join(fault.sentence for fault in faults))
        self.faults = faults


def order_own_range(
    writing: Writing, course_id: str, new: NewRange, *, ends: bool = False, save_key: str = ""
) -> str:
    """Keep the range, or with `ends` its end, and bring the board up to it; returns its id.

    Raises RangeRefused, KeyReused for a key that came with other content, and NotFound.
    """
    content = asdict(new)
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    facts = course_facts(writing.session, course_id)
    policy = judging(writing.session, facts.unit_id, writing.recorded_at).policy
    faults = tuple(_faults(new, facts, policy, writing.recorded_at, ends=ends))
    if faults:
        raise RangeRefused(*faults)
    row = OwnRangeRow(
        course_id=course_id,
        limit_key=new.limit,
        under=new.under,
        over=new.over,
        until=new.until,
        ordered_by=new.ordered_by,
        ordered_at=new.ordered_at,
        why=new.why,
    )
    writing.add_as("order_own_range", row, course_id=course_id)
    refresh_summary(writing, course_id)
    keep_sent(writing, course_id, save_key, content, row.id)
    return row.id


def may_be_own(policy: Policy) -> dict[str, Limit]:
    """The limits that a patient may have a range of their own for; SpO2 has its ordered band."""
    return {key: limit for key, limit in policy.limits.items() if not limit.of_patient}


def _faults(
    new: NewRange, facts: CourseFacts, policy: Policy, now: datetime, *, ends: bool
) -> Iterator[Fault]:
    if facts.ended_at is not None:
        yield Fault("", "This course has ended.")
    if facts.age_y is not None and facts.age_y < policy.adult_age_y:
        yield Fault("", "Adult limits are off for this patient, so there is none to replace.")
    yield from _of_the_words(new, now)
    limit = may_be_own(policy).get(new.limit)
    if limit is None:
        yield Fault("own_limit", "Choose one of this unit's limits.")
    elif ends:
        if not any(own.limit == new.limit for own in in_force(facts.own_ranges, now)):
            yield Fault("own_limit", "No range of the patient's own holds, so none can be ended.")
    else:
        yield from _of_the_ends(new, limit)
        yield from _of_the_end_date(new, now)


def _of_the_words(new: NewRange, now: datetime) -> Iterator[Fault]:
    if not 0 < len(new.ordered_by.strip()) <= LONGEST_NAME:
        yield Fault("ordered_by", f"Say who ordered it, in at most {LONGEST_NAME} letters.")
    if not 0 < len(new.why.strip()) <= LONGEST_WHY:
        yield Fault("why", f"Say why, in at most {LONGEST_WHY} letters.")
    if is_to_come(new.ordered_at, now):
        yield Fault("observed_at", "The time of the order is still to come.")


def _of_the_ends(new: NewRange, limit: Limit) -> Iterator[Fault]:
    for side, own, of_unit in (("under", new.under, limit.under), ("over", new.over, limit.over)):
        if own is None and of_unit is not None:
            yield Fault(f"own_{side}", f"Write this end too: the unit's is {side} {of_unit:f}.")
        elif own is not None:
            what = wrong_with(entry_rule(f"limits.{limit.key}.{side}"), own)
            if what:
                yield Fault(f"own_{side}", f"Outside {side}: it {what}.")
    if new.under is not None and new.over is not None and new.under >= new.over:
        yield Fault("own_under", "The lower end has to be under the upper one.")
    if (new.under, new.over) == (limit.under, limit.over):
        yield Fault("own_over", "That is the unit's own range.")


def _of_the_end_date(new: NewRange, now: datetime) -> Iterator[Fault]:
    if new.until is not None and not now < new.until <= now + LONGEST_UNTIL:
        days = LONGEST_UNTIL.days
        yield Fault("until", f"The end has to lie ahead, within {days} days, or stay empty.")
