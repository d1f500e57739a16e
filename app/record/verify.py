"""Whether the record is what was written: chain, hashes, refusals, and everything worked out."""

import json
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Mapping

from msgspec import Struct
from sqlalchemy import func, select, text
from sqlmodel import Session

from app.charting.facts import CourseFacts
from app.record.append_only import (
    FUNCTION_BODY,
    keys_of,
    postgresql_triggers,
    sqlite_triggers,
)
from app.record.audit import chain, check_chain
from app.record.beds import occupancy_by_record
from app.record.canonical import Stored, row_sha256
from app.record.courses import KEPT, course_facts
from app.record.errors import Unstorable
from app.record.judging import KEPT_FOLDS
from app.record.tables import (
    RECORD_ROWS,
    RECORD_TABLES,
    BedSummaryRow,
    OccupancyRow,
    table_of,
)

AT_ONCE = 500
"""Rows fetched in one statement."""

RECORD = {table.name: table for table in map(table_of, RECORD_ROWS)}


class Difference(Struct, frozen=True):
    """Something that is not as it was written or worked out: where, and what."""

    where: str
    what: str


def verify(session: Session, summarise: Callable[[CourseFacts], str]) -> list[Difference]:
    """Everything that is wrong; an empty list when the record is whole.

    `summarise` gives the cells of a course's summary from its facts. Reads only, and all of it:
    what is kept in memory proves nothing.
    """
    session.info.pop(KEPT, None)
    session.info.pop(KEPT_FOLDS, None)
    return [
        *_broken_chain(session),
        *missing_refusals(session),
        *changed_rows(session),
        *wrong_occupancy(session),
        *wrong_summaries(session, summarise),
    ]


def _broken_chain(session: Session) -> Iterator[Difference]:
    if wrong := check_chain(session):
        yield Difference("audit_line", wrong)


def changed_rows(session: Session) -> Iterator[Difference]:
    """Rows that are gone, that changed since they were written, or that no audit line names."""
    named: Counter[str] = Counter()
    for hashes in _hashes(session):
        for table, expected in hashes.items():
            named[table] += len(expected)
            yield from _compare(session, table, expected)
    for name, kept in RECORD.items():
        extra = session.execute(select(func.count()).select_from(kept)).scalar_one() - named[name]
        if extra > 0:
            yield Difference(name, f"{extra} rows that no audit line names")


def _hashes(session: Session) -> Iterator[Mapping[str, Mapping[str, str]]]:
    """What the chain says of each row, by table and id, some hundred rows at a time."""
    batch: dict[str, dict[str, str]] = defaultdict(dict)
    for line in chain(session):
        for table, key, sha256 in json.loads(str(line["rows_sha256"])):
            batch[table][key] = sha256
            if len(batch[table]) >= AT_ONCE:
                yield {table: batch.pop(table)}
    yield batch


def _compare(session: Session, name: str, expected: Mapping[str, str]) -> Iterator[Difference]:
    table = RECORD.get(name)
    if table is None:
        yield Difference(name, "an audit line names rows of a table that is not part of the record")
        return
    rows = session.execute(select(table).where(table.c.id.in_(expected))).mappings()
    found: dict[str, Mapping[str, Stored]] = {
        row["id"]: {str(column): value for column, value in row.items()} for row in rows
    }
    for key, sha256 in expected.items():
        if key not in found:
            yield Difference(f"{name} {key}", "the row is gone")
        elif not _is_as_written(name, found[key], sha256):
            yield Difference(f"{name} {key}", "the row was changed after it was written")


def _is_as_written(table: str, values: Mapping[str, Stored], sha256: str) -> bool:
    try:
        return row_sha256(table, values) == sha256
    except Unstorable:  # no row was ever written with such a value
        return False


def missing_refusals(session: Session) -> Iterator[Difference]:
    """Triggers that do not stand as the migration made them."""
    on_sqlite = session.get_bind().dialect.name == "sqlite"
    standing = _on_sqlite(session) if on_sqlite else _on_postgresql(session)
    for table in RECORD_TABLES:
        name = table.name
        wanted = sqlite_triggers(name, keys_of(table)) if on_sqlite else postgresql_triggers(name)
        for trigger, statement in wanted.items():
            if standing.get(trigger) != statement:
                yield Difference(name, f"the refusal {trigger} does not stand")


def _on_sqlite(session: Session) -> dict[str, str]:
    rows = session.execute(text("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'"))
    return {row.name: row.sql for row in rows}


def _on_postgresql(session: Session) -> dict[str, str]:
    """Definitions of the triggers that fire always and whose function still refuses."""
    rows = session.execute(
        text(
            "SELECT tgname, pg_get_triggerdef(pg_trigger.oid, true) AS made"
            " FROM pg_trigger JOIN pg_proc ON pg_proc.oid = tgfoid"
            " WHERE NOT tgisinternal AND tgenabled = 'A' AND prosrc = :body"
        ),
        {"body": FUNCTION_BODY},
    )
    return {row.tgname: row.made for row in rows}


def wrong_occupancy(session: Session) -> Iterator[Difference]:
    """Beds whose stored occupant is not the one that the stays and ends give."""
    table = table_of(OccupancyRow)
    stored = {row.course_id: row.bed_id for row in session.execute(select(table))}
    worked_out = occupancy_by_record(session)
    for course in sorted(stored.keys() | worked_out.keys()):
        if stored.get(course) != worked_out.get(course):
            yield Difference(f"occupancy of course {course}", "is not what the stays give")


def wrong_summaries(
    session: Session, summarise: Callable[[CourseFacts], str]
) -> Iterator[Difference]:
    """Summaries that are not what the facts give, and courses in a bed without one."""
    table = table_of(BedSummaryRow)
    stored = {row.course_id: row.cells for row in session.execute(select(table)).all()}
    for course in sorted(occupancy_by_record(session).keys() - stored.keys()):
        yield Difference(f"bed_summary of course {course}", "is missing")
    for course, cells in sorted(stored.items()):
        if summarise(course_facts(session, course)) != cells:
            yield Difference(f"bed_summary of course {course}", "is not what the facts give")
