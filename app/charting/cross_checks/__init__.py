"""Whether the readings of a row can all be true: asked at saving, never a silent change.

A finding is a note, a question or a block; a block can still be recorded "as found" and becomes an
open task, so that no check ever stops a true finding (decision 29).
"""

from collections.abc import Callable

from app.charting.cross_checks import (
    gases,
    orders,
    pressures,
    row_itself,
    tube_and_gear,
    volumes,
)
from app.charting.cross_checks.finding import Context, Finding, Findings, Seen, Weight
from app.charting.facts import Assessment

__all__ = ["CHECKS", "Context", "Finding", "Weight", "check"]

CHECKS: tuple[Callable[[Seen], Findings], ...] = (
    row_itself.in_the_future,
    row_itself.before_support,
    row_itself.after_end,
    row_itself.while_away,
    row_itself.device_elsewhere,
    row_itself.many_jumps,
    row_itself.everything_repeats,
    row_itself.sedation_score_under_block,
    tube_and_gear.depth_changed,
    tube_and_gear.depth_without_reference,
    tube_and_gear.reference_changed,
    tube_and_gear.size_changed,
    tube_and_gear.cuff_pressure_without_cuff,
    tube_and_gear.speaking_valve_on_a_cuff,
    pressures.levels_crossed,
    pressures.mean_blood_pressure_outside,
    orders.volume_off_order,
    orders.saturation_off_order,
    volumes.minute_volume_off,
    volumes.no_volume_beside_minute_volume,
    volumes.volume_off_set,
    volumes.rate_below_set,
    volumes.spontaneous_rate_above_total,
    volumes.inspiration_too_long,
    pressures.peak_below_peep,
    pressures.mean_outside_breath,
    pressures.hold_in_assisted_breathing,
    pressures.plateau_above_peak,
    pressures.plateau_not_above_peep,
    pressures.passive_unanswered,
    pressures.passive_while_triggering,
    pressures.total_peep_below_set,
    tube_and_gear.pressure_alarm_off,
    tube_and_gear.minute_volume_alarm_off,
    tube_and_gear.two_humidifiers,
    tube_and_gear.hme_unsuited,
    gases.specimen_not_named,
    gases.oxygen_at_sample_differs,
    gases.oxygen_above_ceiling,
    gases.bicarbonate_off,
    gases.end_tidal_against_arterial,
    gases.saturation_gap,
)
"""Every check, in the order in which its findings are read: whose row, tube, breath, hold, gas."""


def check(row: Assessment, context: Context) -> tuple[Finding, ...]:
    """Everything that does not fit in this row, in bedside order; nothing where all fits.

    Pure: the time, what is in force and what came before stand in the context. A check whose inputs
    are missing says nothing, for missing is no contradiction.
    """
    seen = Seen(row, context)
    return tuple(finding for look in CHECKS for finding in look(seen))
