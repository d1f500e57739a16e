"""Set up a unit: its zone, its shifts and its beds, under the starting policy."""

from collections import Counter
from collections.abc import Sequence
from datetime import time
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from msgspec import Struct

from app.record.tables import BedRow, PolicyRow, UnitRow
from app.record.units import list_units
from app.record.writing import Writing
from app.rules.policy import STARTING_POLICY_FILE, starting_policy


class UnitRefused(ValueError):  # noqa: N818 - it names a state that an operator has words for
    """The unit cannot be set up; the sentence says why."""


class NewUnit(Struct, frozen=True):
    """A unit as its operator describes it. Raises UnitRefused for one that nobody could work in.

    Codes of beds that differ in capitals alone are taken for the same: nobody says them apart.
    """

    code: str
    name: str
    zone: str
    beds: Sequence[str]
    shift_starts: tuple[time, ...] = (time(7), time(19))

    def __post_init__(self) -> None:
        if not self.code.strip() or not self.name.strip():
            raise UnitRefused("a unit needs a code and a name")
        if not _is_zone(self.zone):
            raise UnitRefused(f"there is no time zone {self.zone!r}")
        if not self.beds:
            raise UnitRefused("a unit needs beds")
        if twice := _twice(self.beds):
            raise UnitRefused(f"each bed needs a code of its own: {', '.join(twice)}")
        if not self.shift_starts or len(set(self.shift_starts)) != len(self.shift_starts):
            raise UnitRefused("a unit needs the starts of its shifts, each once")


def _is_zone(zone: str) -> bool:
    try:
        ZoneInfo(zone)
    except (ZoneInfoNotFoundError, ValueError, OSError):  # of a name, of nonsense, of a folder
        return False
    return True


def _twice(codes: Sequence[str]) -> list[str]:
    counted = Counter(code.casefold() for code in codes)
    return sorted({code for code in codes if counted[code.casefold()] > 1})


def set_up_unit(writing: Writing, unit: NewUnit) -> str:
    """Write the unit, its beds in the given order and its first policy; returns the unit's id.

    Raises UnitRefused when a unit goes by that code already.
    """
    codes = {known.code.casefold() for known in list_units(writing.session)}
    if unit.code.casefold() in codes:
        raise UnitRefused(f"there is a unit {unit.code!r} already")
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
