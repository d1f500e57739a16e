"""A therapist of the simulation: one small change at a time, by simple rules, within bounds.

These rules make an invented course look like a course. They are no advice and no protocol: figures
are engineering judgement, near the steps of the ARDS Network's card where it has one.
"""

from collections.abc import Callable, Mapping

from msgspec import Struct

from seed_demo.story import Room, Who
from seed_demo.support import Support

PLATEAU_HIGH = 30
OXYGEN_STEP, PEEP_STEP, VOLUME_STEP, RATE_STEP = 5, 2, 20, 2
HIGH_OXYGEN, LOW_OXYGEN = 60, 45
CO2_HIGH, CO2_LOW = 50, 30


class Change(Struct, frozen=True):
    """New settings and the reason that was written beside them."""

    settings: Mapping[str, str]
    why: str


Seen = Mapping[str, str]
Rule = Callable[[Seen, Support, Who, Room], Change | None]


def decide(seen: Seen, support: Support, who: Who, room: Room) -> Change | None:
    """The first rule that has something to change; None where all may stay."""
    for rule in _RULES:
        change = rule(seen, support, who, room)
        if change is not None:
            return change
    return None


def _number(seen: Seen, code: str) -> int | None:
    return int(seen[code]) if code in seen else None


def _too_little_oxygen(seen: Seen, support: Support, who: Who, room: Room) -> Change | None:
    saturation, oxygen = _number(seen, "spo2"), round(support.number("fio2_set"))
    if saturation is None or saturation >= who.spo2[0]:
        return None
    peep = round(support.number("peep_set"))
    if (
        oxygen >= HIGH_OXYGEN
        and "peep_set" in support.settings
        and peep + PEEP_STEP <= room.peep[1]
    ):
        why = f"SpO2 {saturation} % on FiO2 {oxygen} %"
        return Change({"peep_set": str(peep + PEEP_STEP)}, why)
    if oxygen >= room.fio2[1]:
        return None
    return _oxygen(min(room.fio2[1], oxygen + 2 * OXYGEN_STEP), f"SpO2 {saturation} %")


def _too_much_oxygen(seen: Seen, support: Support, who: Who, room: Room) -> Change | None:
    saturation, oxygen = _number(seen, "spo2"), round(support.number("fio2_set"))
    if saturation is None or saturation <= who.spo2[1]:
        return None
    if oxygen > room.fio2[0]:
        why = f"SpO2 {saturation} %, above the ordered band"
        return _oxygen(max(room.fio2[0], oxygen - OXYGEN_STEP), why)
    peep = round(support.number("peep_set"))
    if "peep_set" in support.settings and oxygen <= LOW_OXYGEN and peep > room.peep[0]:
        return Change({"peep_set": str(peep - 1)}, f"SpO2 {saturation} % on FiO2 {oxygen} %")
    return None


def _oxygen(to: int, why: str) -> Change:
    return Change({"fio2_set": str(to)}, why)


def _high_plateau(seen: Seen, support: Support, _who: Who, room: Room) -> Change | None:
    plateau, volume = _number(seen, "plateau_pressure_obs"), support.number("tidal_volume_set")
    if plateau is None or plateau <= PLATEAU_HIGH or not room.volume_floor_ml:
        return None
    lower = max(room.volume_floor_ml, round(volume) - VOLUME_STEP)
    if lower >= volume:
        return None
    return Change({"tidal_volume_set": str(lower)}, f"plateau {plateau}")


def _carbon_dioxide(seen: Seen, support: Support, _who: Who, room: Room) -> Change | None:
    end_tidal, rate = _number(seen, "etco2_mmhg"), round(support.number("resp_rate_set"))
    if end_tidal is None or room.rate == (0, 0):
        return None
    if end_tidal > CO2_HIGH and rate + RATE_STEP <= room.rate[1]:
        return Change({"resp_rate_set": str(rate + RATE_STEP)}, f"EtCO2 {end_tidal} mmHg")
    if end_tidal < CO2_LOW and rate - RATE_STEP >= room.rate[0]:
        return Change({"resp_rate_set": str(rate - RATE_STEP)}, f"EtCO2 {end_tidal} mmHg")
    return None


_RULES: tuple[Rule, ...] = (_too_little_oxygen, _high_plateau, _carbon_dioxide, _too_much_oxygen)
