"""The time grid: fields down, assessments across, newest right; every value with its state."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import datetime, timedelta

from msgspec.structs import replace

from app.charting.correcting import ANOTHER_CHART
from app.charting.derive import WorkedOut
from app.charting.drafted import is_draft
from app.charting.facts import Assessment, Kind, Reading
from app.charting.field import Field, Group, Use
from app.charting.uses import use_of
from app.pages.bed_page import GridColumn, GridGroup, GridRow
from app.pages.corrections import Was, based
from app.pages.shown import Drawn, Shown
from app.pages.site_words import PLAIN, SiteWords
from app.pages.times import clock_time, when_in
from app.pages.unsigned import draft_href
from app.pages.values import Run, of_index, of_reading, tagged
from app.physiology.catalogue import CATALOGUE
from app.rules.attempts import Worked, not_held
from app.rules.policy import Limit
from app.rules.unit_clock import UnitClock

LimitAt = Callable[[str, datetime], Limit | None]
"""The limit of a field or an index at a moment."""

CORRECTED = "corrected"
"""Said over a column in which some value was corrected."""

LATE_AFTER = timedelta(minutes=30)
"""A row written longer after it was observed is labelled late (engineering judgement)."""

HEADINGS: tuple[tuple[str, tuple[Group, ...]], ...] = (
    ("Told to the machine", (Group.SETTINGS,)),
    ("Read at the bed", (Group.MONITOR, Group.MEASURED, Group.HOLDS)),
    ("Airway", (Group.AIRWAY, Group.HUMIDIFICATION)),
    ("Blood gas", (Group.GAS,)),
)
MORE: tuple[tuple[str, tuple[Group, ...]], ...] = (
    ("Patient", (Group.PATIENT,)),
    ("Chest and tube care", (Group.AIRWAY, Group.HUMIDIFICATION)),
    ("Safe to leave", (Group.SAFETY,)),
    ("Alarms set", (Group.ALARMS,)),
)
"""What is read less often than the numbers: one press away under the grid."""

IN_SIGHT = frozenset({"airway_depth_cm", "cuff_pressure_cmh2o", "airway_size_mm", "humidifier"})
"""Of the airway's fields, those that every reader looks for."""
WORKED_OUT = "Worked out"
INDICES = (
    "vt_per_pbw",
    "driving_pressure",
    "compliance_static",
    "compliance_dynamic",
    "airway_resistance",
    "auto_peep",
    "minute_ventilation",
    "ie_ratio",
    "rsbi",
    "rox",
    "pf_ratio",
    "sf_ratio",
)
NOTHING = Shown("", "", Drawn.NOTHING)


def grid_columns(
    rows: Sequence[Assessment], course_id: str, now: datetime, clock: UnitClock
) -> tuple[GridColumn, ...]:
    """One column per row of the chart, oldest first; each leads to its row."""
    newest = max((at for at, row in enumerate(rows) if row.counts), default=-1)
    return tuple(
        GridColumn(
            when=when_in(row.observed_at, now, clock),
            author=row.author,
            kind=row.kind.value,
            notes=tuple(row_notes(row, now, clock)),
            newest=at == newest,
            struck=bool(row.struck),
            draft=is_draft(row),
            href=draft_href(course_id, row.id)
            if is_draft(row)
            else f"/courses/{course_id}/rows/{row.id}",
        )
        for at, row in enumerate(rows)
    )


def row_notes(row: Assessment, now: datetime, clock: UnitClock) -> Iterator[str]:
    """What a reader must know of a whole row: imported, late, corrected, struck, unsigned."""
    if row.source == "import":
        yield "imported"
    elif row.recorded_at - row.observed_at > LATE_AFTER:
        yield f"late, written {clock_time(row.recorded_at, now, clock)}"
    if row.paper_by:
        yield f"from paper by {row.paper_by}"
    if row.source == ANOTHER_CHART:
        yield "charted first on another chart"
    if any(reading.corrected_from for reading in row.readings.values()):
        yield CORRECTED
    if row.struck:
        at = clock_time(row.struck_at, now, clock) if row.struck_at else ""
        yield f"struck {at}, {row.struck_by}: {row.struck}"
    if not row.signed:
        yield "unsigned draft"
    if row.co_signed_by and row.co_signed_at:
        yield f"signed {clock_time(row.co_signed_at, now, clock)}, {row.co_signed_by}"


def grid_groups(
    worked: Worked, limit_at: LimitAt, *, was: Was, words: SiteWords = PLAIN
) -> tuple[GridGroup, ...]:
    """Every field and index that has something to say in one of the rows.

    A row that does not count has no answers: it shows what was charted and nothing worked out.
    """
    groups = [
        GridGroup(heading, tuple(_field_rows(wanted, worked, limit_at, words)))
        for heading, wanted in HEADINGS
    ]
    airway = groups[2]
    in_sight = tuple(row for row in airway.rows if row.key in IN_SIGHT)
    groups[2] = GridGroup(airway.heading, in_sight)
    indices = tuple(_index_rows(worked, limit_at, was=was))
    groups.insert(2, GridGroup(WORKED_OUT, indices))
    return tuple(group for group in groups if group.rows)


def more_groups(
    worked: Worked, limit_at: LimitAt, *, words: SiteWords = PLAIN
) -> tuple[GridGroup, ...]:
    """The fields that `grid_groups` leaves out, by heading."""
    groups = (
        GridGroup(heading, tuple(_field_rows(wanted, worked, limit_at, words)))
        for heading, wanted in MORE
    )
    kept = (
        GridGroup(group.heading, tuple(row for row in group.rows if row.key not in IN_SIGHT))
        for group in groups
    )
    return tuple(group for group in kept if group.rows)


def _field_rows(
    groups: tuple[Group, ...], worked: Worked, limit_at: LimitAt, words: SiteWords
) -> Iterator[GridRow]:
    for field in words.fields.values():
        if field.group not in groups or field.code == "mode_family":
            continue
        if any(field.code in row.readings for row, _ in worked):
            cells = tuple(_field_cells(field, worked, limit_at))
            yield GridRow(field.label, field.unit, field.code, cells)


def _field_cells(field: Field, worked: Worked, limit_at: LimitAt) -> Iterator[Shown]:
    before: Reading | None = None
    run = Run()
    for row, answers in worked:
        reading = row.readings.get(field.code)
        if reading is None:
            yield _nothing_charted(field, row)
            continue
        cell = of_reading(field, reading, before=before)
        why = not_held(field.code, row, answers) if row.counts and reading.has_value else None
        if why is not None:
            yield tagged(cell, why)
        elif row.counts:
            yield run(cell, limit_at(field.code, row.observed_at))
        else:
            yield replace(cell, struck=bool(row.struck))
        before = reading if reading.has_value and row.counts else before


def _nothing_charted(field: Field, row: Assessment) -> Shown:
    """An open line where a full check left a required field empty; else nothing."""
    full = row.kind is Kind.FULL and row.mode_family != "" and row.counts
    if full and use_of(row.mode_family, field.code) is Use.REQUIRED:
        return Shown(field.name, "", Drawn.NOT_MEASURED, word="not charted", key=field.code)
    return NOTHING


def _index_rows(worked: Worked, limit_at: LimitAt, *, was: Was) -> Iterator[GridRow]:
    for key in INDICES:
        index, run = CATALOGUE[key], Run()
        cells = tuple(
            run(_index_cell(key, row, answers, was), limit_at(key, row.observed_at))
            for row, answers in worked
        )
        if any(cell.text for cell in cells):
            yield GridRow(index.label, index.unit, key, cells)


def _index_cell(key: str, row: Assessment, answers: Mapping[str, WorkedOut], was: Was) -> Shown:
    """A row not meant to carry the index stays empty: a brief check is no failed hold."""
    if key not in answers:
        return NOTHING
    cell = based(of_index(CATALOGUE[key], answers[key]), row, answers[key], was)
    meant = (row.kind is Kind.GAS) == (key == "pf_ratio")
    if cell.text or (meant and row.kind in (Kind.FULL, Kind.GAS)):
        return cell
    return NOTHING
