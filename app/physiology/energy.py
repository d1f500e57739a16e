"""Mechanical power: the work that the machine does on lung and chest wall in a minute.

Three printed forms that do not agree with each other; each result names its form, and a trend never
joins two of them (decision 21).
"""

from decimal import Decimal

from app.physiology.body_size import tidal_volume
from app.physiology.breathing import UNKNOWN
from app.physiology.contradictions import (
    driving_pressure_under_peak,
    minute_volume_agrees,
    peak_over_peep,
    plateau_never_over_peak,
    plateau_over_peep,
    total_peep_over_set,
)
from app.physiology.gates import (
    constant_flow_if_said,
    family_of,
    machine_breaths,
    no_effort,
    passive_if_asked,
    pressure_breaths,
    volume_breaths,
)
from app.physiology.mechanics import driving_pressure_of, peep_in_use
from app.physiology.ventilation import breath_volume_per_minute
from app.physiology.working import (
    Inputs,
    Worked,
    asked,
    unavailable,
    works_out,
)

JOULES = Decimal("0.098")
"""1 L × cmH2O in joules, as rounded in the published forms."""

_QUIET = (machine_breaths, no_effort)
_VOLUME = (*_QUIET, volume_breaths, constant_flow_if_said)


@works_out(
    "J/min",
    1,
    *_VOLUME,
    plateau_never_over_peak,
    total_peep_over_set,
    plateau_over_peep,
    driving_pressure_under_peak,
    minute_volume_agrees,
    passive_if_asked,
)
def mechanical_power_vc(take: Inputs) -> Worked:
    """0.098 × rate × volume (L) × (peak − ½ × (plateau − PEEP)), J/min.

    Volume control at constant flow, passive, with a plateau. Source: Gattinoni 2016, the simplified
    form as a public file quotes it.
    """
    return _by_plateau(take)


@works_out(
    "J/min",
    1,
    *_VOLUME,
    peak_over_peep,
    plateau_never_over_peak,
    minute_volume_agrees,
    passive_if_asked,
)
def mechanical_power_vc_surrogate(take: Inputs) -> Worked:
    """Minute volume × (peak + PEEP + flow/6) / 20, J/min; flow in L/min.

    Volume control at constant flow, passive, no plateau needed: it assumes a resistance of 10.
    Source: Giosa 2019.
    """
    return _by_flow(take)


@works_out("J/min", 1, *_QUIET, pressure_breaths, minute_volume_agrees, passive_if_asked)
def mechanical_power_pc_surrogate(take: Inputs) -> Worked:
    """0.098 × rate × volume (L) × (inspiratory pressure above PEEP + PEEP), J/min.

    PEEP is the set one, from which that pressure counts, also beside a total one. Pressure
    control, passive, a steep rise. An inspiratory pressure needs its basis (above PEEP or
    absolute); without it the answer is a question. Source: Becher 2019, as public code quotes it.
    """
    return _by_pressure(take)


@works_out(
    "J/min",
    1,
    *_QUIET,
    plateau_never_over_peak,
    total_peep_over_set,
    plateau_over_peep,
    peak_over_peep,
    driving_pressure_under_peak,
    minute_volume_agrees,
    passive_if_asked,
)
def mechanical_power(take: Inputs) -> Worked:
    """The form that the mode and the readings allow, named beside the number, J/min.

    Volume control at constant flow: by the plateau, else by the flow; pressure control: by the
    inspiratory pressure. A mode that is not known gives no value (decision 21).
    """
    family = family_of(take) or UNKNOWN
    if family is UNKNOWN:
        raise unavailable("mode is not known: the form cannot be chosen", "family")
    if family.inflation == "pressure":
        return _by_pressure(take)
    constant_flow_if_said(take)
    if take.any_of("pplat", "driving_pressure") is not None:
        return _by_plateau(take)
    if take.optional("flow") is None:
        raise unavailable("neither plateau nor flow is known", "pplat", "flow")
    return _by_flow(take)


def _by_plateau(take: Inputs) -> Worked:
    peak = take.number("ppeak")
    pressure = driving_pressure_of(take)
    litres_a_minute = _volume_by_rate(take)
    mean = peak - pressure.number / 2
    basis = "; ".join(filter(None, ("volume-control form", pressure.basis)))
    return Worked(JOULES * litres_a_minute * mean, basis)


def _by_flow(take: Inputs) -> Worked:
    volume, _ = breath_volume_per_minute(take)
    peak, peep = take.number("ppeak"), peep_in_use(take)[0]
    power = volume * (peak + peep + take.above_zero("flow") / 6) / 20
    return Worked(power, "volume-control surrogate")


def _by_pressure(take: Inputs) -> Worked:
    """The pressure is set above set PEEP: trapped air raises what the lung starts from, not what
    the machine reaches."""
    _, peep = take.first_of("peep_set", "peep", "peep_total")
    power = JOULES * _volume_by_rate(take) * (_above_peep(take, peep) + peep)
    return Worked(power, "pressure-control surrogate")


def _volume_by_rate(take: Inputs) -> Decimal:
    return tidal_volume(take)[0] / 1000 * take.above_zero("rr")


def _above_peep(take: Inputs, peep: Decimal) -> Decimal:
    """The inspiratory pressure above PEEP; which of the two was typed is asked, never guessed."""
    above = take.optional("dp_insp_above_peep")
    if above is None:
        above = _by_basis(take, take.number("pinsp"), peep)
    if above.is_zero():
        raise unavailable("inspiratory pressure above PEEP is zero")
    return above


def _by_basis(take: Inputs, pressure: Decimal, peep: Decimal) -> Decimal:
    basis = take.word("basis")
    if basis == "above_peep":
        return pressure
    if basis != "absolute":
        raise asked(f"inspiratory pressure {pressure:f}: above PEEP or absolute?")
    if pressure <= peep:
        raise asked(f"absolute inspiratory pressure {pressure:f} is not above PEEP {peep:f} cmH2O")
    return pressure - peep
