"""What a simulated bed puts into the record: one entry per thing that a person writes down."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from app.charting.typed_check import TypedCheck
from seed_demo.plan import Plan
from seed_demo.story import Extubated, NewAirway


@dataclass(frozen=True, slots=True)
class Written:
    """When something was written down, and by whom (a sign-in name)."""

    recorded_at: datetime
    author: str


@dataclass(frozen=True, slots=True)
class Admitted(Written):
    """The patient was taken into the unit's record."""

    started_at: datetime


@dataclass(frozen=True, slots=True)
class Charted(Written):
    """A check, a brief check or a blood gas."""

    check: TypedCheck


@dataclass(frozen=True, slots=True)
class Began(Written):
    """Something happened, or a state began; `key` finds it again for its end."""

    key: str
    kind: str
    observed_at: datetime
    words: str
    details: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Ended(Written):
    """A state that began came to its end."""

    key: str
    ended_at: datetime
    details: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class AirwaySet(Written):
    """Another airway from a moment on."""

    observed_at: datetime
    airway: NewAirway


@dataclass(frozen=True, slots=True)
class TubeOut(Written):
    """The tube came out as planned, told as the form for it tells it."""

    observed_at: datetime
    extubated: Extubated


@dataclass(frozen=True, slots=True)
class Noted(Written):
    """A person's words under some headings of the handoff page."""

    notes: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Planned(Written):
    """Tasks and if-then lines for the next shift."""

    plan: Plan


@dataclass(frozen=True, slots=True)
class Taken(Written):
    """Somebody took a bed that nobody had: where the demo's telling of who has it begins."""


@dataclass(frozen=True, slots=True)
class Offered(Written):
    """The bed was offered; `to` is a sign-in name."""

    to: str


@dataclass(frozen=True, slots=True)
class Accepted(Written):
    """The bed was accepted, with these words."""

    restated: str


Entry = (
    Admitted
    | Charted
    | Began
    | Ended
    | AirwaySet
    | TubeOut
    | Noted
    | Planned
    | Taken
    | Offered
    | Accepted
)
