"""Close a course of support: how and when it ended. It stays readable and nothing is due in it."""

from datetime import datetime

from msgspec import Struct
from msgspec.structs import asdict

from app.actions.move_patient import PlaceRefused
from app.actions.refresh_summary import refresh_summary
from app.actions.sent_once import did_before, keep_sent
from app.charting.act_time import time_refused
from app.charting.course_ends import END_KINDS, LONGEST_WORDS
from app.charting.facts import CourseFacts
from app.charting.typed_check import Objection
from app.charting.typed_sheet import SheetHeldUp
from app.record.beds import settle
from app.record.courses import course_facts, find_course
from app.record.judging import judging
from app.record.tables import CourseEndRow
from app.record.writing import Writing


class NewEnd(Struct, frozen=True):
    """How it ended, when, and a person's words; `accepted` are the answers to what was asked."""

    kind: str
    ended_at: datetime
    words: str = ""
    accepted: frozenset[str] = frozenset()


def close_course(writing: Writing, course_id: str, end: NewEnd, *, save_key: str = "") -> str:
    """Write the end, free the bed and take the course off the board; returns the row's id.

    An end before something that is charted is asked about once. Raises SheetHeldUp for that
    question, PlaceRefused for an end that cannot be, KeyReused, and NotFound.
    """
    content = {"closed": True, **asdict(end), "accepted": ""}
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    facts = course_facts(writing.session, course_id)
    _refuse(facts, end, writing.recorded_at)
    _ask(writing, facts, end)
    row = CourseEndRow(
        supersedes_id=find_course(writing.session, course_id).end_version_id,
        course_id=course_id,
        ended_at=end.ended_at,
        kind=end.kind,
        words=end.words.strip(),
    )
    writing.add_as("close_course", row, course_id=course_id)
    settle(writing, [course_id])
    refresh_summary(writing, course_id)
    keep_sent(writing, course_id, save_key, content, row.id)
    return row.id


def _refuse(facts: CourseFacts, end: NewEnd, now: datetime) -> None:
    kind, words = END_KINDS.get(end.kind), end.words.strip()
    if facts.ended_at is not None:
        raise PlaceRefused("This course is closed already.")
    if kind is None:
        raise PlaceRefused("Say how the course ended: pick one of the list.")
    for sentence in time_refused(facts, end.ended_at, now):
        raise PlaceRefused(sentence)
    if kind.asks and not words:
        raise PlaceRefused(kind.asks)
    if len(words) > LONGEST_WORDS:
        raise PlaceRefused(f"{len(words)} characters: it takes {LONGEST_WORDS}.")


def _ask(writing: Writing, facts: CourseFacts, end: NewEnd) -> None:
    """Raises SheetHeldUp where something is charted of a time after the end."""
    newest = max(_charted(facts), default=None)
    key = f"before_a_row:{end.ended_at.isoformat()}"
    if newest is None or newest <= end.ended_at or key in end.accepted:
        return
    local = judging(writing.session, facts.unit_id, writing.recorded_at).clock.local(newest)
    sentence = f"Something is charted at {local:%H:%M} on {local.day} {local:%b}, after this end."
    raise SheetHeldUp((Objection("observed_at", "asked", f"{sentence} Is the time right?", key),))


def _charted(facts: CourseFacts) -> list[datetime]:
    """When each thing was seen or done; what only holds from then on is among it."""
    ended = [event.ended_at for event in facts.events if event.ended_at is not None]
    return [
        *(row.observed_at for row in facts.standing),
        *(event.observed_at for event in facts.events),
        *ended,
        *(airway.observed_at for airway in facts.airways),
        *(stay.from_at for stay in facts.bed_stays),
    ]
