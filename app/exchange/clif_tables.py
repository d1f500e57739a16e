"""A folder of CLIF tables as typed rows."""

from collections.abc import Callable, Iterable, Mapping
from datetime import datetime
from pathlib import Path
from typing import Final, TypeVar

from msgspec import Struct, field

from app.exchange.clif_columns import COLUMNS, LABS, NEEDED, SUPPORT_NUMBERS, VITALS
from app.exchange.clif_files import Cells, FileRead, TablesError, moment, number, read_file, word
from app.exchange.clif_rows import Finding, Place, Stay, SupportRow

_CUT: Final[Mapping[str, tuple[str, tuple[str, ...]]]] = {
    "vitals": ("vital_category", VITALS),
    "labs": ("lab_category", LABS),
}
"""Long tables are cut to the categories that are used, before their rows become Python values."""


class ClifTables(Struct, frozen=True):
    """What was read. `now` is the latest time in any table: the tables are dated in the future."""

    stays: Mapping[str, Stay]
    support: tuple[SupportRow, ...]
    vitals: tuple[Finding, ...]
    labs: tuple[Finding, ...]
    positions: tuple[Place, ...]
    places: tuple[Place, ...]
    now: datetime
    rows_read: Mapping[str, int] = field(default_factory=dict)
    absent: tuple[str, ...] = ()


def read_tables(folder: Path) -> ClifTables:
    """Read the folder; rows without a stay or a time are left out.

    Raises TablesError for a folder without the needed tables, and for a table that cannot be read.
    """
    found = {name: read_file(folder, name, COLUMNS[name], _CUT.get(name)) for name in COLUMNS}
    here = {name: read for name, read in found.items() if read is not None}
    absent = tuple(name for name in COLUMNS if name not in here)
    if missing := [name for name in absent if name in NEEDED]:
        raise TablesError(f"the folder has no table {' and no '.join(missing)}")
    support = _rows(here.get("respiratory_support"), _support_row)
    return ClifTables(
        stays=_stays(here["patient"], here["hospitalization"]),
        support=tuple(sorted(support, key=lambda row: (row.stay, row.at))),
        vitals=_rows(here.get("vitals"), _vital),
        labs=_rows(here.get("labs"), _lab),
        positions=_rows(here.get("position"), _position),
        places=_rows(here.get("adt"), _place),
        now=_now(here.values()),
        rows_read={name: read.rows_in_file for name, read in here.items()},
        absent=absent,
    )


Row = TypeVar("Row")


def _rows(read: FileRead | None, row_of: Callable[[Cells], Row | None]) -> tuple[Row, ...]:
    if read is None:
        return ()
    return tuple(row for cells in read.rows if (row := row_of(cells)) is not None)


def _now(read: Iterable[FileRead]) -> datetime:
    latest = max((file.latest for file in read if file.latest is not None), default=None)
    if latest is None:
        raise TablesError("the tables hold no time at all")
    return latest


_SEXES = {"male": "M", "female": "F"}


def _stays(patients: FileRead, hospitalizations: FileRead) -> dict[str, Stay]:
    sexes = {
        word(cells["patient_id"]): _SEXES.get(word(cells["sex_category"]).lower(), "unknown")
        for cells in patients.rows
    }
    stays = (_stay(cells, sexes) for cells in hospitalizations.rows)
    return {stay.stay: stay for stay in stays if stay.stay}


def _stay(cells: Cells, sexes: Mapping[str, str]) -> Stay:
    patient = word(cells["patient_id"])
    years = number(cells["age_at_admission"])
    return Stay(
        stay=word(cells["hospitalization_id"]),
        patient=patient,
        sex=sexes.get(patient, "unknown"),
        age_y=None if years is None else int(years),
    )


def _support_row(cells: Cells) -> SupportRow | None:
    stay, at = word(cells["hospitalization_id"]), moment(cells["recorded_dttm"])
    if not stay or at is None:
        return None
    numbers = ((name, number(cells[name])) for name in SUPPORT_NUMBERS)
    return SupportRow(
        stay=stay,
        at=at,
        device=word(cells["device_category"]),
        mode=word(cells["mode_category"]),
        tracheostomy=bool(cells["tracheostomy"]),
        values={name: value for name, value in numbers if value is not None},
    )


def _finding(cells: Cells, at: str, category: str, value: str, unit: str = "") -> Finding | None:
    stay, moment_of, found = (
        word(cells["hospitalization_id"]),
        moment(cells[at]),
        number(cells[value]),
    )
    if not stay or moment_of is None or found is None:
        return None
    return Finding(stay, moment_of, word(cells[category]), found, word(cells.get(unit)))


def _vital(cells: Cells) -> Finding | None:
    return _finding(cells, "recorded_dttm", "vital_category", "vital_value")


def _lab(cells: Cells) -> Finding | None:
    return _finding(
        cells, "lab_collect_dttm", "lab_category", "lab_value_numeric", "reference_unit"
    )


def _where(cells: Cells, at: str, category: str) -> Place | None:
    stay, moment_of = word(cells["hospitalization_id"]), moment(cells[at])
    if not stay or moment_of is None:
        return None
    return Place(stay, moment_of, word(cells[category]))


def _position(cells: Cells) -> Place | None:
    return _where(cells, "recorded_dttm", "position_category")


def _place(cells: Cells) -> Place | None:
    return _where(cells, "in_dttm", "location_category")
