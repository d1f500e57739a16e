"""What a course is judged by: the clock of its unit and the policy in force at a moment."""

from dataclasses import dataclass
from datetime import datetime, time
from functools import lru_cache

from sqlmodel import Session

from app.record.policies import policy_in_force
from app.record.units import Unit, find_unit
from app.rules.policy import Policy, read_policy, starting_policy
from app.rules.unit_clock import UnitClock


@dataclass(frozen=True, slots=True)
class Judging:
    """A unit with its clock and the policy in force."""

    unit: Unit
    clock: UnitClock
    policy: Policy


def judging(session: Session, unit_id: str, at: datetime) -> Judging:
    """The unit's clock and its policy in force at `at`; the starting policy before the first.

    Raises NotFound for an unknown unit.
    """
    unit = find_unit(session, unit_id)
    return Judging(unit, clock_of(unit), policy_at(session, unit_id, at))


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
def _read(toml: str, version: int) -> Policy:
    return read_policy(toml, version)


@lru_cache(maxsize=1)
def _starting() -> Policy:
    return starting_policy()
