"""A form on its way into the record: what was sent, what it became, and what holds it up."""

from collections.abc import Mapping
from datetime import datetime
from decimal import Decimal

from msgspec import Struct, field

from app.charting.cross_checks import Finding
from app.charting.entry import Outcome, Refused
from app.charting.facts import Kind, Mark, State


class TypedCheck(Struct, frozen=True):
    """A form as it was sent: texts by field code, and what was said about them.

    `kept` are fields confirmed unchanged, one by one (decision 8). `reasons` say why a field was
    not measured. `accepted` are the keys of questions that somebody answered with yes. `inferred`
    are fields whose text an import worked out from others. `units` stand in where a number was
    typed without one. `seen` is what a form showed beside the tick that confirms a field, so that
    nobody confirms what somebody else has charted meanwhile; a field without it is not held to it.
    `left_to_others` are fields that somebody else's row of this round answers. `paper_by` is who
    wrote it on paper, where it was typed in from there.
    """

    kind: Kind
    observed_at: datetime
    mode_family: str
    typed: Mapping[str, str] = field(default_factory=dict)
    kept: frozenset[str] = frozenset()
    reasons: Mapping[str, str] = field(default_factory=dict)
    accepted: frozenset[str] = frozenset()
    source: str = "bedside"
    accept_everything: bool = False
    inferred: frozenset[str] = frozenset()
    units: Mapping[str, str] = field(default_factory=dict)
    seen: Mapping[str, str] = field(default_factory=dict)
    left_to_others: frozenset[str] = frozenset()
    paper_by: str = ""


class NewReading(Struct, frozen=True):
    """One value on its way into the record."""

    field: str
    state: State
    number: Decimal | None = None
    word: str = ""
    raw: str = ""
    unit_typed: str = ""
    reason: str = ""
    marks: tuple[Mark, ...] = ()
    question: str = ""


class Objection(Struct, frozen=True):
    """Why a field holds the form up; an empty field means the form as a whole.

    `kind` is "refused" (type it again), "asked" (say that it is right) or "blocked" (record it as
    found). `key` is what a form sends back to accept a question or a block.
    """

    field: str
    kind: str
    sentence: str
    key: str = ""


class ReadCheck(Struct, frozen=True):
    """What a form became: readings, what holds it up, and remarks that block nothing."""

    readings: tuple[NewReading, ...]
    objections: tuple[Objection, ...]
    outcomes: Mapping[str, Outcome] = field(default_factory=dict)
    notes: tuple[Finding, ...] = ()
    answered: tuple[Objection, ...] = ()
    """What held the form up until somebody said that it is right, or as found."""
    dropped: tuple[Refused, ...] = ()

    @property
    def stands(self) -> bool:
        """Whether the row can be saved."""
        return not self.objections
