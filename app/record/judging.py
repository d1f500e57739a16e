"""What a course is judged by: the clock of its unit and the policy in force at a moment."""

from datetime import datetime, time
from functools import lru_cache

from msgspec import Struct
from msgspec.structs import replace
from sqlmodel import Session

from app.charting.facts import CourseFacts
from app.charting.site_figures import SiteInTime
from app.record.policies import policy_history, policy_in_force
from app.record.units import Unit, find_unit
from app.rules.own_ranges import own_policies
from app.rules.policy import Policy, read_policy, starting_policy
from app.rules.unit_clock import UnitClock
from app.rules.watch.policies import InForceFrom, Policies
from app.rules.watched import Watching

KEPT_FOLDS = "kept folds"
"""Under which name a session holds the folds of courses; without any each is folded whole."""


class Judging(Struct, frozen=True):
    """A unit with its clock and the policy in force."""

    unit: Unit
    clock: UnitClock
    policy: Policy
    watching: Watching
    """The policies until now, and the folds that are kept of courses."""

    def of(self, facts: CourseFacts) -> "Judging":
        """What judges this course: the same, or with the ranges that were ordered for it."""
        policies = own_policies(self.watching.policies, facts)
        if policies is self.watching.policies:
            return self
        return replace(self, watching=replace(self.watching, policies=policies))

    @property
    def site(self) -> SiteInTime:
        """The unit's adult age and barometric pressure as they were in force in time."""
        return self.watching.policies.site

    def policy_at(self, moment: datetime) -> Policy:
        """The policy of a moment, with this patient's own ranges in place of the unit's."""
        return self.watching.policies.at(moment)


def judging(session: Session, unit_id: str, at: datetime) -> Judging:
    """The unit's clock and its policy in force at `at`; the starting policy before the first.

    Raises NotFound for an unknown unit.
    """
    unit = find_unit(session, unit_id)
    history = tuple(held for held in policy_history(session, unit_id) if held.in_force_from <= at)
    policies = _policies(tuple((held.in_force_from, held.toml, held.version) for held in history))
    policy = _read(history[-1].toml, history[-1].version) if history else _starting()
    return Judging(unit, clock_of(unit), policy, Watching(policies, session.info.get(KEPT_FOLDS)))


def policy_at(session: Session, unit_id: str, at: datetime) -> Policy:
    """The unit's policy in force at `at`, read; the starting policy before the first."""
    held = policy_in_force(session, unit_id, at)
    return _read(held.toml, held.version) if held is not None else _starting()


@lru_cache(maxsize=64)
def clock_of(unit: Unit) -> UnitClock:
    """The unit's clock: its zone and the starts of its shifts."""
    starts = tuple(time.fromisoformat(text) for text in unit.shift_times)
    return UnitClock(str(unit.zone), starts) if starts else UnitClock(str(unit.zone))


@lru_cache(maxsize=64)
def _policies(history: tuple[tuple[datetime, str, int], ...]) -> Policies:
    """The same object as long as nobody wrote a policy: a kept fold goes on under it only then."""
    if not history:
        return Policies(_starting())
    return Policies([InForceFrom(at, _read(toml, version)) for at, toml, version in history])


@lru_cache(maxsize=64)
def _read(toml: str, version: int) -> Policy:
    return read_policy(toml, version)


@lru_cache(maxsize=1)
def _starting() -> Policy:
    return starting_policy()
