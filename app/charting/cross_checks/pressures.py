"""Pressures against each other, and what a hold can mean in the mode it was made in.

Bounds without a source are engineering judgement.
"""

from decimal import Decimal

from app.charting.cross_checks.finding import Findings, Seen, told

PLATEAU, PEAK, MEAN = (
    "plateau_pressure_obs",
    "peak_inspiratory_pressure_obs",
    "mean_airway_pressure_obs",
)
PEEP, TOTAL = "peep_set", "peep_total"

VOLUME_TOLERANCE = Decimal(1)
"""cmH2O by which a plateau may stand above a volume breath's peak: two breaths, one display."""
TOTAL_TOLERANCE = Decimal(1)
"""cmH2O by which total PEEP may stand below set: read as auto-PEEP 0 (decision 22)."""


def plateau_above_peak(seen: Seen) -> Findings:
    """Asked: more than 1 above the peak in volume control, above it at all elsewhere.

    Up to 1 is kept in volume control and noted, since no driving pressure comes of it.
    """
    plateau, peak = seen.number(PLATEAU), seen.number(PEAK)
    if plateau is None or peak is None:
        return
    volume = seen.family.code in ("ac_vc", "simv_vc")
    if plateau > peak + (VOLUME_TOLERANCE if volume else 0):
        sentence = f"{told(PLATEAU, plateau)} is above {told(PEAK, peak)}. Swapped?"
        yield seen.question("plateau_above_peak", (PLATEAU, PEAK), sentence)
    elif plateau > peak:
        sentence = f"{told(PLATEAU, plateau)} is above {told(PEAK, peak)}: no driving pressure."
        yield seen.note("plateau_just_above_peak", (PLATEAU, PEAK), sentence)


def plateau_not_above_peep(seen: Seen) -> Findings:
    """Blocked where a driving pressure would be worked out of it, asked elsewhere."""
    plateau, total = seen.number(PLATEAU), seen.number(TOTAL)
    code = PEEP if total is None else TOTAL
    peep = seen.set_number(PEEP) if total is None else total
    if plateau is None or peep is None or plateau > peep:
        return
    sentence = f"{told(PLATEAU, plateau)} is not above {told(code, peep)}. Wrong line?"
    wanted = seen.family.mechanics_by_hold and seen.word("hold_passive") == "yes"
    finding = seen.block if wanted else seen.question
    yield finding("plateau_not_above_peep", (PLATEAU, code), sentence)


def total_peep_below_set(seen: Seen) -> Findings:
    """Noted up to 1 below set (auto-PEEP counts as 0), asked beyond (decision 22)."""
    total, set_peep = seen.number(TOTAL), seen.set_number(PEEP)
    if total is None or set_peep is None or total >= set_peep:
        return
    below = f"{told(TOTAL, total)} is below {told(PEEP, set_peep)}"
    if total < set_peep - TOTAL_TOLERANCE:
        yield seen.question("total_peep_below_set", (TOTAL, PEEP), f"{below}. Is it right?")
    else:
        sentence = f"{below}: auto-PEEP counts as 0 and driving pressure uses set PEEP."
        yield seen.note("total_peep_just_below_set", (TOTAL, PEEP), sentence)


def mean_outside_breath(seen: Seen) -> Findings:
    """Asked: mean pressure outside PEEP to peak; at an end only where every breath is forced."""
    mean = seen.number(MEAN)
    if mean is None:
        return
    for code, end, side in (
        (PEEP, seen.set_number(PEEP), -1),
        (PEAK, seen.number(PEAK), 1),
    ):
        if end is None:
            continue
        beyond = (mean - end) * side
        if beyond > 0 or (beyond == 0 and seen.family.controlled):
            word = "below" if side < 0 else "above"
            sentence = f"{told(MEAN, mean)} is at or {word} {told(code, end)}. Is it right?"
            yield seen.question("mean_pressure_outside", (MEAN, code), sentence)


def peak_below_peep(seen: Seen) -> Findings:
    """Asked: a peak under PEEP; at PEEP where every breath is forced."""
    peak, peep = seen.number(PEAK), seen.set_number(PEEP)
    if peak is None or peep is None:
        return
    if peak < peep or (peak == peep and seen.family.controlled):
        sentence = f"{told(PEAK, peak)} is not above {told(PEEP, peep)}. Swapped?"
        yield seen.question("peak_below_peep", (PEAK, PEEP), sentence)


def hold_in_assisted_breathing(seen: Seen) -> Findings:
    """Asked: a plateau in a mode where a hold means little (PMC7385937); it is kept with a tag."""
    plateau, family = seen.number(PLATEAU), seen.family
    if plateau is not None and family.code and not family.mechanics_by_hold:
        sentence = (
            f"{told(PLATEAU, plateau)} in {family.short}: a hold in assisted breathing may mislead."
            " It is kept with a tag and gives no driving pressure."
        )
        yield seen.question("hold_in_assisted_breathing", (PLATEAU,), sentence)


def passive_unanswered(seen: Seen) -> Findings:
    """Asked: a hold without a word on effort; passive is never assumed (decision 5).

    Where the patient triggers, the question says so; it suggests neither answer.
    """
    held = [code for code in (PLATEAU, TOTAL) if seen.number(code) is not None]
    if not held or not seen.family.mechanics_by_hold or seen.word("hold_passive"):
        return
    triggers = _patient_triggers(seen)
    sentence = " ".join(
        filter(
            None,
            (
                "Was the patient passive during the hold?",
                f"{triggers}, so the patient triggers." if triggers else "",
                "Unanswered, no mechanics are worked out.",
            ),
        )
    )
    yield seen.question("passive_unanswered", ("hold_passive", *held), sentence)


def passive_while_triggering(seen: Seen) -> Findings:
    """Noted: a hold called passive while the total rate is more than one breath above the set."""
    triggers = _patient_triggers(seen)
    if triggers and seen.word("hold_passive") == "yes":
        sentence = f"The hold is charted as passive; {triggers}, so the patient triggers."
        fields = ("hold_passive", "resp_rate_obs", "resp_rate_set")
        yield seen.note("passive_while_triggering", fields, sentence)


def _patient_triggers(seen: Seen) -> str:
    """ "Rate total 24 /min is above Rate set 20 /min" where it is by more than one breath; else "".

    In mixed and supported modes a total above the set rate is what the mode is for.
    """
    total, set_rate = seen.number("resp_rate_obs"), seen.set_number("resp_rate_set")
    if total is None or set_rate is None or not seen.family.controlled or total <= set_rate + 1:
        return ""
    return f"{told('resp_rate_obs', total)} is above {told('resp_rate_set', set_rate)}"


_LEVELS = (
    ("pressure_high_set", "pressure_low_set"),
    ("ipap_set", "peep_set"),
    ("sbp", "dbp"),
    ("spo2_target_high", "spo2_target_low"),
    ("alarm_minute_vent_high", "alarm_minute_vent_low"),
    ("alarm_tidal_volume_high", "alarm_tidal_volume_low"),
)


def levels_crossed(seen: Seen) -> Findings:
    """Asked: a pair whose upper is not above its lower, charted in this row."""
    for upper, lower in _LEVELS:
        if seen.reading(upper) is None and seen.reading(lower) is None:
            continue
        high, low = seen.set_number(upper), seen.set_number(lower)
        if high is not None and low is not None and high <= low:
            sentence = f"{told(upper, high)} is not above {told(lower, low)}. Swapped?"
            yield seen.question("levels_crossed", (upper, lower), sentence)


def mean_blood_pressure_outside(seen: Seen) -> Findings:
    """Asked: a mean arterial pressure outside its systolic and diastolic."""
    mean, high, low = seen.number("map"), seen.number("sbp"), seen.number("dbp")
    if mean is None or high is None or low is None or low <= mean <= high:
        return
    sentence = f"{told('map', mean)} is not between {spelled_pair(low, high)}. Is it right?"
    yield seen.question("mean_blood_pressure_outside", ("map", "sbp", "dbp"), sentence)


def spelled_pair(low: Decimal, high: Decimal) -> str:
    """ "60 and 120 mmHg"."""
    return f"{low.normalize():f} and {high.normalize():f} mmHg"
