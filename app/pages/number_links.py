"""Where a number opens: the address of its explanation, put into what pages show."""

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import UTC, datetime

from msgspec.structs import replace

from app.charting.derive import CHARTED
from app.charting.facts import Assessment
from app.charting.field import Group
from app.charting.fields import FIELDS
from app.pages.bed_page import GridGroup, GridRow, NowGroup
from app.pages.shown import Drawn, Shown

COMPACT = "%Y%m%dT%H%M%SZ"
"""How an address writes a moment in UTC; read back by the web's `moment_in_address`."""

_CHARTED = frozenset(CHARTED)


def can_be_explained(key: str) -> bool:
    """Whether a page explains this key: an index that is charted, or a field of the chart."""
    if key in _CHARTED:
        return True
    field = FIELDS.get(key)
    return field is not None and field.group is not Group.IDENTITY and key != "mode_family"


def compact(moment: datetime) -> str:
    """The moment as an address writes it."""
    return f"{moment.astimezone(UTC):{COMPACT}}"


def number_href(course_id: str, key: str, at: datetime | None = None, row_id: str = "") -> str:
    """The explanation of a value observed at `at`; of the newest one where no moment is given.

    `row_id` tells apart rows that were observed at the same moment.
    """
    path = f"/courses/{course_id}/numbers/{key}"
    if at is None:
        return path
    row = f"&row={row_id}" if row_id else ""
    return f"{path}?at={compact(at)}{row}"


def opening(shown: Shown, course_id: str, at: datetime | None = None, row_id: str = "") -> Shown:
    """The same value leading to its explanation; as it is where there is nothing to explain."""
    if shown.drawn is Drawn.NOTHING or not can_be_explained(shown.key):
        return shown
    return replace(shown, href=number_href(course_id, shown.key, at, row_id))


def opening_group(group: NowGroup, course_id: str) -> NowGroup:
    """A group whose every number leads to its explanation at the moment that stands beside it."""
    numbers = (
        opening(shown, course_id, datetime.fromisoformat(shown.when.iso) if shown.when else None)
        for shown in group.numbers
    )
    return replace(group, numbers=tuple(numbers))


class RowLinks:
    """Addresses of what stands in rows; names the row where another one shares its moment."""

    def __init__(self, course_id: str, rows: Iterable[Assessment]) -> None:
        self._course_id = course_id
        self._rows_at = Counter(compact(row.observed_at) for row in rows)

    def href(self, key: str, row: Assessment) -> str:
        """The explanation of the key in this row."""
        return number_href(self._course_id, key, row.observed_at, self._named(row))

    def opening(self, shown: Shown, row: Assessment) -> Shown:
        """A value of this row leading to its explanation; a struck row's leads nowhere."""
        if not row.counts:
            return shown
        return opening(shown, self._course_id, row.observed_at, self._named(row))

    def _named(self, row: Assessment) -> str:
        return row.id if self._rows_at[compact(row.observed_at)] > 1 else ""


def opening_grid(
    groups: Sequence[GridGroup], rows: Sequence[Assessment], links: RowLinks
) -> tuple[GridGroup, ...]:
    """The grid with every cell leading to its explanation; `rows` are its columns."""

    def led(line: GridRow) -> GridRow:
        cells = (links.opening(cell, row) for cell, row in zip(line.cells, rows, strict=True))
        return replace(line, cells=tuple(cells))

    return tuple(replace(group, rows=tuple(map(led, group.rows))) for group in groups)
