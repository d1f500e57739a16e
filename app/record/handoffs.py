"""What passes from one person to the next, as facts: steps, tasks, if-then lines, and snapshots."""

import json
from typing import Any

from msgspec import Struct
from sqlalchemy import Row, select
from sqlmodel import Session

from app.charting.handing_over import HandoffStep, IfThen, Source, StepKind, Task, TaskState
from app.record.canonical import sha256
from app.record.errors import NotFound
from app.record.tables import HandoffRow, IfThenRow, StaffRow, TaskRow, table_of
from app.record.versions import chains, of_course

HANDOFF = table_of(HandoffRow)
STAFF = table_of(StaffRow)


class Kept(Struct, frozen=True):
    """The bytes that an offer froze. `whole` says whether they still have their hash."""

    version: int
    text: str
    sha256: str
    whole: bool


def handoff_steps(
    session: Session, course_id: str, until: str | None = None
) -> tuple[HandoffStep, ...]:
    """Every step in the order of writing, without the snapshots, which are large."""
    columns = [column for column in HANDOFF.c if column.name != "snapshot"]
    of_it = [HANDOFF.c.course_id == course_id]
    written = [HANDOFF.c.id <= until] if until is not None else []
    rows = session.execute(select(*columns).where(*of_it, *written).order_by(HANDOFF.c.id)).all()
    named = {row.author_id for row in rows} | {row.from_staff_id for row in rows}
    names = _names(session, named | {row.to_staff_id for row in rows})
    return tuple(_step(row, names) for row in rows)


def _names(session: Session, ids: set[str | None]) -> dict[str | None, str]:
    if not ids - {None}:
        return {}
    asked = select(STAFF.c.id, STAFF.c.display_name).where(STAFF.c.id.in_(ids - {None}))
    return {row.id: row.display_name for row in session.execute(asked)}


def _step(row: Row[Any], names: dict[str | None, str]) -> HandoffStep:
    return HandoffStep(
        id=row.id,
        kind=StepKind(row.state),
        at=row.recorded_at,
        author=names[row.author_id],
        author_id=row.author_id,
        from_id=row.from_staff_id or "",
        from_name=names.get(row.from_staff_id, ""),
        to_id=row.to_staff_id or "",
        to_name=names.get(row.to_staff_id, ""),
        words=row.words,
        version=row.version or 0,
        sha256=row.snapshot_sha256 or "",
        seen=tuple(json.loads(row.seen or "[]")),
        on_behalf=bool(row.on_behalf),
    )


def tasks(session: Session, course_id: str, until: str | None = None) -> tuple[Task, ...]:
    """Every task in the order in which it was written down, as its newest version says."""
    return tuple(map(_task, chains(of_course(session, TaskRow, course_id, until))))


def _task(versions: tuple[Row[Any], ...]) -> Task:
    first, last = versions[0], versions[-1]
    moved = [row for row in versions[:-1] if row.due_at != last.due_at]
    return Task(
        id=first.id,
        version_id=last.id,
        words=last.words,
        due_at=last.due_at,
        owner=last.owner,
        source=Source(last.source),
        state=TaskState(last.state),
        reason=last.reason,
        author=first.author,
        changed_by=last.author,
        changed_at=last.recorded_at,
        moved_from=moved[-1].due_at if moved else None,
        rule=first.rule or "",
    )


def if_thens(session: Session, course_id: str, until: str | None = None) -> tuple[IfThen, ...]:
    """The lines that stand, in the order of writing."""
    versions = chains(of_course(session, IfThenRow, course_id, until))
    return tuple(_if_then(chain[-1], chain[0].id) for chain in versions if chain[-1].stands)


def _if_then(row: Row[Any], key: str) -> IfThen:
    return IfThen(
        id=key,
        measure=row.measure,
        comparison=row.comparison,
        value=row.value,
        lasting=row.lasting,
        action=row.action,
        call=row.call,
        within_min=row.within_min,
        tried=row.tried,
        limit_key=row.limit_key,
        author=row.author,
        written_at=row.recorded_at,
    )


def kept_snapshot(session: Session, course_id: str, version: int) -> Kept:
    """What the offer of that number froze, byte for byte. Raises NotFound."""
    row = session.execute(
        select(HANDOFF.c.snapshot, HANDOFF.c.snapshot_sha256).where(
            HANDOFF.c.course_id == course_id,
            HANDOFF.c.version == version,
            HANDOFF.c.state == StepKind.OFFERED.value,
            HANDOFF.c.snapshot.is_not(None),
        )
    ).one_or_none()
    if row is None:
        raise NotFound("snapshot", str(version))
    return Kept(
        version, row.snapshot, row.snapshot_sha256, sha256(row.snapshot) == row.snapshot_sha256
    )
