"""The ward, and how its people chart, correct and look, without any page between."""

from datetime import datetime

from msgspec import Struct
from msgspec.structs import replace

from app.actions.chart_assessment import chart_assessment
from app.charting.check import TypedCheck
from app.charting.facts import Assessment, CourseFacts, Kind, Reading
from app.record.courses import course_facts
from app.record.database import Database
from app.record.judging import judging
from app.record.summaries import find_summary
from app.record.verify import verify
from app.rules.bed_summary import BedSummary, from_text, summarise, to_text
from tests.clock import Clock
from tests.shifts.checks import PLAIN
from tests.ward import Ward

TYPED = {code: text for code, text in PLAIN.items() if code != "mode_family"}


class Shift(Struct):
    """A ward with its record and its clock."""

    database: Database
    clock: Clock
    ward: Ward

    def writing(self, name: str):
        return self.database.writing(self.clock, self.ward.staff[name], workstation="desk")

    def chart(
        self,
        name: str,
        bed: str = "L3",
        at: datetime | None = None,
        *,
        signed: bool = True,
        **changed: str | None,
    ) -> str:
        """A whole check by somebody; a field given as None is left out. Returns the row's id."""
        typed = {code: text for code, text in {**TYPED, **changed}.items() if text is not None}
        check = TypedCheck(Kind.FULL, at or self.clock(), "ac_vc", typed=typed)
        for _ in range(2):  # once to learn what is asked, once with every answer
            try:
                with self.writing(name) as writing:
                    course = self.ward.courses[bed]
                    return chart_assessment(writing, course, check, signed=signed).assessment_id
            except ValueError as held:
                check = replace(check, accepted=frozenset(o.key for o in held.read.objections))
        raise AssertionError("the check does not stand")

    def facts(self, bed: str = "L3") -> CourseFacts:
        with self.database.reading() as session:
            return course_facts(session, self.ward.courses[bed])

    def row(self, assessment_id: str, bed: str = "L3") -> Assessment:
        return next(row for row in self.facts(bed).assessments if row.id == assessment_id)

    def reading(self, assessment_id: str, code: str, bed: str = "L3") -> Reading:
        return self.row(assessment_id, bed).readings[code]

    def summary(self, bed: str = "L3") -> BedSummary:
        """What the board reads."""
        with self.database.reading() as session:
            return from_text(find_summary(session, self.ward.courses[bed]) or "")

    def differences(self) -> list[object]:
        """What `leeboard verify` would find."""

        def cells(facts: CourseFacts) -> str:
            judge = judging(session, facts.unit_id, self.clock())
            return to_text(summarise(facts, judge.policy, judge.clock))

        with self.database.reading() as session:
            return list(verify(session, cells))
