"""Where each limit's newest value lies, or why it cannot be judged: never silent, never guessed.

Whether an outside value is a flag is not said here: for a limit with rules of its own the fold of
`watch` decides (see `flagged`); for any other, two values in a row do.

Each limit gets one answer from the newest attempt at its value. A value is tested as displayed
(decision 3), against the limit of the moment at which it was observed (decision 13). A value that
is missing, not valid or too old is never within limits (decision 9), and which of these it is, is
said (decision 28).
"""

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from decimal import Decimal
from enum import StrEnum

from msgspec import Struct
from msgspec.structs import replace

from app.charting.facts import CourseFacts
from app.charting.mode_families import family_of
from app.rules.attempts import Attempt, Worked, attempts_of
from app.rules.policy import Limit, Policy
from app.rules.tubeless import breathed_since, is_of_the_tube, not_since, tube_out_at, why_not


class Verdict(StrEnum):
    """What can be said of one limit."""

    WITHIN = "within"
    OUTSIDE_ONCE = "outside_once"
    OUTSIDE = "outside"
    NOTED = "noted"
    """Outside, told as information: a volume over the limit while breathing alone (decision 24)."""
    NOT_DONE = "not_done"
    TOO_OLD = "too_old"
    NOT_APPLICABLE = "not_applicable"


NOT_EVALUABLE = (Verdict.NOT_DONE, Verdict.TOO_OLD)
"""What the board counts as not evaluable; "not applicable in this mode" is not counted."""


class Statement(Struct, frozen=True):
    """One limit's answer with what it stands on.

    `times` are those of the values outside in a row, newest first. `holds_until` is the moment from
    which the value is too old to say anything.
    """

    key: str
    group: str
    essential: bool
    verdict: Verdict
    side: str = ""
    shown: str = ""
    limit: Decimal | None = None
    source: str = ""
    reason: str = ""
    missing: tuple[str, ...] = ()
    at: datetime | None = None
    times: tuple[datetime, ...] = ()
    holds_until: datetime | None = None
    last_shown: str = ""
    last_at: datetime | None = None
    corrected: bool = False
    """Whether the value stands on one that was corrected."""

    def as_of(self, now: datetime) -> "Statement":
        """The same statement at `now`: what stands on a value turns "too old" with the value."""
        if self.holds_until is None or now < self.holds_until:
            return self
        return replace(
            self,
            verdict=Verdict.TOO_OLD,
            side="",
            shown="",
            times=(),
            last_shown=self.shown,
            last_at=self.at,
            holds_until=None,
        )


class _Limits(Struct, frozen=True):
    """One limit of the policy in force, as it was at each value's own moment."""

    now: Limit
    in_force: Callable[[datetime], Policy]
    facts: CourseFacts

    def at(self, moment: datetime) -> Limit | None:
        """None where no band was ordered; one that did not exist yet is the one in force."""
        then = self.in_force(moment).limits.get(self.now.key, self.now)
        return _with_band(then, self.facts)

    def of_a_child(self, moment: datetime) -> str:
        """Why nothing of a moment is held against it: the adult age of then; empty for an adult."""
        age, adult_from = self.facts.age_y, self.in_force(moment).adult_age_y
        if age is None or age >= adult_from:
            return ""
        return f"adult limit: not used under {adult_from} years"

    def side(self, attempt: Attempt) -> str:
        """The side on which an attempt's number lies beyond; empty inside and without a number."""
        limit = self.at(attempt.at)
        return limit.beyond(attempt.number) if limit and attempt.number is not None else ""


def statements(
    facts: CourseFacts,
    worked: Worked,
    policy: Policy,
    in_force: Callable[[datetime], Policy] | None = None,
) -> tuple[Statement, ...]:
    """One statement per limit of the policy, in the policy's order.

    `worked` holds the rows that count, oldest first, with their indices. Without a row nothing can
    be said of any limit, and each says so. `in_force` names the policy of a moment, with this
    patient's own ranges; without it `policy` always was.
    """
    in_force, family = in_force or (lambda _: policy), _family(worked)
    every = [_Limits(limit, in_force, facts) for limit in policy.limits.values()]
    out = tube_out_at(facts)
    told = [
        _judge(each, _telling(each, attempts_of(each.now.key, worked, each.of_a_child)), family)
        for each in every
    ]
    if out is None:
        return tuple(told)
    breathes = breathed_since(facts.standing, out)
    return tuple(
        _without_tube(each, out, breathes) if is_of_the_tube(each.key) else each for each in told
    )


def _without_tube(told: Statement, out: datetime, family: str) -> Statement:
    """What was read through a tube that is out is no value any more, nor one that is too old."""
    if told.at is not None and told.at >= out:
        return told
    why = why_not(told.key, family)
    return replace(
        told,
        verdict=Verdict.NOT_APPLICABLE if why else Verdict.NOT_DONE,
        reason=why or not_since(told.key),
        missing=(),
        at=out,
        side="",
        shown="",
        times=(),
        holds_until=None,
        last_shown=told.shown or told.last_shown,
        last_at=told.at if told.shown else told.last_at,
        corrected=False,
    )


def _family(worked: Worked) -> str:
    return next((row.mode_family for row, _ in reversed(worked) if row.mode_family), "")


def _telling(limits: _Limits, attempts: Iterator[Attempt]) -> list[Attempt]:
    """The attempts up to the newest value, or to the end of the run outside that it belongs to.

    What lies before says nothing more of the limit, however long the course.
    """
    side, told = "", []
    for attempt in attempts:
        told.append(attempt)
        if attempt.number is None or limits.at(attempt.at) is None:
            continue
        beyond = limits.side(attempt)
        if not beyond or (side and beyond != side):
            break
        side = beyond
    return told


def _judge(limits: _Limits, attempts: list[Attempt], family: str) -> Statement:
    limit = limits.now
    empty = Statement(
        limit.key, limit.group, limit.essential, Verdict.NOT_DONE, source=limit.source
    )
    if _with_band(limit, limits.facts) is None:
        return replace(empty, reason="no band ordered for this patient")
    if not attempts:
        known = limit.essential
        return replace(
            empty,
            verdict=Verdict.NOT_DONE if known else Verdict.NOT_APPLICABLE,
            reason="not charted yet",
        )
    newest = attempts[0]
    if newest.number is None and (newest.tried or not _standing_value(attempts)):
        return _without_a_number(empty, newest, attempts)
    return _with_a_number(empty, limits, attempts, family)


def _with_band(limit: Limit, facts: CourseFacts) -> Limit | None:
    """The limit itself, or the patient's own band in its place; None where no band was ordered."""
    if not limit.of_patient:
        return limit
    low, high = facts.targets.spo2_low, facts.targets.spo2_high
    if low is None:
        return None
    # Over the band is information on high oxygen, judged by its own rule, not by this limit.
    del high
    return replace(limit, under=low, of_patient=False)


def _standing_value(attempts: list[Attempt]) -> bool:
    """Whether a value stands behind rows in which nobody looked."""
    looked = next((attempt for attempt in attempts if attempt.tried), None)
    return looked is not None and looked.number is not None


def _without_a_number(empty: Statement, newest: Attempt, attempts: list[Attempt]) -> Statement:
    last = next((attempt for attempt in attempts if attempt.number is not None), None)
    return replace(
        empty,
        verdict=Verdict.NOT_DONE if newest.applicable else Verdict.NOT_APPLICABLE,
        reason=newest.reason,
        missing=newest.missing,
        at=newest.at,
        last_shown=last.shown if last else "",
        last_at=last.at if last else None,
    )


def _with_a_number(
    empty: Statement, limits: _Limits, attempts: list[Attempt], family: str
) -> Statement:
    newest = next(attempt for attempt in attempts if attempt.number is not None)
    limit, side = limits.at(newest.at) or limits.now, limits.side(newest)
    times = tuple(attempt.at for attempt in _run_outside(limits, side, attempts))
    ordered = limits.facts.targets.tidal_volume_ml_kg is not None
    return replace(
        empty,
        verdict=_verdict(limit, len(times), family, ordered=ordered),
        source=limit.source,
        side=side,
        shown=newest.shown,
        limit=limit.over if side == "over" else limit.under if side == "under" else None,
        at=newest.at,
        times=times,
        holds_until=newest.at + timedelta(hours=float(limit.stale_h)),
        corrected=newest.corrected,
    )


def _run_outside(limits: _Limits, side: str, attempts: list[Attempt]) -> Iterator[Attempt]:
    """The newest values beyond the same end, up to the first that is not."""
    for attempt in attempts:
        if attempt.number is None:
            continue
        if not side or limits.side(attempt) != side:
            return
        yield attempt


def _verdict(limit: Limit, values_outside: int, family: str, *, ordered: bool) -> Verdict:
    """A volume on own breaths is told, unless a volume was ordered (decision 24)."""
    if values_outside == 0:
        return Verdict.WITHIN
    if limit.group == "volume" and family_of(family).spontaneous and not ordered:
        return Verdict.NOTED
    return Verdict.OUTSIDE_ONCE if values_outside == 1 else Verdict.OUTSIDE
