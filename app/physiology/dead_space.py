"""Dead space by Enghoff, from mixed expired CO2."""

from decimal import Decimal

from app.physiology.body_size import tidal_volume
from app.physiology.contradictions import minute_volume_agrees, mixed_expired_under_arterial
from app.physiology.gates import arterial_if_said, no_membrane_lung
from app.physiology.working import Inputs, inapplicable, works_out


def mixed_not_end_tidal(take: Inputs) -> None:
    """Closed where only an end-tidal CO2 is there: that gives another index (Bhalla 2015)."""
    if take.optional("peco2_mixed") is None and take.optional("petco2") is not None:
        raise inapplicable("end-tidal CO2 is not mixed expired CO2: that would be another index")


_CHECKS = (
    no_membrane_lung,
    arterial_if_said,
    mixed_not_end_tidal,
    mixed_expired_under_arterial,
)


@works_out("", 2, *_CHECKS)
def dead_space_enghoff(take: Inputs) -> Decimal:
    """(PaCO2 − mixed expired CO2) / PaCO2, a fraction.

    Mixed expired CO2 at or above arterial is asked about. Source: college calculation sheet.
    """
    return _share(take)


@works_out("mL", 0, *_CHECKS, minute_volume_agrees)
def dead_space_volume(take: Inputs) -> Decimal:
    """The same fraction of the tidal volume, mL. Source: college calculation sheet."""
    return _share(take) * tidal_volume(take)[0]


def _share(take: Inputs) -> Decimal:
    arterial = take.number("paco2")
    return (arterial - take.number("peco2_mixed")) / arterial
