"""What a simulated bed puts into the record: one entry per thing that a person writes down."""

from collections.abc import Mapping
from datetime import datetime

from msgspec import Struct

from app.charting.typed_check import TypedCheck
from seed_demo.plan import Plan
from seed_demo.story import Extubated, NewAirway


class Written(Struct, frozen=True):
    """When something was written down, and by whom (a sign-in name)."""

    recorded_at: datetime
    author: str


class Admitted(Written, frozen=True):
    """The patient was taken into the unit's record."""

    started_at: datetime


class Charted(Written, frozen=True):
    """A check, a brief check or a blood gas."""

    check: TypedCheck


class Began(Written, frozen=True):
    """Something happened, or a state began; `key` finds it again for its end."""

    key: str
    kind: str
    observed_at: datetime
    words: str
    details: Mapping[str, str]


class Ended(Written, frozen=True):
    """A state that began came to its end."""

    key: str
    ended_at: datetime
    details: Mapping[str, str]


class AirwaySet(Written, frozen=True):
    """Another airway from a moment on."""

    observed_at: datetime
    airway: NewAirway


class TubeOut(Written, frozen=True):
    """The tube came out as planned, told as the form for it tells it."""

    observed_at: datetime
    extubated: Extubated


class Noted(Written, frozen=True):
    """A person's words under some headings of the handoff page."""

    notes: Mapping[str, str]


class Planned(Written, frozen=True):
    """Tasks and if-then lines for the next shift."""

    plan: Plan


class Taken(Written, frozen=True):
    """Somebody took a bed that nobody had: where the demo's telling of who has it begins."""


class Offered(Written, frozen=True):
    """The bed was offered; `to` is a sign-in name."""

    to: str


class Accepted(Written, frozen=True):
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
