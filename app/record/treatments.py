"""Inhaled treatments of a course as facts, each with the times at which it was given."""

from typing import Any

from sqlalchemy import Row
from sqlmodel import Session

from app.charting.treatments import Given, Treatment
from app.record.tables import TreatmentGivenRow, TreatmentRow
from app.record.versions import chains, newest, of_course


def treatments(session: Session, course_id: str, until: str | None = None) -> tuple[Treatment, ...]:
    """Every treatment in the order of writing; with `until`, those known by that key."""
    orders = chains(of_course(session, TreatmentRow, course_id, until))
    if not orders:
        return ()
    times = newest(of_course(session, TreatmentGivenRow, course_id, until))
    return tuple(
        _treatment(chain, [row for row in times if row.treatment_id == chain[0].id])
        for chain in orders
    )


def _treatment(versions: tuple[Row[Any], ...], times: list[Row[Any]]) -> Treatment:
    first, last = versions[0], versions[-1]
    return Treatment(
        id=first.id,
        version_id=last.id,
        drug=last.drug,
        dose=last.dose,
        route=last.route,
        interval_h=last.interval_h,
        ordered_by=last.ordered_by,
        ordered_at=last.ordered_at,
        author=first.author,
        given=tuple(map(_given, sorted(times, key=lambda row: (row.given_at, row.id)))),
        stopped_at=last.stopped_at,
        stopped_by=last.stopped_by or "",
        stopped_why=last.stopped_why or "",
    )


def _given(row: Row[Any]) -> Given:
    return Given(
        id=row.id,
        at=row.given_at,
        author=row.author,
        before=row.before,
        after=row.after,
        response=row.response,
        not_given=row.not_given,
    )
