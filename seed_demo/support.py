"""The support a patient is on: mode family and settings as typed, and the breath they give."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from msgspec import Struct
from msgspec.structs import replace

from seed_demo.lung import (
    SECONDS,
    Breath,
    Lung,
    pressure_breath,
    pressure_for_volume,
    volume_breath,
)

ML = 1000.0


class Support(Struct, frozen=True):
    """Mode family and settings: field code to the text that a therapist would type."""

    family: str
    settings: Mapping[str, str]

    def number(self, code: str, otherwise: float = 0.0) -> float:
        """A setting as a number; `otherwise` where this support has none."""
        return float(self.settings.get(code, otherwise))

    def changed(self, **settings: str) -> "Support":
        """The same with some settings at other values."""
        return replace(self, settings=MappingProxyType({**self.settings, **settings}))


class Effort(Struct, frozen=True):
    """What the patient adds: own breaths a minute, and pressure of the muscles, cmH2O."""

    rate: float
    pressure: float = 0.0


def total_rate(support: Support, effort: Effort) -> float:
    """Breaths a minute: the set ones, or the patient's own where those are more."""
    return max(support.number("resp_rate_set"), effort.rate)


def breath_of(support: Support, lung: Lung, effort: Effort) -> Breath | None:
    """The breath that this support gives this lung; None where no machine moves the gas."""
    maker = _MAKERS.get(support.family)
    return None if maker is None else maker(support, lung, effort)


def _volume_control(support: Support, lung: Lung, effort: Effort) -> Breath:
    return volume_breath(
        lung,
        support.number("tidal_volume_set") / ML,
        support.number("flow_rate_set") / SECONDS,
        total_rate(support, effort),
        support.number("peep_set"),
        support.number("inspiratory_pause_set"),
    )


def _pressure_control(support: Support, lung: Lung, effort: Effort) -> Breath:
    return _helped(
        support,
        lung,
        effort,
        support.number("pressure_control_set"),
        support.number("inspiratory_time_set"),
    )


def _helped(support: Support, lung: Lung, effort: Effort, pressure: float, time: float) -> Breath:
    """The patient's muscles add to the volume, not to what the airway's manometer shows."""
    rate, peep = total_rate(support, effort), support.number("peep_set")
    made = pressure_breath(lung, pressure + effort.pressure, time, rate, peep)
    mean = peep + pressure * time * rate / SECONDS
    return replace(made, peak=peep + pressure, mean=mean)


def _volume_targeted(support: Support, lung: Lung, effort: Effort) -> Breath:
    rate, time = total_rate(support, effort), support.number("inspiratory_time_set")
    volume = support.number("tidal_volume_set") / ML
    pressure = pressure_for_volume(lung, volume, time, rate)
    return pressure_breath(lung, pressure, time, rate, support.number("peep_set"))


OWN_INSPIRATION = 0.9
"""Seconds of a supported breath (typical; engineering judgement)."""


def _pressure_support(support: Support, lung: Lung, effort: Effort) -> Breath:
    pressure = support.number("pressure_support_set")
    return _helped(support, lung, effort, pressure, OWN_INSPIRATION)


_MAKERS: Mapping[str, Callable[[Support, Lung, Effort], Breath]] = {
    "ac_vc": _volume_control,
    "ac_pc": _pressure_control,
    "ac_vtpc": _volume_targeted,
    "csv_ps": _pressure_support,
}
