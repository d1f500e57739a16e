"""Through what a patient breathes in each row, and in which mode: named, or read from neighbours.

Device and mode words: open CLIF 2.1 categories (mCIDE). A third of real rows name no device, and a
quarter of the invasive ones no mode, so a row is read in the light of those beside it.
"""

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime, timedelta
from enum import StrEnum
from itertools import groupby
from typing import Final

from msgspec import Struct

from app.exchange.clif_columns import SUPPORT_NUMBERS
from app.exchange.clif_rows import SupportRow


class Device(StrEnum):
    """What kind of support a device is; OFF is any that is no support of ours (a cannula, air)."""

    INVASIVE = "invasive"
    MASK = "mask"
    HIGH_FLOW = "high_flow"
    OXYGEN = "oxygen"
    OFF = "off"

    @property
    def supports(self) -> bool:
        """Whether a row under it belongs to a course of support."""
        return self in (Device.INVASIVE, Device.MASK, Device.HIGH_FLOW)


DEVICES: Final[Mapping[str, Device]] = {
    "imv": Device.INVASIVE,
    "nippv": Device.MASK,
    "cpap": Device.MASK,
    "high flow nc": Device.HIGH_FLOW,
    "face mask": Device.OXYGEN,
    "trach collar": Device.OXYGEN,
}
"""Device category, in lower case, to the kind of support. Any other named one is OFF."""

FAMILIES: Final[Mapping[str, str]] = {
    "assist control-volume control": "ac_vc",
    "pressure control": "ac_pc",
    "pressure-regulated volume control": "ac_vtpc",
    "simv": "simv_vc",
    "pressure support/cpap": "csv_ps",
    "volume support": "csv_vtps",
}
"""Mode category, in lower case, to the family it is charted as."""

OTHER_MODE: Final = "other"
"""Any other named mode: none of the families, so no mechanics."""
OF_DEVICE: Final[Mapping[Device, str]] = {
    Device.MASK: "niv",
    Device.HIGH_FLOW: "hfnc",
    Device.OXYGEN: "o2_mask",
}
"""Outside a tube the device alone says the family."""

HOLDS: Final = timedelta(hours=8)
"""A blank mode is the one in force, at most this old: two full checks (engineering judgement)."""

_OPEN_AIR: Final = frozenset({"fio2_set", "lpm_set", "resp_rate_obs"})
OF_A_VENTILATOR: Final = tuple(name for name in SUPPORT_NUMBERS if name not in _OPEN_AIR)
"""What only a machine that gives breaths can have charted."""


class DeviceSource(StrEnum):
    """How the device of a row is known."""

    NAMED = "named"
    BEFORE = "before"
    AFTER = "after"
    UNKNOWN = "unknown"


class DeviceRow(Struct, frozen=True):
    """A row with its device known. `named_family` is the family of the mode it names, else empty;
    `family` is that, or the one in force, or empty where nobody charted one within 8 h."""

    row: SupportRow
    device: Device
    device_source: DeviceSource
    named_family: str
    family: str

    @property
    def at(self) -> datetime:
        """When it was charted."""
        return self.row.at


def has_ventilator_value(row: SupportRow) -> bool:
    """Whether the row charts a mode or a number that only a ventilator gives."""
    return bool(row.mode) or any(name in row.values for name in OF_A_VENTILATOR)


def with_devices(rows: Sequence[SupportRow]) -> tuple[DeviceRow, ...]:
    """One stay's rows, oldest first, each with its device and mode family.

    A row that names no device has the last one named before it, or the next where there was none
    before. A row with a ventilator's value behind a cannula or a plain mask has the next device,
    where that one is a ventilator: the tube went in before somebody named it.
    """
    before = _last_named(rows)
    after = tuple(reversed(_last_named(rows[::-1])))
    known = [_device_of(row, was, will) for row, was, will in zip(rows, before, after, strict=True)]
    return tuple(_with_families(zip(rows, known, strict=True)))


def _last_named(rows: Iterable[SupportRow]) -> tuple[Device | None, ...]:
    last: Device | None = None
    found: list[Device | None] = []
    for row in rows:
        if row.device:
            last = DEVICES.get(row.device.lower(), Device.OFF)
        found.append(last)
    return tuple(found)


def _device_of(
    row: SupportRow, before: Device | None, after: Device | None
) -> tuple[Device, DeviceSource]:
    if row.device:
        return DEVICES.get(row.device.lower(), Device.OFF), DeviceSource.NAMED
    if _began(row, before, after) and after is not None:
        return after, DeviceSource.AFTER
    if before is not None:
        return before, DeviceSource.BEFORE
    return Device.OFF, DeviceSource.UNKNOWN


def _began(row: SupportRow, before: Device | None, after: Device | None) -> bool:
    """Whether the device named next was already in place."""
    if before is None:
        return True
    gives_breaths = after in (Device.INVASIVE, Device.MASK)
    gave_none = before not in (Device.INVASIVE, Device.MASK)
    return gives_breaths and gave_none and has_ventilator_value(row)


def _with_families(
    known: Iterable[tuple[SupportRow, tuple[Device, DeviceSource]]],
) -> Iterable[DeviceRow]:
    for device, stretch in groupby(known, key=lambda pair: pair[1][0]):
        named_at: datetime | None = None
        in_force = ""
        for row, (_, source) in stretch:
            named = family_of_mode(device, row.mode)
            if named:
                named_at, in_force = row.at, named
            held = named_at is not None and row.at - named_at <= HOLDS
            family = OF_DEVICE.get(device) or (in_force if held else "")
            yield DeviceRow(row, device, source, named, family)


def family_of_mode(device: Device, mode: str) -> str:
    """The family that a mode category names under a device; empty for a blank or off support."""
    if device is not Device.INVASIVE:
        return OF_DEVICE.get(device, "")
    return FAMILIES.get(mode.lower(), OTHER_MODE) if mode else ""
