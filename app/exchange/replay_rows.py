"""From the lines of a wide CSV to the facts of a course, as far as the rules read them."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import datetime
from decimal import Decimal, InvalidOperation
from functools import cache

from msgspec import Struct

from app.charting.facts import (
    Airway,
    Assessment,
    BodySize,
    CourseFacts,
    Identity,
    Kind,
    Reading,
    State,
    Targets,
)
from app.charting.field import Shape
from app.charting.fields import FIELDS
from app.charting.mode_families import family_of
from app.rules.watch.reads import READS, READS_OF_A_GAS

Line = tuple[datetime, list[str]]
Cell = tuple[str, int, Callable[[str, datetime], Reading]]
BREATH_OVER_SET = Decimal(1)
"""A hold is taken as passive where the total rate is at most this much over the set rate."""

_YES_NO = {"true": "yes", "1": "yes", "y": "yes", "false": "no", "0": "no", "n": "no"}
_MEASURED, _MISSING = State.MEASURED, State.NOT_MEASURED


class Columns(Struct, frozen=True):
    """Where each name of the header stands."""

    place: Mapping[str, int]

    def cell(self, row: Sequence[str], name: str) -> str:
        """The text under a name; empty where there is no such column."""
        place = self.place.get(name)
        return row[place].strip() if place is not None else ""

    def present(self, codes: Sequence[str]) -> list[tuple[str, int]]:
        """Those codes that have a column, with its place."""
        return [(code, self.place[code]) for code in codes if code in self.place]


def facts_of(course: str, lines: Sequence[Line], columns: Columns) -> CourseFacts:
    """The facts of one course from its lines, oldest first.

    Where the file has no column `hold_passive`, a hold counts as passive in a controlled family
    whose total rate is at most one over the set rate, as an import of open tables has it; where
    there is the column, an empty cell is no answer (decision 5).
    """
    rows = tuple(_assessments(lines, columns))
    last = _last_cells(lines, columns)
    start = lines[0][0]
    return CourseFacts(
        course_id=course,
        unit_id="",
        identity=Identity("", "", "", None, _whole(last.get("age_y"))),
        support_started_at=start,
        origin="import",
        body_sizes=tuple(_body(last, start)),
        airways=tuple(_airways(lines, columns)),
        assessments=rows,
        targets=Targets(
            _number("spo2_target_low", last.get("spo2_target_low", "")),
            _number("spo2_target_high", last.get("spo2_target_high", "")),
        ),
    )


_OF_A_COURSE = ("height_cm", "pbw_sex", "age_y", "spo2_target_low", "spo2_target_high")


def _last_cells(lines: Sequence[Line], columns: Columns) -> dict[str, str]:
    """What is said of the whole course: the newest cell that is not empty."""
    found: dict[str, str] = {}
    for name, place in columns.present(_OF_A_COURSE):
        text = next((row[place].strip() for _, row in reversed(lines) if row[place].strip()), "")
        if text and not text.isspace():
            found[name] = text
    return found


def _whole(text: str | None) -> int | None:
    number = _number("age_y", text or "")
    return None if number is None else int(number)


def _body(last: Mapping[str, str], start: datetime) -> Iterator[BodySize]:
    if "height_cm" in last or "pbw_sex" in last:
        height = _number("height_cm", last.get("height_cm", ""))
        yield BodySize(start, height, "", last.get("pbw_sex", "unknown"), None, "")


def _airways(lines: Sequence[Line], columns: Columns) -> Iterator[Airway]:
    """One for each change of category or size."""
    held: tuple[str, str] | None = None
    for at, row in lines if "airway_category" in columns.place else ():
        now = columns.cell(row, "airway_category"), columns.cell(row, "airway_size_mm")
        if not now[0] or now == held:
            continue
        held = now
        size = _number("airway_size_mm", now[1])
        depth = _number("airway_depth_cm", columns.cell(row, "airway_depth_cm"))
        yield Airway(now[0], size, depth, observed_at=at, act="placed", author="")


def _assessments(lines: Sequence[Line], columns: Columns) -> Iterator[Assessment]:
    of_check, of_gas = (
        [(code, place, _reader(code)) for code, place in columns.present(codes)]
        for codes in (READS, READS_OF_A_GAS)
    )
    mode = columns.place.get("mode_family")
    asked = "hold_passive" in columns.place
    for number, (at, row) in enumerate(lines):
        readings = _readings(row, of_check, at)
        family = row[mode].strip() if mode is not None else ""
        if not asked:
            _passive_by_rates(readings, family, at)
        if readings or family:
            kind = Kind.FULL if _is_full(readings) else Kind.BRIEF
            yield Assessment(f"{number}", kind, at, at, "", family, readings, "import")
        drawn = _readings(row, of_gas, at)
        if drawn.keys() - {"gas_specimen", "fio2_at_sample"}:
            yield Assessment(f"{number}g", Kind.GAS, at, at, "", family, drawn, "import")


def _is_full(readings: Mapping[str, Reading]) -> bool:
    """A whole check has a setting and a measurement of the machine, FiO2 aside."""
    measured = "resp_rate_obs" in readings or "peak_inspiratory_pressure_obs" in readings
    return measured and any(code.endswith("_set") and code != "fio2_set" for code in readings)


def _passive_by_rates(readings: dict[str, Reading], family: str, at: datetime) -> None:
    total, told = readings.get("resp_rate_obs"), readings.get("resp_rate_set")
    if "plateau_pressure_obs" not in readings or total is None or told is None:
        return
    if total.number is None or told.number is None or not family_of(family).controlled:
        return
    if total.number <= told.number + BREATH_OVER_SET:
        readings["hold_passive"] = _said("hold_passive", "yes", at)


def _readings(row: Sequence[str], columns: Sequence[Cell], at: datetime) -> dict[str, Reading]:
    found: dict[str, Reading] = {}
    for code, place, read in columns:
        text = row[place]
        if text and not text.isspace():
            found[code] = read(text, at)
    return found


@cache
def _reader(code: str) -> Callable[[str, datetime], Reading]:
    """What reads a cell of this field; the same text is the same number, so it is read once."""
    if FIELDS[code].shape is not Shape.NUMBER:
        return lambda text, at: _said(code, text, at)
    known: dict[str, Decimal | None] = {}

    def measured(text: str, at: datetime) -> Reading:
        if text not in known:
            known[text] = _number(code, text)
        number = known[text]
        if number is None:
            return Reading(code, code, at, _MISSING, "", at, raw=text, reason=_not_possible(text))
        return Reading(code, code, at, _MEASURED, "", at, number)

    return measured


def _said(code: str, text: str, at: datetime) -> Reading:
    word = text.strip().lower()
    choices = _choices(code)
    word = _YES_NO.get(word, word) if "yes" in choices else word
    if choices and word not in choices:
        return Reading(code, code, at, _MISSING, "", at, raw=text, reason=_not_possible(text))
    return Reading(code, code, at, _MEASURED, "", at, None, word)


@cache
def _choices(code: str) -> frozenset[str]:
    return frozenset(choice.code for choice in FIELDS[code].choices)


def _not_possible(text: str) -> str:
    return f"{text.strip()!r} is no value of this field"


def _number(code: str, text: str) -> Decimal | None:
    """The number in the field's own unit; None for what cannot be one. FiO2 may be a fraction."""
    try:
        number = Decimal(text.strip())
    except InvalidOperation:
        return None
    if not number.is_finite():
        return None
    if code in ("fio2_set", "fio2_at_sample") and number <= 1:
        number *= 100
    hard = FIELDS[code].hard
    return number if hard is None or hard.holds(number) else None
