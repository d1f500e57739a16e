"""A lead plans who is to have which bed in a shift. Nobody's responsibility moves by it."""

from collections.abc import Mapping
from datetime import datetime

from msgspec import Struct

from app.actions.permissions import Act, may
from app.charting.assigning import Assigned
from app.record.assignments import choices
from app.record.beds import unit_beds
from app.record.people import list_people
from app.record.tables import AssignmentRow
from app.record.writing import Writing


class Shift(Struct, frozen=True):
    """The shift that is planned."""

    unit_id: str
    starts_at: datetime
    ends_at: datetime


class Choice(Struct, frozen=True):
    """Who is to have a bed (empty for nobody), and the row that whoever chose had before them."""

    staff_id: str
    was: str = ""


class AssignRefused(ValueError):  # noqa: N818 - it names a state that a page has words for
    """Nothing was written. `beds` says why, by bed code, where it is about single beds."""

    def __init__(self, words: str, beds: Mapping[str, str] | None = None) -> None:
        super().__init__(words)
        self.beds = dict(beds or {})


def assign_beds(writing: Writing, shift: Shift, chosen: Mapping[str, Choice]) -> tuple[str, ...]:
    """Write what differs from what stands; `chosen` goes by bed code. Returns the beds changed.

    A bed that somebody else changed meanwhile is left alone where this person left it alone, and
    refuses everything where both changed it. Raises AssignRefused.
    """
    if writing.recorded_at >= shift.ends_at:  # it may have ended while the page lay open
        raise AssignRefused("This shift is over; what was planned for it stays as it was.")
    session = writing.session
    beds = {bed.code: bed.id for bed in unit_beds(session, shift.unit_id)}
    known = choices(session, shift.unit_id, shift.starts_at)
    changed = {
        code: choice
        for code, choice in chosen.items()
        if _is_change(choice, known.get(_bed(beds, code), ()))
    }
    _refuse_strangers(writing, changed)
    _refuse_crossed({code: (each, known.get(beds[code], ())) for code, each in changed.items()})
    rows = [_row(shift, beds[code], each, known) for code, each in changed.items()]
    if rows:
        writing.add(*rows)
    writing.audit("assign_beds", detail={"beds": sorted(changed)})
    return tuple(sorted(changed))


def _bed(beds: Mapping[str, str], code: str) -> str:
    if code not in beds:
        raise AssignRefused(f"There is no bed {code} here.")
    return beds[code]


def _is_change(choice: Choice, versions: tuple[Assigned, ...]) -> bool:
    seen = next((each for each in versions if each.id == choice.was), None)
    had_before_them = seen.staff_id if seen else ""
    stands = versions[-1].staff_id if versions else ""
    return choice.staff_id not in (had_before_them, stands)


def _refuse_strangers(writing: Writing, changed: Mapping[str, Choice]) -> None:
    can_have = {
        person.id
        for person in list_people(writing.session)
        if person.active and may(person.role, Act.OFFER)
    }
    wrong = [code for code, each in changed.items() if each.staff_id not in {"", *can_have}]
    if wrong:
        words = "Only somebody who can accept a handoff can be assigned."
        raise AssignRefused(words, dict.fromkeys(wrong, words))


def _refuse_crossed(changed: Mapping[str, tuple[Choice, tuple[Assigned, ...]]]) -> None:
    crossed = {
        code: f"Meanwhile {versions[-1].author} chose {versions[-1].name or 'nobody'}."
        for code, (choice, versions) in changed.items()
        if versions and versions[-1].id != choice.was
    }
    if crossed:
        raise AssignRefused(
            "Somebody changed the plan while you had it open. Look at it and save again.", crossed
        )


def _row(
    shift: Shift, bed_id: str, choice: Choice, known: Mapping[str, tuple[Assigned, ...]]
) -> AssignmentRow:
    versions = known.get(bed_id, ())
    return AssignmentRow(
        supersedes_id=versions[-1].id if versions else None,
        unit_id=shift.unit_id,
        bed_id=bed_id,
        shift_at=shift.starts_at,
        staff_id=choice.staff_id or None,
    )
