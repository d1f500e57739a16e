"""A seeded unit with the few questions that its tests ask."""

from collections.abc import Iterator
from datetime import datetime
from functools import cached_property

from msgspec import Struct

from app.charting.derive import work_out_course
from app.charting.facts import CourseFacts, Kind, Reading
from app.physiology.answer import Value
from app.record.courses import course_facts
from app.record.database import Database
from app.rules.bed_summary import BedSummary, summarise
from app.rules.policy import starting_policy
from app.rules.standing import Statement
from seed_demo.shift import CLOCK
from seed_demo.unit import Seeded


class Larch(Struct, dict=True):
    """The record, what `seed` returned, and the moment it was seeded for."""

    database: Database
    seeded: Seeded
    now: datetime

    @cached_property
    def facts(self) -> dict[str, CourseFacts]:
        with self.database.reading() as session:
            return {bed: course_facts(session, key) for bed, key in self.seeded.courses.items()}

    @cached_property
    def summaries(self) -> dict[str, BedSummary]:
        policy = starting_policy()
        return {bed: summarise(facts, policy, CLOCK) for bed, facts in self.facts.items()}

    def statement(self, bed: str, key: str) -> Statement:
        found = next(one for one in self.summaries[bed].statements if one.key == key)
        return found.as_of(self.now)

    def values(self, bed: str, index: str) -> list[float]:
        """Every value of an index, oldest first."""
        rows = work_out_course(self.facts[bed])
        answers = (answers[index].answer for _, answers in rows)
        return [float(answer.number) for answer in answers if isinstance(answer, Value)]

    def readings(self, bed: str, field: str, kind: Kind | None = None) -> list[Reading]:
        """Every reading of a field, oldest first, of one kind of row if asked."""
        return [
            row.readings[field]
            for row in self.facts[bed].assessments
            if field in row.readings and kind in (None, row.kind)
        ]

    def all_readings(self) -> Iterator[Reading]:
        for facts in self.facts.values():
            for row in facts.assessments:
                yield from row.readings.values()
