"""The versions of a unit's policy, and which was in force when (decision 13)."""

from datetime import datetime
from typing import Any

from msgspec import Struct
from sqlalchemy import Row, bindparam, func, select
from sqlmodel import Session

from app.record.tables import PolicyRow, table_of
from app.record.versions import authored

POLICY = table_of(PolicyRow)


class PolicyVersion(Struct, frozen=True):
    """One version in its file form, with who wrote it and why."""

    unit_id: str
    version: int
    toml: str
    reason: str
    in_force_from: datetime
    recorded_at: datetime
    author: str


_HISTORY = (
    authored(PolicyRow, POLICY.c.unit_id == bindparam("unit"))
    .order_by(None)
    .order_by(POLICY.c.version)
)
_IN_FORCE = (
    authored(
        PolicyRow,
        POLICY.c.unit_id == bindparam("unit"),
        POLICY.c.in_force_from <= bindparam("at"),
    )
    .order_by(None)
    .order_by(POLICY.c.version.desc())
    .limit(1)
)


def policy_history(session: Session, unit_id: str) -> tuple[PolicyVersion, ...]:
    """Every version, oldest first."""
    return tuple(map(_version, session.execute(_HISTORY, {"unit": unit_id})))


def policy_in_force(session: Session, unit_id: str, at: datetime) -> PolicyVersion | None:
    """The highest version that had come into force by then; None before the first."""
    row = session.execute(_IN_FORCE, {"unit": unit_id, "at": at}).one_or_none()
    return None if row is None else _version(row)


def next_policy_version(session: Session, unit_id: str) -> int:
    """The number for the next version; a second writer of the same number gets a Conflict."""
    highest = select(func.max(POLICY.c.version)).where(POLICY.c.unit_id == unit_id)
    return (session.execute(highest).scalar_one() or 0) + 1


def _version(row: Row[Any]) -> PolicyVersion:
    return PolicyVersion(
        unit_id=row.unit_id,
        version=row.version,
        toml=row.toml,
        reason=row.reason,
        in_force_from=row.in_force_from,
        recorded_at=row.recorded_at,
        author=row.author,
    )
