"""A charted value, explained: how it came to be, and what its field takes."""

from msgspec.structs import replace

from app.charting.facts import Reading
from app.charting.field import Field
from app.charting.reasons import not_done
from app.pages.explained_inputs import notes_on, state_words
from app.pages.explained_page import Explanation, Need
from app.pages.explained_range import range_of
from app.pages.explained_row import row_words
from app.pages.field_facts import facts_of
from app.pages.known import Known
from app.pages.series import Point
from app.pages.shown import Drawn
from app.pages.times import when_in
from app.pages.values import absent

NOT_CHARTED = "not charted"


def field_explained(key: str, point: Point | None, course: Known) -> Explanation:
    """The value of a field in one row, or why it has none there."""
    field = course.words.fields[key]
    reading = point.reading if point is not None else None
    shown = (
        point.shown if point is not None else absent(field.name, Drawn.NOT_MEASURED, NOT_CHARTED)
    )
    bare = Explanation(
        label=field.label,
        shown=replace(shown, key=key, href="", unit=field.unit),
        state=NOT_CHARTED,
        judged=range_of(
            key, field.unit, shown, course, point.row.observed_at if point else course.now
        ),
        source=field.source,
        about=facts_of(field, course.policy),
    )
    if point is None:
        return replace(bare, why_not="Nobody has charted it in this course.", needs=_needs(field))
    placed = replace(
        bare,
        when=when_in(point.row.observed_at, course.now, course.clock),
        author=point.row.author,
        notes=row_words(point.row, key, course),
    )
    if reading is None:
        return replace(placed, why_not="It is not charted in this row.", needs=_needs(field))
    return _of_reading(placed, field, reading, course)


def _of_reading(placed: Explanation, field: Field, reading: Reading, course: Known) -> Explanation:
    has_value = reading.has_value
    return replace(
        placed,
        state=state_words(field, reading),
        author=reading.author,
        notes=tuple(dict.fromkeys((*notes_on(reading, course), *placed.notes))),
        why_not="" if has_value else _sentence(not_done(field.label, reading.reason)),
        needs=() if has_value else _needs(field),
    )


def _needs(field: Field) -> tuple[Need, ...]:
    what = f"{field.label}, {field.unit}" if field.unit else field.label
    return (Need(what, "charted in a row of its own time"),)


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}."
