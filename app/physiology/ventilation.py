"""Volumes per minute, and how a breath's time is shared between in and out."""

from decimal import Decimal

from app.physiology.body_size import tidal_volume
from app.physiology.contradictions import HALF_WIDTH_MIXED, minute_volume_agrees
from app.physiology.display import fixed
from app.physiology.gates import constant_flow_if_said, family_of, timed_breaths
from app.physiology.working import Inputs, Worked, asked, inapplicable, unavailable, works_out

_STREAMS = ("vt_mand", "rr_mand", "vt_spont", "rr_spont")


@works_out("L/min", 1, minute_volume_agrees)
def minute_ventilation(take: Inputs) -> Worked:
    """Tidal volume (mL) × total rate (/min) / 1000, in L/min.

    Where mandatory and the patient's own breaths are mixed, the sum of both streams; one volume
    times the whole rate would be wrong there, so without both streams only the measured minute
    volume is left. Source: arithmetic; worked example in a college calculation sheet.
    """
    if any(take.optional(name) is not None for name in _STREAMS):
        return _both_streams(take)
    family = family_of(take)
    measured = take.any_of("mve", "ve")
    if family is not None and not family.one_stream:
        if measured is None:
            raise unavailable(f"mixed breaths: both streams are needed ({family.label})", *_STREAMS)
        return _as_measured(measured)
    if measured is not None and (_volume(take) is None or take.optional("rr") is None):
        return _as_measured(measured)
    volume, origin = tidal_volume(take)
    return Worked(volume * take.above_zero("rr") / 1000, origin)


@works_out("L/min", 1, minute_volume_agrees)
def alveolar_ventilation(take: Inputs) -> Decimal:
    """(Tidal volume − dead-space volume) in mL × rate / 1000, in L/min.

    Not where streams are mixed. A dead space as large as the breath is asked about.
    Source: college calculation sheet (worked example).
    """
    family = family_of(take)
    if family is not None and not family.one_stream:
        raise inapplicable(f"breaths are not all alike in this mode ({family.label})")
    volume, _ = tidal_volume(take)
    dead_space, rate = take.number("vd"), take.above_zero("rr")
    if dead_space >= volume:
        raise asked(f"dead space {dead_space:f} mL is not below the breath of {volume:f} mL")
    return (volume - dead_space) * rate / 1000


@works_out("s", 2, timed_breaths)
def expiratory_time(take: Inputs) -> Decimal:
    """60 / total rate − inspiratory time (a pause counts as inspiration), in seconds.

    An inspiratory time as long as the cycle is asked about; a zero rate gives no value.
    Source: teaching page on inspiratory time (worked example); decision 22.
    """
    return _times(take)[1]


@works_out("", 1, timed_breaths)
def ie_ratio(take: Inputs) -> Worked:
    """Expiratory over inspiratory time, shown 1:x, and x:1 where inspiration is the longer.

    From the total rate, a pause counted as inspiration; not in synchronized, support or two-level
    modes (decision 22). Source: teaching page on inspiratory time (worked example).
    """
    inspiration, expiration = _times(take)
    ratio = expiration / inspiration
    if ratio >= 1:
        return Worked(ratio, shown=f"1:{fixed(ratio, 1)}")
    return Worked(ratio, "inverse: inspiration is the longer", shown=f"{fixed(1 / ratio, 1)}:1")


@works_out("s", 2, constant_flow_if_said)
def ti_from_flow(take: Inputs) -> Worked:
    """Tidal volume (L) over flow (L/s) at constant flow, a pause added, in seconds.

    A zero flow or volume gives no value. Source: timing formulas of a student page.
    """
    return _time_from_flow(take)


@works_out("%", 0)
def emptied_fraction(take: Inputs) -> Decimal:
    """What has left the lung after n time constants: 100 × (1 − e^−n), per cent.

    Passive, one compartment. Source: ICM Experimental 2024, doi 10.1186/s40635-024-00612-z.
    """
    return (1 - (-take.number("n_tau")).exp()) * 100


@works_out("", 1)
def te_over_tau(take: Inputs) -> Decimal:
    """Expiratory time over time constant: how many time constants the lung has to empty.

    Zero of either gives no value. Source: letter, Crit Care 2013, doi 10.1186/cc12561.
    """
    return take.above_zero("te") / take.above_zero("tau")


def breath_volume_per_minute(take: Inputs) -> tuple[Decimal, str]:
    """Minute volume in L/min: measured, else volume × rate where breaths are all alike."""
    minute_volume = take.any_of("ve", "mve")
    if minute_volume is not None:
        if minute_volume.is_zero():
            raise unavailable("minute volume is zero")
        return minute_volume, ""
    family = family_of(take)
    if _volume(take) is None or (family is not None and not family.one_stream):
        return take.above_zero("ve"), ""
    return tidal_volume(take)[0] * take.above_zero("rr") / 1000, "minute volume from volume × rate"


def _both_streams(take: Inputs) -> Worked:
    total = _stream(take, "vt_mand", "rr_mand") + _stream(take, "vt_spont", "rr_spont")
    if total.is_zero():
        raise unavailable("both streams are zero")
    measured = take.any_of("mve", "ve")
    if measured is not None and abs(measured - total) > total * HALF_WIDTH_MIXED:
        raise asked(f"minute volume {measured:f} L/min against {total:f} of both streams")
    return Worked(total, "mandatory and spontaneous streams added")


def _stream(take: Inputs, volume: str, rate: str) -> Decimal:
    breaths = take.number(rate)
    return breaths if breaths.is_zero() else take.number(volume) * breaths / 1000


def _as_measured(minute_volume: Decimal) -> Worked:
    if minute_volume.is_zero():
        raise unavailable("minute volume is zero")
    return Worked(minute_volume, "as measured")


def _volume(take: Inputs) -> Decimal | None:
    return take.any_of("vte", "vt", "vt_set")


def _time_from_flow(take: Inputs) -> Worked:
    litres = tidal_volume(take)[0] / 1000
    pause = take.optional("pause") or Decimal(0)
    return Worked(litres * 60 / take.above_zero("flow") + pause, "pause counted" if pause else "")


def _times(take: Inputs) -> tuple[Decimal, Decimal]:
    """Inspiration and expiration in seconds; together they are one cycle."""
    rate = take.above_zero("rr")
    cycle = 60 / rate
    if take.optional("ti") is None and take.optional("flow") is not None:
        constant_flow_if_said(take)
        inspiration = _time_from_flow(take).number
    else:
        inspiration = take.above_zero("ti") + (take.optional("pause") or Decimal(0))
    if inspiration * rate >= 60:
        told = f"inspiration {inspiration.normalize():f} s is not shorter than the cycle"
        raise asked(f"{told} of {fixed(cycle, 2)} s")
    return inspiration, cycle - inspiration
