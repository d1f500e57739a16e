"""Rows and courses for the tests of charting, written as a therapist would read them out."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

from app.charting.event_facts import Event
from app.charting.facts import (
    Airway,
    Assessment,
    BodySize,
    CourseFacts,
    Identity,
    Kind,
    Mark,
    Reading,
    State,
)
from app.charting.field import Shape
from app.charting.fields import FIELDS

START = datetime(2026, 3, 9, 6, 0, tzinfo=UTC)
AT = datetime(2026, 3, 9, 11, 30, tzinfo=UTC)


def later(**span: float) -> datetime:
    return AT + timedelta(**span)


def reading(code: str, value: str | None, at: datetime = AT, reason: str = "") -> Reading:
    number, word, state = None, "", State.NOT_MEASURED
    if value is not None:
        state = State.MEASURED
        is_number = FIELDS[code].shape is Shape.NUMBER
        number, word = (Decimal(value), "") if is_number else (None, value)
    marks: tuple[Mark, ...] = ()
    return Reading(
        f"{code}@{at}", code, at, state, "ash", at, number, word, reason=reason, marks=marks
    )


def row(
    family: str = "ac_vc",
    kind: Kind = Kind.FULL,
    at: datetime = AT,
    not_done: dict[str, str] | None = None,
    **values: object,
) -> Assessment:
    """One assessment; values by field code, `not_done` the reasons of what was not measured."""
    readings = {code: reading(code, str(value), at) for code, value in values.items()}
    for code, reason in (not_done or {}).items():
        readings[code] = reading(code, None, at, reason)
    return Assessment(f"row@{at}", kind, at, at, "ash", family, readings)


def gas(at: datetime = AT, family: str = "", **values: object) -> Assessment:
    given = {"gas_specimen": "arterial", **values}
    return row(family, Kind.GAS, at, **given)


def body(height: str | None = "170", sex: str = "M", at: datetime = START) -> BodySize:
    centimetres = None if height is None else Decimal(height)
    return BodySize(at, centimetres, "supine_tape", sex, None, "ash")


def airway(category: str = "ett_oral", at: datetime = START, depth: str | None = "22") -> Airway:
    return Airway(
        category,
        Decimal("7.5"),
        None if depth is None else Decimal(depth),
        "lip",
        "left",
        "no",
        observed_at=at,
        act="placed",
        author="ash",
    )


def course(
    *rows: Assessment,
    size: BodySize | None = None,
    tube: Airway | None = None,
    events: tuple[Event, ...] = (),
    age_y: int | None = 60,
    born: date | None = None,
) -> CourseFacts:
    return CourseFacts(
        course_id="c1",
        unit_id="larch",
        identity=Identity("p1", "Fictional", "0001", born, age_y),
        support_started_at=START,
        body_sizes=(size or body(),),
        airways=(tube or airway(),),
        assessments=tuple(sorted(rows, key=lambda r: r.observed_at)),
        events=events,
    )
