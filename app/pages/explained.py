"""Build the explanation of one number, whether it was charted or worked out.

An index opens to its formula, inputs, validity and source (decision 11); a charted value to how it
was entered and what its field takes. Without a value the page says why, and what it would need.
"""

from collections.abc import Sequence
from datetime import datetime

from app.charting.fields import FIELDS
from app.pages.explained_field import field_explained
from app.pages.explained_index import WEIGHT, index_explained
from app.pages.explained_page import ExplainedPage, PastValue
from app.pages.frame import Frame
from app.pages.known import Known
from app.pages.number_links import can_be_explained
from app.pages.series import Point, find_point, points_of
from app.pages.times import when_in
from app.physiology.catalogue import CATALOGUE
from app.record.errors import NotFound

PAST = 8
"""Values listed under the explained one, the newest first (engineering judgement)."""


def label_of(key: str) -> str:
    """What the number is called; it names no patient, so a title may hold it. Raises NotFound."""
    if not can_be_explained(key):
        raise NotFound("number", key)
    return FIELDS[key].label if key in FIELDS else CATALOGUE[key].label


def explained_page(
    frame: Frame, course: Known, key: str, at: datetime | None = None, row_id: str = ""
) -> ExplainedPage:
    """One number of one patient, opened: the value of the row at `at`, else the newest.

    Raises NotFound for a key that no page explains, and for a moment without a row.
    """
    label_of(key)
    points = () if key == WEIGHT else points_of(key, course)
    point = None if key == WEIGHT else find_point(key, points, course, at, row_id)
    number = (field_explained if key in FIELDS else index_explained)(key, point, course)
    shown = [point for point in points if point.has_value]
    return ExplainedPage(
        frame=frame,
        banner=course.banner,
        number=number,
        past=tuple(_past(shown[-PAST:], point, course)),
        past_words=_past_words(key, len(shown)),
        back_href=f"/courses/{course.facts.course_id}",
    )


def _past(shown: Sequence[Point], here: Point | None, course: Known) -> Sequence[PastValue]:
    return [
        PastValue(
            shown=one.shown,
            when=when_in(one.row.observed_at, course.now, course.clock),
            author=one.reading.author if one.reading is not None else one.row.author,
            here=here is not None and here.row.id == one.row.id,
        )
        for one in reversed(shown)
    ]


def _past_words(key: str, values: int) -> str:
    if key == WEIGHT:
        return "It hangs on no check: the newest height counts for all of them."
    if not values:
        return "No value yet."
    return f"{values - PAST} earlier values are left out." if values > PAST else ""
