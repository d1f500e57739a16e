"""Everything that the indices of one row can be worked out from."""

from collections.abc import Mapping
from datetime import timedelta
from decimal import Decimal

from msgspec import Struct, field

from app.charting.facts import Assessment, BodySize, Kind, Reading

SEA_LEVEL = Decimal(760)
ADULT_AGE_Y = 18

NEAR = timedelta(minutes=60)
"""How old a measured value may be to count as of a gas's time (engineering judgement)."""

FRESH_OXYGEN = timedelta(minutes=30)
"""An FiO2 changed less than this before a sample is said beside the ratio: 5 to 20 minutes are
common practice, the rest is margin (engineering judgement)."""


class Moment(Struct, frozen=True):
    """One row with what was known around it.

    `settings` are in force at the row's time, its own included; `family` is the mode then, empty
    where unknown. `near` holds the measured values of the hour before, for a gas only. `body` is
    the height that is known now: adults don't grow, so a corrected height counts for every row.
    `age_y` None is nobody's age; it is not taken for a child's. `ecmo` names extracorporeal support
    in use, empty where there is none. `oxygen_age` is how long before the row the FiO2 was changed.
    """

    row: Assessment
    family: str
    settings: Mapping[str, Reading] = field(default_factory=dict)
    near: Mapping[str, Reading] = field(default_factory=dict)
    body: BodySize | None = None
    age_y: int | None = None
    adult_age_y: int = ADULT_AGE_Y
    airway_category: str = ""
    barometric_mmhg: Decimal = SEA_LEVEL
    ecmo: str = ""
    oxygen_age: timedelta | None = None

    @property
    def is_gas(self) -> bool:
        """Whether the row is a blood gas, which answers other indices than a check."""
        return self.row.kind is Kind.GAS

    @property
    def child(self) -> bool:
        """Whether the patient is known to be under the unit's adult age (decision 1)."""
        return self.age_y is not None and self.age_y < self.adult_age_y

    @property
    def oxygen(self) -> Reading | None:
        """The FiO2 that counts: the one typed from the slip, else that in force (decision 25)."""
        typed = self.row.readings.get("fio2_at_sample")
        if typed is not None and typed.has_value:
            return typed
        return self.settings.get("fio2_set")
