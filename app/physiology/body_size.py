"""Predicted body weight, and tidal volume against it."""

from decimal import Decimal

from app.physiology.contradictions import minute_volume_agrees
from app.physiology.gates import adults_only
from app.physiology.working import Inputs, Worked, asked, unavailable, works_out

INCH = Decimal("2.54")
SMALLEST_PBW = Decimal(20)
"""kg. The adult line crosses zero near one metre; nothing under this is shown (decision 1)."""

_MALE = frozenset({"m", "male"})
_FEMALE = frozenset({"f", "female"})
_VOLUME_NAMES = {"vte": "measured expired volume", "vt_set": "set volume"}


def tidal_volume(take: Inputs) -> tuple[Decimal, str]:
    """mL and where they come from: measured first, set where nothing was measured."""
    name, volume = take.first_of("vte", "vt", "vt_set")
    if volume.is_zero():
        raise unavailable("tidal volume is zero")
    return volume, _VOLUME_NAMES.get(name, "")


def predicted_weight(take: Inputs) -> Decimal:
    """kg: as given, or worked out from sex and height; never under 20 kg."""
    weight = take.optional("pbw")
    if weight is None:
        if not (take.says("height") or take.says("height_ft") or take.says("sex")):
            take.number("pbw")
        weight = _by_centimetres(take)
    return _plausible(weight)


@works_out("kg", 1, adults_only)
def pbw(take: Inputs) -> Decimal:
    """Predicted body weight in kg: 50 (male) or 45.5 (female) + 0.91 × (height in cm − 152.4).

    Adults only; needs the sex used for the formula and a height. Nothing under 20 kg.
    Source: ARDS Network, N Engl J Med 2000; decision 2 (the centimetre form).
    """
    return _plausible(_by_centimetres(take))


@works_out("kg", 1, adults_only)
def pbw_inch_form(take: Inputs) -> Decimal:
    """The same weight by the printed card: 50 or 45.5 + 2.3 × (height in inches − 60), kg.

    For the help page, which compares it with the centimetre form; never used for a volume.
    Source: ARDS Network protocol card; decision 2.
    """
    return _plausible(_base(take) + Decimal("2.3") * (_height(take) / INCH - 60))


@works_out("mL/kg", 1, adults_only, minute_volume_agrees)
def vt_per_pbw(take: Inputs) -> Worked:
    """Tidal volume (mL) over predicted body weight (kg).

    The expired volume that was measured comes first, then the set one, and the basis says which.
    No weight, no value. Source: ARDS Network; compared with its limit as displayed (decision 3).
    """
    volume, origin = tidal_volume(take)
    return Worked(volume / predicted_weight(take), origin)


def _by_centimetres(take: Inputs) -> Decimal:
    return _base(take) + Decimal("0.91") * (_height(take) - Decimal("152.4"))


def _plausible(weight: Decimal) -> Decimal:
    if weight < SMALLEST_PBW:
        raise unavailable("PBW under 20 kg: the adult formula does not reach so low")
    return weight


def _base(take: Inputs) -> Decimal:
    sex = take.word("sex")
    if sex in _MALE:
        return Decimal(50)
    if sex in _FEMALE:
        return Decimal("45.5")
    raise unavailable("no PBW: sex used in the formula is not known", "sex")


def _height(take: Inputs) -> Decimal:
    centimetres, feet = take.optional("height"), take.optional("height_ft")
    if centimetres is not None:
        return centimetres
    if feet is None and not take.says("height_in"):
        return take.number("height")
    inches = take.number_or("height_in", "0")
    if feet is not None and inches >= 12:
        raise asked(f"{feet:f} ft and {inches:f} in: over a foot of inches")
    return ((feet or Decimal(0)) * 12 + inches) * INCH
