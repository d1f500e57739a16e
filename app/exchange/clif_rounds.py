"""Rows of one course that belong to one round at the bedside become one check."""

from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Final

from msgspec import Struct, field

from app.exchange.clif_devices import Device, DeviceRow

ROUND: Final = timedelta(minutes=15)
"""Rows up to this long after the first one complete it (engineering judgement: one check often
arrives as two or three rows a few minutes apart)."""

ZERO_COUNTS: Final = frozenset({"peep_set", "peep_obs", "pressure_support_set"})
"""Zero is legal here (a breathing trial); any other zero means that nothing was read."""


class Conflict(Struct, frozen=True):
    """A later row of the same round that says something else; the first value was kept."""

    at: datetime
    column: str
    kept: Decimal
    left: Decimal


class Round(Struct):
    """Rows that are one check, at the time of the first; `values` is by CLIF column."""

    at: datetime
    device: Device
    family: str
    named_family: str
    values: dict[str, Decimal] = field(default_factory=dict)
    conflicts: list[Conflict] = field(default_factory=list)
    rows: int = 0
    zeros: int = 0

    def takes(self, row: DeviceRow) -> bool:
        """Whether the row completes this round: soon enough, same device, no other mode named."""
        same_mode = not (row.named_family and self.named_family) or (
            row.named_family == self.named_family
        )
        return row.at - self.at <= ROUND and row.device is self.device and same_mode

    def complete(self, row: DeviceRow) -> None:
        """Take from the row what is still missing; a mode that is named beats one in force."""
        self.rows += 1
        if row.named_family and not self.named_family:
            self.named_family = self.family = row.named_family
        values, zeros = without_zeros(row.row.values)
        self.zeros += zeros
        for column, value in values.items():
            kept = self.values.setdefault(column, value)
            if kept != value:
                self.conflicts.append(Conflict(row.at, column, kept, value))


def rounds_of(rows: Iterable[DeviceRow]) -> tuple[Round, ...]:
    """The rounds of one course's rows, oldest first; a round may hold no value at all.

    A row that names another mode or another device is a round of its own however close it stands:
    its numbers belong to that mode.
    """
    rounds: list[Round] = []
    for row in rows:
        if not rounds or not rounds[-1].takes(row):
            rounds.append(Round(row.at, row.device, row.family, row.named_family))
        rounds[-1].complete(row)
    return tuple(rounds)


def without_zeros(values: Mapping[str, Decimal]) -> tuple[dict[str, Decimal], int]:
    """The values that were read, and how many zeros meant that nothing was."""
    read = {name: value for name, value in values.items() if value or name in ZERO_COUNTS}
    return read, len(values) - len(read)
