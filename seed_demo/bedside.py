"""One bed on its way through three days: visits in order of time, each seen, charted, acted on."""

import heapq
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from random import Random

from app.charting.after_tube import AFTER_TUBE
from app.charting.airway_told import AirwayTold
from app.charting.facts import Kind
from app.charting.mode_families import family_of
from app.charting.typed_check import TypedCheck
from app.rules.due import next_check
from seed_demo import sight
from seed_demo.checks import Sheet, gas
from seed_demo.entries import AirwaySet, Began, Charted, Ended, Entry, TubeOut
from seed_demo.patient import Patient, Truth
from seed_demo.pen import Pen
from seed_demo.shift import Span
from seed_demo.story import Bedside, Phase, airway
from seed_demo.support import Support
from seed_demo.therapist import Change, decide
from seed_demo.when import wall_moments

BEFORE_THE_ROUND = timedelta(minutes=15)
ONE_BED = timedelta(minutes=6)
"""How long a therapist is at one bed before the next (engineering judgement: 8 beds an hour)."""
FOLLOW_UP = (24, 33)
"""Minutes from a change to the check after it (common practice: 15 to 30 after ventilation)."""
LATE_BY = timedelta(minutes=140)
NEWEST_H = 18
"""Hours before now in which every hold that can be done is done."""


@dataclass(order=True, slots=True)
class Visit:
    """Somebody comes to the bed; `change` is what they set before they look."""

    at: datetime
    kind: str
    round_at: datetime | None = field(default=None, compare=False)
    change: Change | None = field(default=None, compare=False)
    phase: Phase | None = field(default=None, compare=False)


class BedsideRun:
    """Lets one bed's story happen. `place` is its turn in the round, from 0."""

    def __init__(self, bedside: Bedside, place: int, span: Span, seed: int) -> None:
        rng = Random(f"{seed} {bedside.who.code}")  # noqa: S311 - an invented lung, no secret
        self._told, self._place, self._span = bedside, place, span
        self._pen, self._sheet = Pen(rng), Sheet()
        self._patient = Patient(bedside.condition, rng)
        self._support: Support = bedside.phases[0].support
        self._visits: list[Visit] = []
        self.started = bedside.started.before(span.now, span.clock)
        self._first = max(self.started, span.opened) + ONE_BED * (1 + place % 3)

    def entries(self) -> Iterator[Entry]:
        """Everything that people wrote down at this bed until now, in the order observed."""
        yield from self._airways()
        yield from self._happenings()
        self._visits = sorted(self._planned())
        while self._visits:
            visit = heapq.heappop(self._visits)
            if visit.at <= self._span.now:
                yield from self._come(visit)

    # -- what is planned -------------------------------------------------------------------

    def _planned(self) -> Iterator[Visit]:
        yield Visit(self._first, "full")
        yield from self._rounds()
        yield from self._gases()
        for phase in self._told.phases[1:]:
            if phase.since is not None:
                at = phase.since.before(self._span.now, self._span.clock)
                yield Visit(at + timedelta(minutes=8), "phase", phase=phase)
        for step in self._told.steps:
            at = step.since.before(self._span.now, self._span.clock)
            change = Change(step.settings, step.why)
            yield Visit(at + timedelta(minutes=FOLLOW_UP[0]), "brief", change=change)

    def _rounds(self) -> Iterator[Visit]:
        came = []
        for at in self._span.round_times():
            turn = at - BEFORE_THE_ROUND + ONE_BED * self._place
            turn += timedelta(minutes=round(self._pen.between(0, 3)))
            if turn > self._first + timedelta(minutes=45):
                came.append(Visit(turn, "full", round_at=at))
        while self._told.behind and came and not self._overdue_after(came[-1]):
            came.pop()
        yield from came

    def _overdue_after(self, last: Visit) -> bool:
        due = next_check(last.at, self._span.rounds, self._span.clock)
        return due.overdue_at <= self._span.now

    def _gases(self) -> Iterator[Visit]:
        days = (self._span.now - self._span.opened).days + 1
        times = self._told.manner.gas_times
        for at in wall_moments(times, self._span.now, days, self._span.clock):
            turn = at + timedelta(minutes=3 * self._place)
            if turn > self._first + timedelta(minutes=20):
                yield Visit(turn, "gas")

    # -- what happens ----------------------------------------------------------------------

    def _come(self, visit: Visit) -> Iterator[Entry]:
        if visit.phase is not None:
            yield self._new_phase(visit, visit.phase)
        elif visit.change is not None:
            yield self._charted(visit, self._answer_to(visit, visit.change))
        elif visit.kind == "gas":
            yield self._charted(visit, self._gas(visit))
        else:
            yield from self._routine(visit)

    def _new_phase(self, visit: Visit, phase: Phase) -> Entry:
        self._support = phase.support
        return self._charted(visit, self._full(visit, {"change_reason": phase.why}))

    def _routine(self, visit: Visit) -> Iterator[Entry]:
        late = visit.round_at is not None and visit.round_at in self._late_rounds()
        check = self._full(visit, self._slips(visit))
        yield self._charted(visit, check, LATE_BY if late else timedelta())
        change = decide(check.typed, self._support, self._told.who, self._told.room)
        if change is not None and visit.round_at is not None and not late:
            minutes = round(self._pen.between(*FOLLOW_UP))
            at = visit.at + timedelta(minutes=minutes)
            heapq.heappush(self._visits, Visit(at, "brief", change=change))

    def _answer_to(self, visit: Visit, change: Change) -> TypedCheck:
        self._support = self._support.changed(**change.settings)
        return self._brief(visit, {"change_reason": change.why})

    def _late_rounds(self) -> set[datetime]:
        told = self._told.manner.late_rounds
        return {when.before(self._span.now, self._span.clock) for when in told}

    def _slips(self, visit: Visit) -> dict[str, str]:
        return {
            slip.field: slip.text
            for slip in self._told.manner.slips
            if slip.at_round.before(self._span.now, self._span.clock) == visit.round_at
        }

    # -- what is seen ----------------------------------------------------------------------

    def _truth(self, at: datetime) -> Truth:
        prone = self._beside(at).get("position") == "prone"
        return self._patient.truth(self._span.hour(at), self._support, prone=prone)

    def _beside(self, at: datetime) -> Mapping[str, str]:
        """What stands at the bed then: the tube's marks, and the story's newest words."""
        seen = _marks(self._airway_at(at)) | dict(self._told.manner.seen)
        for when, words in self._told.manner.then:
            if when.before(self._span.now, self._span.clock) <= at:
                seen |= words
        return seen

    def _full(self, visit: Visit, more: Mapping[str, str]) -> TypedCheck:
        truth = self._truth(visit.at)
        seen = {**self._beside(visit.at), **self._support.settings}
        seen |= sight.monitor(truth, self._pen) | self._breathing(truth)
        reasons = self._cuff(visit, seen)
        if "plateau_pressure_obs" in seen and self._missed(visit.at):
            why = self._told.manner.hold_reason
            reasons |= {"plateau_pressure_obs": why, "peep_total": why}
            seen.pop("hold_passive")
        if self._first_of_shift(visit):
            seen = {**sight.alarms(seen, self._support), **sight.SWEEP, **seen}
        family, place = self._support.family, self._airway_at(visit.at).category
        return self._sheet.full(visit.at, family, place, {**seen, **more}, reasons)

    def _breathing(self, truth: Truth) -> dict[str, str]:
        seen = sight.breathing(truth, self._support, self._pen)
        if not family_of(self._support.family).mechanics_by_hold:
            return seen
        passive = self._told.manner.passive and not truth.triggered
        peak = int(seen["peak_inspiratory_pressure_obs"])
        return seen | sight.hold(truth, self._support, self._pen, peak, passive=passive)

    def _missed(self, at: datetime) -> bool:
        """Whether no hold was done. Only a bed that never has one lacks it in the newest checks: a
        story about something else must not end in "cannot be judged" by chance."""
        share, recent = self._told.manner.plateau_missed, self._span.hour(at) > -NEWEST_H
        return self._pen.happens(share) and (share >= 1 or not recent)

    def _cuff(self, visit: Visit, seen: dict[str, str]) -> dict[str, str]:
        if seen.get("cuff_state") != "up":
            return {}
        if visit.round_at is not None and not self._first_of_shift(visit):
            return {"cuff_pressure_cmh2o": "not_due"}
        seen["cuff_pressure_cmh2o"] = str(self._pen.reading(26, 1.5, low=22, high=30))
        return {}

    def _first_of_shift(self, visit: Visit) -> bool:
        if visit.round_at is None:
            return visit.kind == "full"
        began = self._span.clock.shift_start(visit.round_at)
        return visit.round_at - began < timedelta(hours=4)

    def _brief(self, visit: Visit, more: Mapping[str, str]) -> TypedCheck:
        truth = self._truth(visit.at)
        seen = {**self._support.settings, **self._breathing(truth), **more}
        seen["spo2"] = str(sight.saturation(truth, self._pen))
        if self._missed(visit.at):
            for code in ("plateau_pressure_obs", "hold_passive", "peep_total"):
                seen.pop(code, None)
        family, place = self._support.family, self._airway_at(visit.at).category
        return self._sheet.brief(visit.at, family, place, seen)

    def _gas(self, visit: Visit) -> TypedCheck:
        truth, specimen = self._truth(visit.at), self._told.manner.specimen
        return gas(visit.at, sight.sample(truth.gas, self._support, specimen, self._pen))

    def _airway_at(self, at: datetime) -> AirwayTold:
        placed = self._told.airway
        for changed in self._told.airways:
            if changed.since.before(self._span.now, self._span.clock) <= at:
                placed = changed.placed
        out = self._told.extubated
        if out is not None and out.since.before(self._span.now, self._span.clock) <= at:
            placed = airway(AFTER_TUBE[out.details["breathes_now"]].airway)
        return placed

    # -- what is written -------------------------------------------------------------------

    def _charted(self, visit: Visit, check: TypedCheck, late: timedelta = timedelta()) -> Entry:
        minutes = 9 if check.kind is Kind.GAS else 3
        wait = timedelta(minutes=minutes + round(self._pen.between(0, 2)))
        return Charted(visit.at + wait + late, self._duty(visit.at), check)

    def _duty(self, at: datetime) -> str:
        return self._span.on_duty(at, self._told.by_day)

    def _airways(self) -> Iterator[Entry]:
        for changed in self._told.airways:
            at = changed.since.before(self._span.now, self._span.clock)
            yield AirwaySet(at + timedelta(minutes=6), self._duty(at), at, changed)
        out = self._told.extubated
        if out is not None:
            at = out.since.before(self._span.now, self._span.clock)
            yield TubeOut(at + timedelta(minutes=6), self._duty(at), at, out)

    def _happenings(self) -> Iterator[Entry]:
        now, clock = self._span.now, self._span.clock
        for number, told in enumerate(self._told.happenings):
            key, at = f"{self._told.who.code} {number}", told.since.before(now, clock)
            written = at + timedelta(minutes=5)
            yield Began(written, self._duty(at), key, told.kind, at, told.words, told.details)
            if told.lasted is not None:
                end = at + told.lasted
                yield Ended(end + timedelta(minutes=4), self._duty(end), key, end, told.at_end)


def _marks(placed: AirwayTold) -> dict[str, str]:
    """Where the tube lies; a tracheostomy has no mark that is read."""
    if placed.depth_cm is None:
        return {}
    marks = {
        "airway_depth_cm": f"{placed.depth_cm:f}",
        "airway_depth_reference": placed.depth_reference,
        "airway_side": placed.side,
    }
    return {code: text for code, text in marks.items() if text}
