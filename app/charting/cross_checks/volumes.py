"""Volumes, rates and times of a breath against each other.

How often each fires was measured on a public demo set of 59 de-identified stays: minute volume off
volume × rate by a quarter in 11 % of rows (one breath against a minute's average), so that is only
a note; total rate under set in 5 of 693. Bounds are engineering judgement.
"""

from decimal import Decimal

from app.charting.cross_checks.finding import Findings, Seen, told
from app.physiology.breathing import FAMILIES

VOLUME, MINUTE, RATE = "tidal_volume_obs", "minute_vent_obs", "resp_rate_obs"
SET_VOLUME, SET_RATE = "tidal_volume_set", "resp_rate_set"

MINUTE_NOTE = Decimal("0.25")
MINUTE_NOTE_MIXED = Decimal("0.40")
"""Share by which minute volume may lie off volume × rate; wider in mixed, two-level and mask."""
VOLUME_NOTE = Decimal("0.20")
"""Share by which an expired volume may lie off the set one in volume control."""
FACTOR = Decimal(2)
"""A volume this many times too large or small looks like a slip of the key."""
MINUTE_S = 60


def minute_volume_off(seen: Seen) -> Findings:
    """Noted beyond 25 % (40 % in mixed modes), asked at a factor of two or more either way."""
    minute, product = seen.number(MINUTE), _volume_times_rate(seen)
    if minute is None or product is None or product <= 0:
        return
    text = f"{told(MINUTE, minute)} against {_litres(product)} from volume and rate"
    if minute >= product * FACTOR or minute * FACTOR <= product:
        yield seen.question("minute_volume_factor", _MINUTE_FIELDS, f"{text}. Is it right?")
    elif abs(minute - product) > product * _width(seen):
        yield seen.note("minute_volume_off", _MINUTE_FIELDS, f"{text}.")


_MINUTE_FIELDS = (MINUTE, VOLUME, RATE)


def _litres(product: Decimal) -> str:
    return f"{product.quantize(Decimal('0.1')):f} L/min"


def _width(seen: Seen) -> Decimal:
    known = FAMILIES.get(seen.family.code)
    alike = known is None or (known.one_stream and known.tube)
    return MINUTE_NOTE if alike else MINUTE_NOTE_MIXED


def _volume_times_rate(seen: Seen) -> Decimal | None:
    """L/min from what was read: both streams where both were, else one volume times the rate."""
    volume, rate = seen.number(VOLUME), seen.number(RATE)
    if volume is None or rate is None:
        return None
    own_volume = seen.number("tidal_volume_spont_obs")
    own_rate = seen.number("resp_rate_spont_obs")
    if own_volume is None or own_rate is None or own_rate > rate:
        return volume * rate / 1000
    return (volume * (rate - own_rate) + own_volume * own_rate) / 1000


def no_volume_beside_minute_volume(seen: Seen) -> Findings:
    """Asked: a tidal volume of 0 while a minute volume is there."""
    volume, minute = seen.number(VOLUME), seen.number(MINUTE)
    if volume is not None and minute is not None and volume == 0 and minute > 0:
        sentence = f"{told(VOLUME, volume)} beside {told(MINUTE, minute)}. Is it right?"
        yield seen.question("no_volume_beside_minute_volume", (VOLUME, MINUTE), sentence)


def volume_off_set(seen: Seen) -> Findings:
    """Where a volume is set: asked outside half to twice of it; in volume control noted at 20 %."""
    measured, told_volume = seen.number(VOLUME), seen.set_number(SET_VOLUME)
    if measured is None or told_volume is None or told_volume <= 0:
        return
    text = f"{told(VOLUME, measured)} against {told(SET_VOLUME, told_volume)}"
    fields = (VOLUME, SET_VOLUME)
    if measured > told_volume * FACTOR or measured * FACTOR < told_volume:
        yield seen.question("volume_factor", fields, f"{text}. Is it right?")
    elif _volume_control(seen) and abs(measured - told_volume) > told_volume * VOLUME_NOTE:
        yield seen.note("volume_off_set", fields, f"{text}: leak, cuff or circuit?")


def _volume_control(seen: Seen) -> bool:
    return seen.family.code in ("ac_vc", "simv_vc")


def rate_below_set(seen: Seen) -> Findings:
    """Asked: a total rate more than one below the set rate; not in synchronized modes."""
    total, set_rate = seen.number(RATE), seen.set_number(SET_RATE)
    if total is None or set_rate is None or seen.family.code.startswith("simv"):
        return
    if total < set_rate - 1:
        sentence = f"{told(RATE, total)} is below {told(SET_RATE, set_rate)}. Swapped?"
        yield seen.question("rate_below_set", (RATE, SET_RATE), sentence)


def spontaneous_rate_above_total(seen: Seen) -> Findings:
    """Asked: more spontaneous breaths than breaths."""
    own, total = seen.number("resp_rate_spont_obs"), seen.number(RATE)
    if own is not None and total is not None and own > total:
        sentence = f"{told('resp_rate_spont_obs', own)} is above {told(RATE, total)}. Swapped?"
        yield seen.question("spontaneous_rate_above_total", ("resp_rate_spont_obs", RATE), sentence)


def inspiration_too_long(seen: Seen) -> Findings:
    """Asked where inspiration fills the cycle; an inverse ratio is announced."""
    known = FAMILIES.get(seen.family.code)
    inspiration, rate = _inspiration(seen), _cycling_rate(seen)
    if known is None or known.sharing not in ("mandatory", "mixed"):
        return
    if inspiration is None or not rate:
        return
    fields = ("inspiratory_time_set", RATE)
    share = inspiration * rate
    if share >= MINUTE_S:
        sentence = f"Inspiration {inspiration.normalize():f} s leaves no expiration at this rate."
        yield seen.question("inspiration_fills_cycle", fields, sentence)
    elif share * 2 > MINUTE_S:
        yield seen.note("inverse_ratio", fields, "Inspiration is longer than expiration.")


def _cycling_rate(seen: Seen) -> Decimal | None:
    """The total rate where every breath is forced, else the set rate."""
    if seen.family.controlled:
        total = seen.number(RATE)
        return seen.set_number(SET_RATE) if total is None else total
    return seen.set_number(SET_RATE)


def _inspiration(seen: Seen) -> Decimal | None:
    pause = seen.set_number("inspiratory_pause_set") or Decimal(0)
    set_time = seen.set_number("inspiratory_time_set")
    if set_time is not None:
        return set_time + pause
    pattern = seen.in_force("flow_pattern")
    flow, volume = seen.set_number("flow_rate_set"), seen.set_number(SET_VOLUME)
    if pattern is None or pattern.word != "constant" or not flow or volume is None:
        return None
    return volume / 1000 * MINUTE_S / flow + pause
