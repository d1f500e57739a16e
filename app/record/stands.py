"""What holds for a course from a moment on: body size, airway, bed, targets, words.

With `until`, what had been written when the row with that key was the last one.
"""

from typing import Any

from sqlalchemy import Row
from sqlmodel import Session

from app.charting.facts import Airway, BedStay, BodySize, HandoffNote, OwnRange, Targets
from app.record.beds import bed_codes
from app.record.tables import (
    AirwayRow,
    BedStayRow,
    BodySizeRow,
    HandoffNoteRow,
    OwnRangeRow,
    TargetRow,
)
from app.record.versions import chains, newest, of_course


def body_sizes(session: Session, course_id: str, until: str | None = None) -> tuple[BodySize, ...]:
    """Heights and weights, oldest first."""
    versions = chains(of_course(session, BodySizeRow, course_id, until))
    versions.sort(key=lambda chain: chain[-1].observed_at)
    return tuple(_body_size(chain) for chain in versions)


def _body_size(versions: tuple[Row[Any], ...]) -> BodySize:
    """The newest version, holding the one before, and so on down to the first."""
    *earlier, row = versions
    return BodySize(
        observed_at=row.observed_at,
        height_cm=row.height_cm,
        height_method=row.height_method,
        pbw_sex=row.pbw_sex,
        weight_kg=row.weight_kg,
        author=row.author,
        source=row.source,
        id=row.id,
        recorded_at=row.recorded_at,
        corrected_from=_body_size(tuple(earlier)) if earlier else None,
        why=row.why or "",
    )


def airways(session: Session, course_id: str, until: str | None = None) -> tuple[Airway, ...]:
    """Airways, oldest first, struck ones among them; with `until`, those written by that key."""
    versions = chains(of_course(session, AirwayRow, course_id, until))
    versions.sort(key=lambda chain: (chain[-1].observed_at, chain[0].id))
    return tuple(map(_airway, versions))


def _airway(versions: tuple[Row[Any], ...]) -> Airway:
    """Key and author are of the first version; nothing but a strike ever supersedes it."""
    first, row = versions[0], versions[-1]
    return Airway(
        observed_at=row.observed_at,
        act=row.act,
        category=row.category,
        size_mm=row.size_mm,
        depth_cm=row.depth_cm,
        depth_reference=row.depth_reference,
        side=row.side,
        difficult=row.difficult,
        words=row.words,
        author=first.author,
        tube_type=row.tube_type or "",
        confirmed_by=row.confirmed_by or "",
        confirmed_how=row.confirmed_how or "",
        stoma_on=row.stoma_on,
        inner_cannula=row.inner_cannula or "",
        spare_same=row.spare_same or "",
        spare_smaller=row.spare_smaller or "",
        may_change=row.may_change or "",
        why=row.why or "",
        id=first.id,
        struck=row.struck or "",
        struck_by=row.author if row.struck else "",
        struck_at=row.recorded_at if row.struck else None,
    )


def bed_stays(session: Session, course_id: str, until: str | None = None) -> tuple[BedStay, ...]:
    """Stays, oldest first; a bed is named by the code it has now."""
    rows = newest(of_course(session, BedStayRow, course_id, until))
    codes = bed_codes(session, {row.bed_id for row in rows if row.bed_id})
    return tuple(
        BedStay(row.from_at, codes.get(row.bed_id), row.author, row.words or "")
        for row in sorted(rows, key=lambda row: (row.from_at, row.id))
    )


def notes(session: Session, course_id: str, until: str | None = None) -> tuple[HandoffNote, ...]:
    """Words for the next shift, oldest first."""
    rows = newest(of_course(session, HandoffNoteRow, course_id, until))
    return tuple(
        HandoffNote(
            heading=row.heading,
            words=row.words,
            observed_at=row.observed_at,
            author=row.author,
            level=row.level or "",
        )
        for row in sorted(rows, key=lambda row: (row.observed_at, row.id))
    )


def targets(session: Session, course_id: str, until: str | None = None) -> Targets:
    """What was ordered, as last written; empty when nothing was (decision 27)."""
    ordered = every_target(session, course_id, until)
    return ordered[-1] if ordered else Targets()


def every_target(session: Session, course_id: str, until: str | None = None) -> tuple[Targets, ...]:
    """Every order in the order of writing; the newest holds, and one without bands ended them."""
    return tuple(
        Targets(
            spo2_low=row.spo2_low,
            spo2_high=row.spo2_high,
            tidal_volume_ml_kg=row.tidal_volume_ml_kg,
            ordered_by=row.ordered_by,
            ordered_at=row.ordered_at,
            pao2_low=row.pao2_low,
            pao2_high=row.pao2_high,
            ph_low=row.ph_low,
            ph_high=row.ph_high,
            paco2_low=row.paco2_low,
            paco2_high=row.paco2_high,
            why=row.why or "",
        )
        for row in of_course(session, TargetRow, course_id, until)
    )


def own_ranges(session: Session, course_id: str, until: str | None = None) -> tuple[OwnRange, ...]:
    """Ranges of the patient's own in the order of writing; each holds from when it was written."""
    return tuple(
        OwnRange(
            limit=row.limit_key,
            under=row.under,
            over=row.over,
            from_at=row.recorded_at,
            ordered_by=row.ordered_by,
            ordered_at=row.ordered_at,
            why=row.why,
            until=row.until,
            author=row.author,
        )
        for row in of_course(session, OwnRangeRow, course_id, until)
    )
