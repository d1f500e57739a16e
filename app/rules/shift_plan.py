"""The plan of one shift: who is to have which bed. It moves nothing (decision 10)."""

from collections.abc import Iterator, Mapping
from datetime import datetime

from msgspec import Struct, field

from app.charting.assigning import Assigned, Cover
from app.rules.handoff_state import HandoffNow


class Plan(Struct, frozen=True):
    """What was planned for the shift between two moments."""

    starts_at: datetime
    ends_at: datetime
    assigned: Mapping[str, Assigned] = field(default_factory=dict)
    """By bed code; a bed for which nobody ever chose is not in it."""
    covers: tuple[Cover, ...] = ()

    @property
    def used(self) -> bool:
        """Whether anybody was assigned at all: a unit that plans elsewhere has no gaps here."""
        return any(each.staff_id for each in self.assigned.values())

    @property
    def mark(self) -> str:
        """What changes with every change of the plan: the key of its newest row."""
        keys = [each.id for each in self.assigned.values()]
        return max([*keys, *(cover.id for cover in self.covers)], default="")

    def assigned_id(self, bed: str) -> str:
        """Who is to have the bed; empty for nobody."""
        return self.assigned[bed].staff_id if bed in self.assigned else ""

    def assigned_name(self, bed: str) -> str:
        """The same by name."""
        return self.assigned[bed].name if bed in self.assigned else ""

    def differs(self, bed: str, told: HandoffNow) -> bool:
        """Whether somebody else has the bed than who is to have it."""
        return self.used and self.assigned_id(bed) != told.holder_id

    def covers_now(self, now: datetime) -> tuple[Cover, ...]:
        """Who covers for whom at `now`."""
        return tuple(cover for cover in self.covers if cover.holds(now))

    def covered_by(self, staff_id: str, now: datetime) -> frozenset[str]:
        """Whose beds this person looks after at `now`; a cover of one bed is none of all."""
        return frozenset(
            cover.for_id
            for cover in self.covers_now(now)
            if cover.staff_id == staff_id and not cover.bed_id
        )

    def edges(self) -> Iterator[datetime]:
        """The moments at which time alone changes what the plan says."""
        yield self.ends_at
        for cover in self.covers:
            yield from (cover.from_at, cover.to_at)
