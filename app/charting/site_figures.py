"""What sums take from the unit around a patient: its adult age and its barometric pressure.

Both belong to the unit's policy and change with it; a moment takes what was in force then.
"""

from datetime import datetime
from decimal import Decimal

from msgspec import Struct

from app.charting.moment import ADULT_AGE_Y, SEA_LEVEL


class SiteFigures(Struct, frozen=True):
    """From which age a patient counts as an adult, years, and the pressure of the air, mmHg."""

    adult_age_y: int = ADULT_AGE_Y
    barometric_mmhg: Decimal = SEA_LEVEL


class SiteInTime(Struct, frozen=True):
    """The figures from ever, and each later pair with the moment from which it held, in order."""

    first: SiteFigures = SiteFigures()
    later: tuple[tuple[datetime, SiteFigures], ...] = ()

    def at(self, moment: datetime) -> SiteFigures:
        """The figures in force at a moment."""
        held = self.first
        for from_at, figures in self.later:
            if from_at > moment:
                break
            held = figures
        return held


ANYWHERE = SiteInTime()
"""An adult from 18, at sea level: where no unit's policy is known."""
