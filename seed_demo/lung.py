"""One-compartment mechanics: the pressures of a breath in a lung that is one bag behind one tube.

Equation of motion, passive: Paw = V/C + R · flow + total PEEP. The lung empties as exp(−t/τ) with
τ = R · C, so a breath that starts early leaves gas behind: the trapped volume. Volumes are litres,
pressures cmH2O, times seconds, flows L/s. Source: the one-compartment model as worked in Crit Care
2013 (10.1186/cc12561), whose figures the tests hold it to; textbook elsewhere (from memory).
"""

import math

from msgspec import Struct

SECONDS = 60.0


class Lung(Struct, frozen=True):
    """Compliance of lung and chest wall, L/cmH2O, behind one resistance, cmH2O/(L/s)."""

    compliance: float
    resistance: float

    def __post_init__(self) -> None:
        if self.compliance <= 0 or self.resistance <= 0:
            raise ValueError("a lung needs a compliance and a resistance above zero")

    @property
    def time_constant(self) -> float:
        """R · C, seconds: in that time a passive lung loses 63 % of what is above its rest."""
        return self.resistance * self.compliance

    def left_after(self, seconds: float) -> float:
        """The share of a volume that is still there after so long a passive expiration."""
        return math.exp(-seconds / self.time_constant)


class Breath(Struct, frozen=True):
    """What one breath of a steady run does: its volume and the pressures at the airway."""

    volume: float
    peak: float
    plateau: float
    mean: float
    total_peep: float
    expiratory_time: float


def trapped_volume(lung: Lung, volume: float, expiratory_time: float) -> float:
    """Litres above rest at the end of expiration, once breaths have become alike.

    What is left of volume and trapped gas together is the trapped gas again: v = (V + v) · e, with
    e the share left, so v = V · e / (1 − e).
    """
    left = lung.left_after(expiratory_time)
    return volume * left / (1 - left)


def intrinsic_peep(lung: Lung, volume: float, expiratory_time: float) -> float:
    """Auto-PEEP, cmH2O: the pressure of the trapped volume."""
    return trapped_volume(lung, volume, expiratory_time) / lung.compliance


def volume_breath(
    lung: Lung, volume: float, flow: float, rate: float, peep: float, pause: float = 0.0
) -> Breath:
    """A breath of a set volume at a constant flow. Raises ValueError when no time is left to
    breathe out."""
    cycle, filling = SECONDS / rate, volume / flow
    emptying = cycle - filling - pause
    if emptying <= 0:
        raise ValueError("inspiration fills the whole cycle")
    base = peep + intrinsic_peep(lung, volume, emptying)
    plateau = base + volume / lung.compliance
    while_filling = base + lung.resistance * flow + volume / (2 * lung.compliance)
    area = while_filling * filling + plateau * pause + peep * emptying
    return Breath(
        volume=volume,
        peak=plateau + lung.resistance * flow,
        plateau=plateau,
        mean=area / cycle,
        total_peep=base,
        expiratory_time=emptying,
    )


def pressure_breath(
    lung: Lung, pressure: float, inspiratory_time: float, rate: float, peep: float
) -> Breath:
    """A breath of a constant pressure above PEEP for a set time; the volume follows from it.

    With a and b the shares left after inspiration and expiration, the steady volume at the end of
    inspiration is C · ΔP · (1 − a) / (1 − a · b), and what expiration leaves of it is trapped.
    """
    cycle = SECONDS / rate
    emptying = cycle - inspiratory_time
    if emptying <= 0:
        raise ValueError("inspiration fills the whole cycle")
    rising, left = lung.left_after(inspiratory_time), lung.left_after(emptying)
    filled = lung.compliance * pressure * (1 - rising) / (1 - rising * left)
    trapped = filled * left
    return Breath(
        volume=filled - trapped,
        peak=peep + pressure,
        plateau=peep + filled / lung.compliance,
        mean=peep + pressure * inspiratory_time / cycle,
        total_peep=peep + trapped / lung.compliance,
        expiratory_time=emptying,
    )


def pressure_for_volume(lung: Lung, volume: float, inspiratory_time: float, rate: float) -> float:
    """The pressure above PEEP that reaches a volume: the volume grows in step with the pressure."""
    of_one = pressure_breath(lung, 1.0, inspiratory_time, rate, 0.0).volume
    return volume / of_one
