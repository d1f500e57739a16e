"""Where each limit's newest value lies, or why it cannot be judged: never silent, never guessed.

Whether an outside value is a flag is not said here: for a limit with rules of its own the fold of
`watch` decides (see `flagged`); for any other, two values in a row do.

Each limit gets one answer from the newest attempt at its value. A value is tested as displayed
(decision 3), against the limit of the moment at which it was observed (decision 13). A value that
is missing, not valid or too old is never within limits (decision 9), and which of these it is, is
said (decision 28).
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from decimal import Decimal
from enum import StrEnum

from msgspec import Struct
from msgspec.structs import replace

from app.charting.corrected import stands_on_a_correction
from app.charting.derive import WorkedOut
from app.charting.facts import Assessment, CourseFacts, Kind, Reading, State
from app.charting.field import Group, Use
from app.charting.fields import FIELDS
from app.charting.mode_families import family_of
from app.charting.reasons import not_done
from app.charting.shown import shown
from app.charting.uses import use_of
from app.physiology.answer import Answer, NotAvailable, Query, Value
from app.physiology.catalogue import CATALOGUE
from app.rules.policy import Limit, Policy
from app.rules.tubeless import breathed_since, is_of_the_tube, not_since, tube_out_at, why_not

NOT_DUE = "not_due"
"""The reason that says nothing of the patient: the value was not wanted this round."""

Worked = Sequence[tuple[Assessment, Mapping[str, WorkedOut]]]


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


class _Attempt(Struct, frozen=True):
    """One row's word on one limit: a displayed number, or why there is none."""

    at: datetime
    shown: str = ""
    number: Decimal | None = None
    reason: str = ""
    missing: tuple[str, ...] = ()
    applicable: bool = True
    tried: bool = True
    """False where nobody looked: an earlier value then stands until it is too old."""
    corrected: bool = False


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

    def side(self, attempt: _Attempt) -> str:
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
    told = [_judge(each, _telling(each, _attempts(each, worked)), family) for each in every]
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


def _telling(limits: _Limits, attempts: Iterator[_Attempt]) -> list[_Attempt]:
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


def _attempts(limits: _Limits, worked: Worked) -> Iterator[_Attempt]:
    """Newest first. A brief row without the value tried nothing; a full one without it did."""
    key = limits.now.key
    for row, answers in reversed(worked):
        child = limits.of_a_child(row.observed_at)
        if child:
            attempt = _Attempt(row.observed_at, reason=child, applicable=False)
        elif key in CATALOGUE:
            attempt = _index_attempt(row, answers[key])
        else:
            attempt = _valid(key, _field_attempt(key, row), row, answers)
        if attempt.number is not None or (row.kind is Kind.FULL and not _from_a_gas(key)):
            yield attempt


PLATEAU, _DRIVING = "plateau_pressure_obs", "driving_pressure"
_PEEPS = frozenset({"peep_total", "peep_set", "peep"})


def plateau_counts(driving: Answer) -> bool:
    """Whether a plateau is one of a passive hold, by the answer of the driving pressure beside it.

    It counts where the driving pressure does, or would with a PEEP beside it.
    """
    missing = driving.missing if isinstance(driving, NotAvailable) else ()
    return isinstance(driving, Value) or (bool(missing) and set(missing) <= _PEEPS)


def not_held(
    key: str, row: Assessment, answers: Mapping[str, WorkedOut]
) -> NotAvailable | Query | None:
    """Why a charted number is not held against its limit; None where it is.

    A plateau with effort, or of a mode in which a hold means nothing, says nothing of the lung
    (decision 5); a pH from a vein is not the arterial one that the limit is about (decision 25).
    """
    if key == PLATEAU:
        driving = answers[_DRIVING].answer
        why = driving if isinstance(driving, NotAvailable | Query) else None
        return None if plateau_counts(driving) else why
    specimen = row.readings.get("gas_specimen")
    if key == "ph" and specimen is not None and specimen.word == "venous":
        return NotAvailable("venous sample", applicable=False)
    return None


def _valid(
    key: str, attempt: _Attempt, row: Assessment, answers: Mapping[str, WorkedOut]
) -> _Attempt:
    """The attempt, unless its number says nothing of the limit."""
    why = None if attempt.number is None else not_held(key, row, answers)
    if why is None:
        return attempt
    applicable = not isinstance(why, NotAvailable) or why.applicable
    missing = why.missing if isinstance(why, NotAvailable) else ()
    return _Attempt(row.observed_at, reason=why.reason, missing=missing, applicable=applicable)


def _from_a_gas(key: str) -> bool:
    return key in FIELDS and FIELDS[key].group is Group.GAS


def _index_attempt(row: Assessment, worked: WorkedOut) -> _Attempt:
    answer = worked.answer
    if isinstance(answer, Value):
        corrected = stands_on_a_correction(row, worked)
        return _Attempt(row.observed_at, answer.shown, Decimal(answer.shown), corrected=corrected)
    if isinstance(answer, NotAvailable):
        return _Attempt(
            row.observed_at,
            reason=answer.reason,
            missing=answer.missing,
            applicable=answer.applicable,
            tried=was_tried(worked),
        )
    return _Attempt(row.observed_at, reason=getattr(answer, "reason", ""))


def was_tried(worked: WorkedOut) -> bool:
    """Whether a row without the value still says something of it.

    It does when what is there does not hold, or when somebody said why an input was not measured;
    it does not when an input is simply not in the row, or was not due this round.
    """
    answer = worked.answer
    if not isinstance(answer, NotAvailable) or not answer.missing:
        return True
    return any(_explained(origin) for origin in worked.inputs.values())


def _explained(origin: object) -> bool:
    return isinstance(origin, Reading) and _says_why(origin)


def _says_why(reading: Reading) -> bool:
    return reading.state is State.NOT_MEASURED and reading.reason != NOT_DUE


def _field_attempt(key: str, row: Assessment) -> _Attempt:
    reading = row.readings.get(key)
    if reading is not None and reading.number is not None and reading.has_value:
        text = shown(FIELDS[key], reading.number)
        corrected = reading.corrected_from is not None
        return _Attempt(row.observed_at, text, Decimal(text), corrected=corrected)
    if row.mode_family and use_of(row.mode_family, key) in (Use.HIDDEN, Use.TAGGED):
        return _Attempt(row.observed_at, reason="does not apply in this mode", applicable=False)
    if reading is not None and reading.state is State.NOT_MEASURED:
        words = not_done(FIELDS[key].name, reading.reason)
        return _Attempt(row.observed_at, reason=words, tried=_says_why(reading))
    return _Attempt(row.observed_at, reason="not charted", tried=False)


def _judge(limits: _Limits, attempts: list[_Attempt], family: str) -> Statement:
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


def _standing_value(attempts: list[_Attempt]) -> bool:
    """Whether a value stands behind rows in which nobody looked."""
    looked = next((attempt for attempt in attempts if attempt.tried), None)
    return looked is not None and looked.number is not None


def _without_a_number(empty: Statement, newest: _Attempt, attempts: list[_Attempt]) -> Statement:
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
    empty: Statement, limits: _Limits, attempts: list[_Attempt], family: str
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


def _run_outside(limits: _Limits, side: str, attempts: list[_Attempt]) -> Iterator[_Attempt]:
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
