"""Inputs that cannot all be true: at the bedside they would be asked about, so here they are too.

Each check looks only where all of its inputs are there, and ends the working with a question. The
bounds are engineering judgement unless a source is named.
"""

from decimal import Decimal

from app.physiology.gates import family_of
from app.physiology.working import Inputs, asked

HALF_WIDTH = Decimal("0.25")
HALF_WIDTH_MIXED = Decimal("0.40")
"""How far the minute volume may lie off volume × rate: one breath against a minute's average; wider
where breaths differ among themselves."""


def minute_volume_agrees(take: Inputs) -> None:
    """Asks where the minute volume is more than 25 % off volume × rate (40 % in mixed modes)."""
    volume, measured = take.any_of("vte", "vt", "vt_set"), take.any_of("mve", "ve")
    rate = take.optional("rr")
    if volume is None or measured is None:
        return
    if volume.is_zero() and measured > 0:
        raise asked("tidal volume is 0 beside a minute volume")
    if rate is None or volume.is_zero():
        return
    family = family_of(take)
    alike = family is None or (family.one_stream and family.tube)
    product = volume * rate / 1000
    if abs(measured - product) > product * (HALF_WIDTH if alike else HALF_WIDTH_MIXED):
        told = f"minute volume {measured:f} L/min against {volume:f} mL × {rate:f}/min"
        raise asked(f"{told} = {product.normalize():f}")


def plateau_under_peak(take: Inputs) -> None:
    """Asks where the plateau is above the peak in volume control (or in a mode not named)."""
    family = family_of(take)
    if family is None or family.inflation == "volume":
        plateau_never_over_peak(take)


def plateau_never_over_peak(take: Inputs) -> None:
    """Asks where the plateau is above the peak, whatever the mode says."""
    plateau, peak = take.optional("pplat"), take.optional("ppeak")
    if plateau is not None and peak is not None and plateau > peak:
        raise asked(f"plateau {plateau:f} is above peak {peak:f} cmH2O")


def driving_pressure_under_peak(take: Inputs) -> None:
    """Asks where a driving pressure that is given is larger than the whole peak pressure."""
    pressure, peak = take.optional("driving_pressure"), take.optional("ppeak")
    if pressure is not None and peak is not None and pressure > peak:
        raise asked(f"driving pressure {pressure:f} is above peak {peak:f} cmH2O")


def plateau_over_peep(take: Inputs) -> None:
    """Asks where the plateau is at or below the PEEP it started from: swapped fields?"""
    plateau = take.optional("pplat")
    peep = take.any_of("peep_total", "peep_set", "peep")
    if plateau is not None and peep is not None and plateau <= peep:
        raise asked(f"plateau {plateau:f} is not above PEEP {peep:f} cmH2O")


def peak_over_peep(take: Inputs) -> None:
    """Asks where the peak is at or below PEEP."""
    peak, peep = take.optional("ppeak"), take.any_of("peep", "peep_set", "peep_total")
    if peak is not None and peep is not None and peak <= peep:
        raise asked(f"peak {peak:f} is not above PEEP {peep:f} cmH2O")


def total_peep_over_set(take: Inputs) -> None:
    """Asks where total PEEP is more than 1 below set; up to 1 is a reading error (decision 22)."""
    total, set_peep = take.optional("peep_total"), take.any_of("peep_set", "peep")
    if total is not None and set_peep is not None and total < set_peep - 1:
        raise asked(f"total PEEP {total:f} is more than 1 below set PEEP {set_peep:f} cmH2O")


def mean_within_breath(take: Inputs) -> None:
    """Asks where the mean airway pressure lies outside PEEP to peak."""
    mean, peak = take.optional("pmean"), take.optional("ppeak")
    peep = take.any_of("peep", "peep_set", "peep_total")
    if mean is None:
        return
    if peak is not None and mean > peak:
        raise asked(f"mean pressure {mean:f} is above peak {peak:f} cmH2O")
    if peep is not None and mean < peep:
        raise asked(f"mean pressure {mean:f} is below PEEP {peep:f} cmH2O")


def mixed_expired_under_arterial(take: Inputs) -> None:
    """Asks where mixed expired CO2 is not below arterial: swapped, or in another unit?"""
    mixed, arterial = take.optional("peco2_mixed"), take.optional("paco2")
    if mixed is not None and arterial is not None and mixed >= arterial:
        told = f"mixed expired CO2 {mixed.normalize():f} is not below"
        raise asked(f"{told} arterial {arterial.normalize():f} mmHg")
