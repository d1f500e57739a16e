"""The row under the eye: its moment, what is known around it, and the series it fills."""

from decimal import Decimal

from msgspec import Struct, field

from app.charting.facts import Assessment, Targets
from app.charting.fields import FIELDS
from app.charting.mode_families import ModeFamily
from app.charting.moment import Moment
from app.charting.reasons import not_done
from app.physiology.display import rounded
from app.rules.attempts import NOT_DUE


class Seen(Struct):
    """A row being looked at: `values` and `why` fill up as each group's series are read."""

    moment: Moment
    family: ModeFamily
    targets: Targets
    weight: Decimal | None
    """Predicted weight, kg; None where height or sex is not known, or it is a child's."""
    tube: str = ""
    """The airway in place by its category; empty where nobody charted one."""
    tube_days: float = 0.0
    """Days since it was put in place."""
    family_hours: float = 0.0
    """Hours since this mode family began."""
    usual_gap: float | None = None
    """How far the peak usually lies above the plateau, cmH2O; None where that is not known."""
    words: dict[str, str] = field(default_factory=dict)
    """Words that hold until somebody says another: humidifier, cuff up or down, speaking valve."""
    values: dict[str, float] = field(default_factory=dict)
    why: dict[str, tuple[str, bool]] = field(default_factory=dict)

    @property
    def row(self) -> Assessment:
        """The row itself."""
        return self.moment.row

    def number(self, code: str) -> Decimal | None:
        """A number measured or charted in this very row."""
        reading = self.row.readings.get(code)
        return reading.number if reading is not None and reading.has_value else None

    def word(self, code: str) -> str:
        """A word charted in this very row; empty where there is none."""
        reading = self.row.readings.get(code)
        return reading.word if reading is not None and reading.has_value else ""

    def setting(self, code: str) -> Decimal | None:
        """A setting in force at the row's time, its own included."""
        reading = self.moment.settings.get(code)
        return reading.number if reading is not None else None

    def put(self, series: str, number: Decimal | float, places: int = 0) -> None:
        """The number as it is displayed."""
        if isinstance(number, Decimal) and number != int(number):
            number = rounded(number, places)
        self.values[series] = float(number)

    def measured(self, series: str, code: str) -> Decimal | None:
        """Put a charted number into its series as displayed; without one say why, if somebody did.

        A row in which nobody looked says nothing: an earlier value stands until it is too old.
        """
        reading = self.row.readings.get(code)
        if reading is not None and reading.has_value and reading.number is not None:
            self.put(series, reading.number, FIELDS[code].places)
            return reading.number
        if reading is not None and reading.reason not in ("", NOT_DUE):
            self.why[series] = (not_done(FIELDS[code].name, reading.reason), True)
        return None

    def cannot(self, series: str, reason: str, *, applicable: bool = True) -> None:
        """Say why this row has no number for a series."""
        self.why[series] = (reason, applicable)
