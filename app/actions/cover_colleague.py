"""Somebody looks after a colleague's beds for a while. Who has the beds does not change by it."""

from datetime import datetime, timedelta

from msgspec import Struct

from app.actions.permissions import Act, may
from app.charting.assigning import Cover
from app.record.assignments import covers
from app.record.people import Person, list_people
from app.record.tables import CoverRow
from app.record.writing import Writing

LONGEST = timedelta(hours=24)
LONGEST_WORDS = 200


class CoverRefused(ValueError):  # noqa: N818 - it names a state that a page has words for
    """It cannot be what was meant; the sentence says why."""


class NewCover(Struct, frozen=True):
    """Who covers for whom, from when until when, and why."""

    staff_id: str
    for_id: str
    from_at: datetime
    to_at: datetime
    words: str


def cover_colleague(writing: Writing, unit_id: str, new: NewCover, *, leads: bool) -> str:
    """Write it down; returns its key. Who does not lead is one of the two. Raises CoverRefused."""
    words = " ".join(new.words.split())
    _refuse_span(new, writing.recorded_at)
    if not words or len(words) > LONGEST_WORDS:
        raise CoverRefused(f"Say in a few words why (at most {LONGEST_WORDS} letters).")
    if not leads and writing.author_id not in (new.staff_id, new.for_id):
        raise CoverRefused("You can say it for yourself: that you cover, or are covered for.")
    people = {person.id: person for person in list_people(writing.session)}
    _refuse_people(people.get(new.staff_id), people.get(new.for_id))
    _refuse_crossed(new, covers(writing.session, unit_id, new.from_at))
    row = CoverRow(
        unit_id=unit_id,
        staff_id=new.staff_id,
        for_staff_id=new.for_id,
        from_at=new.from_at,
        to_at=new.to_at,
        words=words,
    )
    writing.add_as("cover_colleague", row)
    return row.id


def _refuse_span(new: NewCover, now: datetime) -> None:
    if new.to_at <= new.from_at:
        raise CoverRefused("The end has to lie after the beginning.")
    if new.to_at <= now:
        raise CoverRefused("That is over already: look at the times.")
    if new.to_at - new.from_at > LONGEST:
        raise CoverRefused("That is longer than a day: look at the dates.")


def _refuse_people(covers_: Person | None, covered: Person | None) -> None:
    for person in (covers_, covered):
        if person is None or not person.active or not may(person.role, Act.OFFER):
            raise CoverRefused("Choose two people who can have beds here.")
    if covers_ == covered:
        raise CoverRefused("Nobody covers for themselves.")


def _refuse_crossed(new: NewCover, known: tuple[Cover, ...]) -> None:
    for cover in known:
        if cover.bed_id or not cover.touches(new.from_at, new.to_at):
            continue
        if (cover.staff_id, cover.for_id) == (new.staff_id, new.for_id):
            raise CoverRefused(f"{cover.name} covers for {cover.for_name} in that time already.")
        if cover.for_id == new.staff_id:
            raise CoverRefused(
                f"{cover.name} covers for {cover.for_name} in that time, who so cannot cover."
            )
        if cover.staff_id == new.for_id:
            raise CoverRefused(
                f"{cover.name} covers for {cover.for_name} in that time: end that first."
            )
