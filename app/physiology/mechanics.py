"""Pressures and what follows from them: driving pressure, compliance, resistance, auto-PEEP."""

from decimal import Decimal

from app.physiology.body_size import tidal_volume
from app.physiology.contradictions import (
    driving_pressure_under_peak,
    minute_volume_agrees,
    peak_over_peep,
    plateau_never_over_peak,
    plateau_over_peep,
    plateau_under_peak,
    total_peep_over_set,
)
from app.physiology.display import typed_places
from app.physiology.gates import (
    constant_flow,
    family_of,
    hold_possible,
    little_leak,
    no_effort,
    no_support_breaths,
    one_peep,
    passive,
    passive_if_asked,
    set_volume_returns,
    volume_breaths,
)
from app.physiology.working import Inputs, Worked, asked, unavailable, works_out

_PEEPS = ("peep_total", "peep_set", "peep")
AGREEMENT = Decimal(1)
"""cmH2O by which a driving pressure that is given may differ from plateau − PEEP beside it."""


def peep_in_use(take: Inputs) -> tuple[Decimal, str]:
    """cmH2O and which PEEP it is: total where it was measured, else set (decisions 4 and 22)."""
    total = take.optional("peep_total")
    if total is None:
        name, peep = take.first_of("peep_set", "peep")
        return peep, "from set PEEP: total not measured" if name == "peep_set" else "from PEEP"
    set_peep = take.any_of("peep_set", "peep")
    if set_peep is not None and total < set_peep:
        return set_peep, f"from set PEEP: total read {total.normalize():f}, auto-PEEP counts as 0"
    return total, "from total PEEP"


def swing(take: Inputs) -> Worked:
    """Plateau − PEEP in cmH2O, of a hold that the caller's checks have let through."""
    plateau = take.number("pplat")
    peep, basis = peep_in_use(take)
    if plateau <= peep:
        raise asked(f"plateau {plateau:f} is not above PEEP {peep:f} cmH2O")
    family = family_of(take)
    if family is not None and not family.controlled:
        basis += "; of a mandatory breath"
    return Worked(plateau - peep, basis, places=typed_places(plateau, peep, most=1))


def driving_pressure_of(take: Inputs) -> Worked:
    """The driving pressure that is given, else plateau − PEEP; a check on the hold comes before."""
    given = take.optional("driving_pressure")
    if given is None:
        return swing(take)
    if given.is_zero():
        raise unavailable("driving pressure is zero")
    if take.any_of("pplat") is not None and take.any_of(*_PEEPS) is not None:
        worked = swing(take)
        if abs(worked.number - given) > AGREEMENT:
            told = f"driving pressure {given:f} against plateau − PEEP {worked.number:f}"
            raise asked(f"{told} cmH2O")
    return Worked(given)


def passive_plateau(take: Inputs) -> None:
    """Closed unless there is a plateau of a passive breath; why it was not done is said first."""
    take.number("pplat")
    passive(take)


def passive_plateau_or_given(take: Inputs) -> None:
    """As `passive_plateau`, but open to a driving pressure that somebody else worked out."""
    if take.optional("driving_pressure") is None:
        passive_plateau(take)
    else:
        passive_if_asked(take)


_HOLD = (hold_possible, no_effort, total_peep_over_set, plateau_over_peep, plateau_under_peak)
"""What rules a hold out and what contradicts it; what nobody answered comes after these."""


@works_out("cmH2O", 0, *_HOLD, passive_plateau)
def driving_pressure(take: Inputs) -> Worked:
    """Plateau − PEEP in cmH2O: total PEEP where it was measured, else set; the basis says which.

    Only a passive end-inspiratory hold through a tube counts; passive unanswered is no value
    (decisions 4 and 5). One decimal only where the typed values carry one (decision 16).
    Source: the driving-pressure definition in PMC7449829, Table 1; Amato 2015 from memory.
    """
    return swing(take)


@works_out(
    "mL/cmH2O",
    0,
    little_leak,
    set_volume_returns,
    minute_volume_agrees,
    *_HOLD,
    driving_pressure_under_peak,
    passive_plateau_or_given,
)
def compliance_static(take: Inputs) -> Worked:
    """Tidal volume (mL) over driving pressure (cmH2O).

    Holds where the driving pressure holds and the leak is at most 15 %, read off or missing from a
    set volume; from total PEEP where it was measured (decision 4). No plateau, no value.
    Source: PMC7449829, Table 1.
    """
    volume, origin = tidal_volume(take)
    pressure = driving_pressure_of(take)
    basis = "; ".join(filter(None, (origin, pressure.basis)))
    return Worked(volume / pressure.number, basis)


@works_out(
    "mL/cmH2O",
    0,
    no_support_breaths,
    one_peep,
    no_effort,
    little_leak,
    set_volume_returns,
    peak_over_peep,
    plateau_under_peak,
    minute_volume_agrees,
)
def compliance_dynamic(take: Inputs) -> Worked:
    """Tidal volume (mL) over peak − PEEP (cmH2O): resistance is in it, so never called static.

    Comparable over time only in volume control at the same flow; not in support breaths, and not
    at two pressure levels.
    Source: a teaching page on compliance (open anaesthesia text).
    """
    volume, origin = tidal_volume(take)
    peak = take.number("ppeak")
    _, peep = take.first_of("peep", "peep_set", "peep_total")
    return Worked(volume / (peak - peep), origin)


@works_out(
    "cmH2O/(L/s)",
    0,
    volume_breaths,
    constant_flow,
    no_effort,
    plateau_never_over_peak,
    plateau_over_peep,
    passive_if_asked,
)
def airway_resistance(take: Inputs) -> Decimal:
    """(Peak − plateau) in cmH2O over the inspiratory flow in L/s, the tube's resistance included.

    Only volume control with a constant flow that was set, a hold and a passive breath; otherwise
    no value. Source: equation of motion; this arrangement from memory (Hess and Kacmarek).
    """
    peak, plateau = take.number("ppeak"), take.number("pplat")
    flow = take.above_zero("flow")
    if peak == plateau:
        raise asked("peak equals plateau: one of them typed twice?")
    return (peak - plateau) * 60 / flow


@works_out("cmH2O", 0, hold_possible, no_effort, total_peep_over_set, passive_if_asked)
def auto_peep(take: Inputs) -> Worked:
    """Total PEEP of an end-expiratory hold − set PEEP, cmH2O.

    Not measured is no value, never 0. Up to 1 below set counts as 0 with a note; more is asked
    (decision 22). Source: textbooks, from memory; the AARC guideline of 2024 asks for both.
    """
    total = take.number("peep_total")
    _, set_peep = take.first_of("peep_set", "peep")
    places = typed_places(total, set_peep, most=1)
    if total < set_peep:
        return Worked(Decimal(0), f"total read {total.normalize():f}, below set", places)
    return Worked(total - set_peep, places=places)


@works_out("s", 2, hold_possible, little_leak, passive_if_asked)
def time_constant(take: Inputs) -> Decimal:
    """Resistance (cmH2O/(L/s)) × compliance (mL/cmH2O) / 1000, in seconds.

    One compartment, passive expiration; inspiratory resistance stands in for expiratory. Zero of
    either gives no value. Source: letter, Crit Care 2013, doi 10.1186/cc12561.
    """
    return take.above_zero("resistance") * take.above_zero("compliance") / 1000
