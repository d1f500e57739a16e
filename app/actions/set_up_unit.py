"""Set up a unit: its zone, its shifts and its beds, under the starting policy."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import time
from zoneinfo import ZoneInfo

from app.record.tables import BedRow, PolicyRow, UnitRow
from app.record.writing import Writing
from app.rules.policy import STARTING_POLICY_FILE, starting_policy


@dataclass(frozen=True, slots=True)
class NewUnit:
    """A unit as its operator describes it. Raises ZoneInfoNotFoundError for an unknown zone."""

    code: str
    name: str
    zone: str
    beds: Sequence[str]
    shift_starts: tuple[time, ...] = (time(7), time(19))

    def __post_init__(self) -> None:
        ZoneInfo(self.zone)
        if not self.beds or len(set(self.beds)) != len(self.beds):
            raise ValueError("a unit needs beds, each with a code of its own")


def set_up_unit(writing: Writing, unit: NewUnit) -> str:
    """Write the unit, its beds in the given order and its first policy; returns the unit's id."""
    unit_id = writing.new_id()
    row = UnitRow(
        id=unit_id,
        unit_id=unit_id,
        code=unit.code,
        name=unit.name,
        zone=unit.zone,
        shift_times=" ".join(f"{start:%H:%M}" for start in unit.shift_starts),
    )
    writing.add(row)
    writing.add(*_beds(writing, unit_id, unit.beds))
    writing.add(_first_policy(unit_id, writing))
    writing.audit("set_up_unit", subject=row, detail={"beds": len(unit.beds)})
    return unit_id


def _beds(writing: Writing, unit_id: str, codes: Sequence[str]) -> list[BedRow]:
    keys = [writing.new_id() for _ in codes]
    return [
        BedRow(id=key, bed_id=key, unit_id=unit_id, code=code, position=position)
        for position, (key, code) in enumerate(zip(keys, codes, strict=True), start=1)
    ]


def _first_policy(unit_id: str, writing: Writing) -> PolicyRow:
    return PolicyRow(
        unit_id=unit_id,
        version=1,
        toml=STARTING_POLICY_FILE.read_text(encoding="utf-8"),
        reason=starting_policy().reason,
        in_force_from=writing.recorded_at,
    )
