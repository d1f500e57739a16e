"""The units: their names, zones and clock times as they hold now."""

from typing import Any
from zoneinfo import ZoneInfo

from msgspec import Struct
from sqlalchemy import Row, bindparam, select
from sqlmodel import Session

from app.record.errors import NotFound
from app.record.tables import UnitRow, table_of
from app.record.versions import newest

UNIT = table_of(UnitRow)


class Unit(Struct, frozen=True):
    """A unit as it is described now; `version_id` is the row that the next change supersedes."""

    id: str
    version_id: str
    code: str
    name: str
    zone: ZoneInfo
    shift_times: tuple[str, ...]


_ALL = select(UNIT).order_by(UNIT.c.id)
_ONE = _ALL.where(UNIT.c.unit_id == bindparam("unit"))


def list_units(session: Session) -> tuple[Unit, ...]:
    """Every unit, by name."""
    rows = newest(session.execute(_ALL).all())
    return tuple(sorted(map(_unit, rows), key=lambda unit: (unit.name, unit.id)))


def find_unit(session: Session, unit_id: str) -> Unit:
    """One unit. Raises NotFound."""
    rows = session.execute(_ONE, {"unit": unit_id}).all()
    if not rows:
        raise NotFound("unit", unit_id)
    return _unit(newest(rows)[0])


def find_unit_by_code(session: Session, code: str) -> Unit:
    """One unit by the short code its staff use. Raises NotFound."""
    found = [unit for unit in list_units(session) if unit.code == code]
    if not found:
        raise NotFound("unit", code)
    return found[0]


def _unit(row: Row[Any]) -> Unit:
    return Unit(
        id=row.unit_id,
        version_id=row.id,
        code=row.code,
        name=row.name,
        zone=ZoneInfo(row.zone),
        shift_times=tuple(row.shift_times.split()),
    )
