"""What a check says of the breath: pressures, volumes, rate, leak, oxygen."""

import math
from decimal import Decimal

from app.charting.derive import work_out
from app.charting.facts import Kind
from app.charting.terms import WorkedOut
from app.physiology.answer import Answer, NotAvailable, Query, Value
from app.physiology.gates import LEAST_LEAK_ML
from app.rules.attempts import plateau_counts, was_tried
from app.rules.watch.seen import Seen

_VOLUME_IS_SET = frozenset({"ac_vc", "simv_vc"})
_MANDATORY = frozenset({"ac_vc", "ac_pc", "ac_vtpc", "simv_vc", "simv_pc", "simv_vtpc"})
_SET_OR_TARGET = frozenset({"ac_vc", "ac_vtpc", "simv_vc", "simv_vtpc"})
_NOT_READ_OFF = frozenset({"standby", "manual"})

FLAT_CURVE = 97
"""Over this SpO2 says nothing of oxygenation (decision 18)."""

HIGH_OXYGEN = 40
"""FiO2 in percent over which an SpO2 above the band is told as information."""

NO_TUBE = frozenset({"mask", "nasal_cannula", "none"})
_OF_A_HOLD = ("plateau_pressure_obs", "peep_total", "hold_passive")


def breath_series(seen: Seen) -> None:
    """Fill every series of a check. In standby nothing is read."""
    if seen.moment.family in _NOT_READ_OFF:
        return
    _holds(seen)
    _volumes(seen)
    _leak(seen)
    _oxygen(seen)
    _rate(seen)


def _holds(seen: Seen) -> None:
    plateau = seen.number("plateau_pressure_obs")
    total = seen.number("peep_total")
    wanted = ["driving_pressure"]
    if total is not None:
        wanted.append("auto_peep")
    if plateau is not None or total is not None or _says_something(seen):
        told = work_out(seen.moment, wanted)
        for key in ("driving_pressure", "auto_peep"):
            _put_index(seen, key, told.get(key))
        _plateau(seen, plateau, told["driving_pressure"].answer)
        _resistance(seen, plateau)
    _dynamic(seen)


def _says_something(seen: Seen) -> bool:
    """Whether a row without a plateau still says something of holds: why there is none, that there
    was effort, or a mode or an airway in which a hold means nothing."""
    if seen.row.kind is not Kind.FULL:
        return False
    possible = seen.family.mechanics_by_hold and seen.tube not in NO_TUBE
    return not possible or any(code in seen.row.readings for code in _OF_A_HOLD)


def _put_index(seen: Seen, key: str, told: WorkedOut | None) -> None:
    """The index as displayed, or why there is none where somebody tried (decision 28)."""
    if told is None:
        return
    answer = told.answer
    if isinstance(answer, Value):
        seen.put(key, float(answer.shown))
    elif isinstance(answer, NotAvailable | Query) and was_tried(told):
        applicable = not isinstance(answer, NotAvailable) or answer.applicable
        seen.cannot(key, answer.reason, applicable=applicable)


def _plateau(seen: Seen, plateau: Decimal | None, driving: Answer) -> None:
    """A plateau counts where the driving pressure does, or would with a PEEP beside it."""
    if plateau is None or not plateau_counts(driving):
        if "driving_pressure" in seen.why:
            seen.why["plateau"] = seen.why["driving_pressure"]
        return
    seen.put("plateau", plateau, 1)
    _compliance(seen, plateau)


def _compliance(seen: Seen, plateau: Decimal) -> None:
    peep, volume = seen.setting("peep_set"), _breath_volume(seen)
    if peep is None or volume is None or plateau <= peep:
        return
    seen.values["compliance"] = float(volume) / float(plateau - peep)


def _breath_volume(seen: Seen) -> Decimal | None:
    """The set volume where the mode sets one, else the measured one unless a leak takes of it."""
    if seen.moment.family in _VOLUME_IS_SET:
        return seen.setting("tidal_volume_set") or None
    leak = seen.number("leak_percent")
    if leak is not None and leak > 15:
        return None
    return seen.number("tidal_volume_obs") or None


def _resistance(seen: Seen, plateau: Decimal | None) -> None:
    """Resistance where it is valid; else peak less plateau in volume control, unless the flow is
    said to fall within the breath: a pattern that nobody names and nobody changes compares fairly.

    A plateau that counts has passed every check of the resistance but that of the flow; a test
    holds the result to the index's own.
    """
    peak, pattern = (
        seen.number("peak_inspiratory_pressure_obs"),
        seen.moment.settings.get("flow_pattern"),
    )
    if seen.moment.family != "ac_vc" or "plateau" not in seen.values or peak is None:
        return
    if plateau is None or peak < plateau:
        return
    flow = seen.setting("flow_rate_set")
    if pattern is not None and pattern.word == "constant" and flow:
        if peak > plateau:
            seen.values["resistance"] = float(peak - plateau) * 60 / float(flow)
    elif pattern is None or pattern.word == "constant":
        seen.values["peak_less_plateau"] = float(peak - plateau)


def _dynamic(seen: Seen) -> None:
    """Set volume over peak − set PEEP, in volume control only, unless effort was seen; and the mean
    of both compliances, whose static one is read from the peak where no plateau was charted."""
    if seen.moment.family != "ac_vc" or seen.word("hold_passive") == "no":
        return
    peak, peep = seen.number("peak_inspiratory_pressure_obs"), seen.setting("peep_set")
    volume = seen.setting("tidal_volume_set")
    if peak is None or peep is None or not volume or peak <= peep:
        return
    seen.values["compliance_dynamic"] = float(volume) / float(peak - peep)
    static = seen.values.get("compliance")
    if static is None and "plateau_pressure_obs" not in seen.row.readings:
        static = _from_the_peak(seen, float(peak - peep), float(volume))
    if static is not None:
        both = static * seen.values["compliance_dynamic"]
        seen.values["compliance_both"] = math.sqrt(both)


def _from_the_peak(seen: Seen, above: float, volume: float) -> float | None:
    """Static compliance as the peak tells it where nobody charted a plateau: for the mean of both
    compliances only, and only while the breath is given as it was."""
    if seen.usual_gap is None or above <= seen.usual_gap:
        return None
    return volume / (above - seen.usual_gap)


def _volumes(seen: Seen) -> None:
    family, weight = seen.moment.family, seen.weight
    measured, volume = seen.number("tidal_volume_obs"), seen.setting("tidal_volume_set")
    if family not in _SET_OR_TARGET:
        volume = None
    if weight is None:
        for series in ("vt_set_per_kg", "vt_measured_per_kg"):
            seen.cannot(series, "no predicted weight: height or sex not known")
        return
    if volume:
        seen.put("vt_set_per_kg", volume / weight, 1)
        _against_order(seen, volume / weight)
    own = seen.family.spontaneous and seen.family.invasive
    ordered = seen.targets.tidal_volume_ml_kg is not None
    if measured and (family in _MANDATORY or (own and ordered)):
        # Own breaths are told as information, unless a volume was ordered (decision 24).
        seen.put("vt_measured_per_kg", measured / weight, 1)
    elif measured and own:
        seen.put("vt_own_per_kg", measured / weight, 1)
    elif family in _MANDATORY:
        seen.measured("vt_unread", "tidal_volume_obs")
        if "vt_unread" in seen.why:
            seen.why["vt_measured_per_kg"] = seen.why.pop("vt_unread")


def _against_order(seen: Seen, per_kg: Decimal) -> None:
    ordered = seen.number("tidal_volume_target_ml_kg") or seen.targets.tidal_volume_ml_kg
    if ordered is not None:
        seen.put("vt_over_order", per_kg - ordered, 1)


def _leak(seen: Seen) -> None:
    if seen.word("leak_audible"):
        seen.values["leak_audible"] = float(seen.word("leak_audible") == "yes")
    measured, volume = seen.number("tidal_volume_obs"), seen.setting("tidal_volume_set")
    if seen.moment.family not in _SET_OR_TARGET or not volume or measured is None:
        return
    lost = volume - measured
    seen.put("leak", lost * 100 / volume if lost >= LEAST_LEAK_ML else Decimal(0))


def _oxygen(seen: Seen) -> None:
    spo2 = seen.measured("spo2", "spo2")
    oxygen = seen.setting("fio2_set") if "fio2_set" in seen.row.readings else None
    if oxygen is not None:
        seen.put("fio2", oxygen)
    peep = seen.setting("peep_set") if "peep_set" in seen.row.readings else None
    if peep is not None:
        seen.values["peep"] = float(peep)
    _band(seen, spo2)
    known = seen.setting("fio2_set")
    if spo2 is not None and known and spo2 <= FLAT_CURVE:
        seen.values["sf"] = float(spo2) * 100 / float(known)
    if seen.moment.family == "hfnc":
        _rox(seen)


def _band(seen: Seen, spo2: Decimal | None) -> None:
    """Without a band ordered for this patient nothing can be said of SpO2 (decision 27)."""
    low, high = seen.targets.spo2_low, seen.targets.spo2_high
    if low is None:
        seen.values.pop("spo2", None)
        seen.cannot("spo2", "no band ordered for this patient")
    oxygen = seen.setting("fio2_set")
    if high is not None and spo2 is not None and oxygen is not None:
        over = float(spo2 - high) if oxygen > HIGH_OXYGEN else 0.0
        seen.values["spo2_over_band"] = max(0.0, over)


_CUT_OFFS = ((12.0, 3.85), (6.0, 3.47), (2.0, 2.85))
"""Hours on high flow and the ROX under which failure was likelier (Roca 2019)."""


def _rox(seen: Seen) -> None:
    """Whether ROX lies under the cut-off of its hour; before the second hour there is none."""
    answer = work_out(seen.moment, ("rox",))["rox"].answer
    hours = seen.family_hours
    cut_off = next((limit for since, limit in _CUT_OFFS if hours >= since), None)
    if isinstance(answer, Value) and cut_off is not None:
        seen.values["rox_under"] = float(float(answer.shown) < cut_off)


def _rate(seen: Seen) -> None:
    rate = seen.measured("rate", "resp_rate_obs")
    if rate is None:
        return
    if not seen.family.invasive:
        seen.values["rate_open"] = seen.values["rate"]
