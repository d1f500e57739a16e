"""Who a stay's patient is, as somebody would write it at intake."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import datetime
from decimal import Decimal
from typing import Final

from msgspec import Struct

from app.actions.admit_patient import Admission
from app.charting.airway_told import AirwayTold
from app.charting.entry import Asked, Read, Refused, read_typed
from app.charting.fields import FIELDS
from app.exchange.clif_checks import as_typed
from app.exchange.clif_courses import Course
from app.exchange.clif_rows import Finding, Stay

NO_NAME: Final = "No name in the tables"
OF_THIS_STAY: Final = "imported: vital signs of this stay"
OF_ANOTHER_STAY: Final = "imported: another stay of the same person"


class Height(Struct, frozen=True):
    """A height as it was read: where it came from, what was typed, and what became of it.

    `number` is None where it was refused. `question` is what a person would have been asked.
    """

    source: str
    typed: str
    number: Decimal | None
    question: str = ""
    refusal: str = ""


class Heights:
    """The heights in the vital signs, by stay and by person."""

    def __init__(self, stays: Mapping[str, Stay], vitals: Iterable[Finding]) -> None:
        self._stays = stays
        self._of_stay: dict[str, list[Finding]] = defaultdict(list)
        self._of_person: dict[str, list[Finding]] = defaultdict(list)
        for vital in vitals:
            if vital.category == "height_cm" and vital.value and vital.stay in stays:
                self._of_stay[vital.stay].append(vital)
                self._of_person[stays[vital.stay].patient].append(vital)

    def of(self, stay: str, at: datetime) -> Height | None:
        """The stay's own height, the one charted nearest to the moment; without one, the same
        person's from another stay, which its source says; None where there is neither."""
        own = self._of_stay.get(stay, [])
        found = own or self._of_person.get(self._stays[stay].patient, [])
        if not found:
            return None
        nearest = min(found, key=lambda height: abs(height.at - at))
        return _read(nearest, OF_THIS_STAY if own else OF_ANOTHER_STAY)


def _read(found: Finding, source: str) -> Height:
    """Through the same reading as a person's typing: unusual is used and says so, wild is not."""
    declared = FIELDS["height_cm"]
    typed = as_typed(declared, found.value)
    outcome = read_typed(declared, typed)
    if isinstance(outcome, Asked):
        return Height(f"{source}; unconfirmed", typed, outcome.number, outcome.sentence)
    if isinstance(outcome, Read):
        return Height(source, typed, outcome.number)
    refusal = outcome.sentence if isinstance(outcome, Refused) else ""
    return Height(source, typed, None, refusal=refusal)


def admission_of(course: Course, person: Stay, unit_id: str, height: Height | None) -> Admission:
    """The intake of one course: no bed, no name, age from the stay's admission.

    The record number is the tables' patient id. The airway is stated only where the tables say it:
    a tracheostomy, or none for a patient who never had a tube.
    """
    used = height if height is not None and height.number is not None else None
    return Admission(
        unit_id=unit_id,
        record_number=person.patient or course.stay,
        name=NO_NAME,
        support_started_at=course.started_at,
        age_y=person.age_y,
        pbw_sex=person.sex,
        height_cm=used.number if used else None,
        height_source=used.source if used else "",
        airway=_airway(course),
        origin="import",
        source_key=course.key,
    )


def _airway(course: Course) -> AirwayTold | None:
    if course.rows[0].row.tracheostomy:
        return AirwayTold("trach")
    return None
