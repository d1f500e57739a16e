"""The shape of a bed's story: who lies there, what is told, and what happens when."""

from collections.abc import Mapping
from datetime import time, timedelta
from decimal import Decimal

from msgspec import Struct, field

from app.charting.airway_told import AirwayTold
from seed_demo.patient import Condition
from seed_demo.plan import Plan
from seed_demo.support import Support
from seed_demo.when import When

DAYS_OF_HISTORY = 3


class Who(Struct, frozen=True):
    """The patient as admitted: a code for a name, body, orders. No real person stands behind it."""

    code: str
    age_y: int
    sex: str
    height_cm: str = ""
    height_method: str = ""
    height_source: str = ""
    weight_kg: str = ""
    reason: str = ""
    code_limits: str = "full treatment"
    isolation: str = "none"
    allergies: str = "none known"
    spo2: tuple[int, int] = (92, 96)
    tidal_volume_ml_kg: str = ""
    birth_date_known: bool = True

    @property
    def record_number(self) -> str:
        """The second identifier."""
        return f"QR-41{self.code[-2:]}"


class Phase(Struct, frozen=True):
    """From a moment on another support (None: from the start of what is told)."""

    support: Support
    since: When | None = None
    why: str = ""


class Step(Struct, frozen=True):
    """A change of settings that somebody made at a moment, whatever the simple rules say."""

    since: When
    settings: Mapping[str, str]
    why: str


class Room(Struct, frozen=True):
    """How far the therapist may go by the simple rules: percent, cmH2O, mL/kg, breaths."""

    fio2: tuple[int, int] = (30, 100)
    peep: tuple[int, int] = (5, 14)
    volume_floor_ml: int = 0
    """Tidal volume is stepped down to here while the plateau is over 30; 0 leaves it alone."""
    rate: tuple[int, int] = (0, 0)
    """Set rate is moved within this for the CO2; (0, 0) leaves it alone."""


class Happening(Struct, frozen=True):
    """An event with a person's words; `lasted` ends a state, None lets it go on.

    `details` are said at its beginning, `at_end` at its end.
    """

    kind: str
    since: When
    words: str
    lasted: timedelta | None = None
    details: Mapping[str, str] = field(default_factory=dict)
    at_end: Mapping[str, str] = field(default_factory=dict)


class NewAirway(Struct, frozen=True):
    """A change of the airway at a moment."""

    since: When
    act: str
    placed: AirwayTold


class Extubated(Struct, frozen=True):
    """The tube comes out as planned: the checklist and what is breathed then, by the codes of the
    form; `leak_ml` as it was read."""

    since: When
    details: Mapping[str, str]
    leak_ml: str


class Slip(Struct, frozen=True):
    """A wrong number at one round that was asked about and let stand."""

    at_round: When
    field: str
    text: str


class Manner(Struct, frozen=True):
    """How this bed is charted: what is seen beside the numbers, and what is missed and why."""

    seen: Mapping[str, str] = field(default_factory=dict)
    """Field code to what stands there at every full check; a later `then` replaces it."""
    then: tuple[tuple[When, Mapping[str, str]], ...] = ()
    plateau_missed: float = 0.08
    """Share of checks without a hold."""
    hold_reason: str = "not_measured"
    passive: bool = True
    late_rounds: tuple[When, ...] = ()
    slips: tuple[Slip, ...] = ()
    gas_times: tuple[time, ...] = (time(5, 10),)
    specimen: str = "arterial"


class Bedside(Struct, frozen=True):
    """Everything that the simulator needs of one taken bed."""

    who: Who
    condition: Condition
    airway: AirwayTold
    phases: tuple[Phase, ...]
    started: When
    steps: tuple[Step, ...] = ()
    room: Room = field(default_factory=Room)
    manner: Manner = field(default_factory=Manner)
    happenings: tuple[Happening, ...] = ()
    airways: tuple[NewAirway, ...] = ()
    """Changes of the airway but for an extubation, which says itself what is in place then."""
    extubated: Extubated | None = None
    plan: Plan = field(default_factory=Plan)
    notes: Mapping[str, str] = field(default_factory=dict)
    """Words under each heading, as written for the newest handoff."""
    by_day: str = "ash"
    behind: bool = False
    """Nobody has come for the last check: it is overdue."""


class Story(Struct, frozen=True):
    """One bed on the demo's story page; an empty bed has no bedside."""

    bed: str
    headline: str
    told: str
    bedside: Bedside | None = None

    @property
    def patient(self) -> str:
        """The patient's code; empty for an empty bed."""
        return self.bedside.who.code if self.bedside else ""


def airway(
    category: str,
    size: str = "",
    depth: str = "",
    depth_reference: str = "",
    side: str = "",
    difficult: str = "",
    words: str = "",
) -> AirwayTold:
    """An airway as a story writes it: size in mm and depth in cm as text."""
    return AirwayTold(
        category,
        Decimal(size) if size else None,
        Decimal(depth) if depth else None,
        depth_reference,
        side,
        difficult,
        words,
    )
