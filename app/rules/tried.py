"""A policy tried on the past: what it would have raised, beside what the one in force raises.

Both judge the same span of the same courses from beginning to end, each as if it had held all the
time, with each patient's own ranges. Nothing of it is stored. Flags are counted where they were
raised within the span; what is told as information is not counted. A limit that no rule confirms
is not tried here: the fold does not know it.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta

from msgspec import Struct
from msgspec.structs import replace

from app.charting.answering import Said
from app.charting.facts import CourseFacts
from app.rules.own_ranges import overrides_of
from app.rules.policy import Policy
from app.rules.watch.flags import Answered
from app.rules.watch.fold import flags_of
from app.rules.watch.policies import Policies

RUN_UP = timedelta(hours=96)
"""How much before the span is folded too: the longest look back of a rule, and a day more."""

MOST_ROWS = 6000
"""How many rows are tried; a second or two for both policies (measured 0.2 ms a row and fold)."""


class TriedCourse(Struct, frozen=True):
    """One course: how many flags each rule raised under either policy, and the checks looked at."""

    course_id: str
    rows: int
    in_force: Counter[str]
    proposed: Counter[str]


class Tried(Struct, frozen=True):
    """Every course that was looked at, and those for which there was no time."""

    since: datetime
    courses: tuple[TriedCourse, ...]
    left_out: tuple[str, ...] = ()


def try_on_the_past(
    courses: Iterable[CourseFacts], in_force: Policy, proposed: Policy, now: datetime, days: int
) -> Tried:
    """Both policies on each course's last days, as many courses as there is time for."""
    since = now - timedelta(days=days)
    tried: list[TriedCourse] = []
    left_out: list[str] = []
    rows = 0
    for facts in courses:
        part = _part(facts, since, now)
        in_span = sum(row.observed_at >= since for row in part.assessments)
        if not in_span:
            continue
        rows += len(part.assessments)
        if rows > MOST_ROWS:
            left_out.append(facts.course_id)
            continue
        counts = [_raised(part, policy, since, now) for policy in (in_force, proposed)]
        tried.append(TriedCourse(facts.course_id, in_span, *counts))
    return Tried(since, tuple(tried), tuple(left_out))


def _part(facts: CourseFacts, since: datetime, now: datetime) -> CourseFacts:
    """The course with the rows of the span and of the run-up to it."""
    start = since - RUN_UP
    rows = tuple(row for row in facts.standing if start <= row.observed_at <= now)
    return replace(facts, assessments=rows)


def _raised(facts: CourseFacts, policy: Policy, since: datetime, now: datetime) -> Counter[str]:
    policies = Policies(policy, overrides_of(facts.own_ranges))
    flags = flags_of(facts, policies, now, _answers(facts))
    return Counter(flag.rule for flag in flags if flag.raised_at >= since)


def _answers(facts: CourseFacts) -> Sequence[Answered]:
    """What people said ends a slide under either policy."""
    return [
        Answered(answer.group, answer.at, answer.rules)
        for answer in facts.answers
        if answer.said is Said.SEEN
    ]
