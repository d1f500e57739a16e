"""Small invented CLIF folders: one stay, Tuesday 2 January 2125, times by the clock in UTC."""

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pyarrow as pa
import pyarrow.csv as pacsv
import pyarrow.parquet as pq

from app.exchange.clif_columns import COLUMNS
from app.exchange.clif_devices import DeviceRow, with_devices
from app.exchange.clif_files import ColumnKind
from app.exchange.clif_tables import ClifTables, read_tables

MIDNIGHT = datetime(2125, 1, 2, tzinfo=UTC)
STAY = "S1"

ARROW = {
    ColumnKind.WORD: pa.string(),
    ColumnKind.NUMBER: pa.float64(),
    ColumnKind.MOMENT: pa.timestamp("us", tz="UTC"),
    ColumnKind.FLAG: pa.bool_(),
}
FREE_TEXT = {"device_name": "words of a house", "mode_name": "more words", "vent_brand_name": "x"}


def at(clock: str, days: int = 0) -> datetime:
    """ "08:15" on the second of January, or some days later; seconds may follow."""
    hours, minutes, *seconds = (int(part) for part in clock.split(":"))
    later = timedelta(days=days, hours=hours, minutes=minutes, seconds=sum(seconds))
    return MIDNIGHT + later


def support(clock: str, device: str | None = None, mode: str | None = None, **more: object) -> dict:
    """One row of respiratory support."""
    days, stay = int(more.pop("days", 0)), more.pop("stay", STAY)
    return {
        "hospitalization_id": stay,
        "recorded_dttm": at(clock, days),
        "device_category": device,
        "mode_category": mode,
        **more,
    }


def vital(clock: str, category: str, value: float, stay: str = STAY, days: int = 0) -> dict:
    """One vital sign."""
    return {
        "hospitalization_id": stay,
        "recorded_dttm": at(clock, days),
        "vital_category": category,
        "vital_value": value,
    }


def lab(clock: str, category: str, value: float, unit: str | None = None) -> dict:
    """One laboratory value."""
    return {
        "hospitalization_id": STAY,
        "lab_collect_dttm": at(clock),
        "lab_category": category,
        "lab_value_numeric": value,
        "reference_unit": unit,
    }


def stay(stay_id: str = STAY, patient: str = "P1", age: int = 60, days: int = 0) -> dict:
    """One hospital stay."""
    return {
        "patient_id": patient,
        "hospitalization_id": stay_id,
        "admission_dttm": at("00:00", days),
        "discharge_dttm": at("00:00", days + 9),
        "age_at_admission": age,
    }


def write_folder(
    folder: Path, rows: Mapping[str, Sequence[dict]], ending: str = "csv", *, free_text: bool = True
) -> Path:
    """Write the tables; patient P1 (male) with stay S1 unless others are given."""
    folder.mkdir(parents=True, exist_ok=True)
    given = {
        "patient": [{"patient_id": "P1", "sex_category": "Male"}],
        "hospitalization": [stay()],
        **rows,
    }
    for name, of_table in given.items():
        table = _arrow(name, of_table)
        if name == "respiratory_support" and free_text:
            for column, words in FREE_TEXT.items():
                table = table.append_column(column, pa.array([words] * table.num_rows))
        write = pq.write_table if ending == "parquet" else pacsv.write_csv
        write(table, folder / f"clif_{name}.{ending}")
    return folder


def _arrow(name: str, of_table: Sequence[dict]) -> pa.Table:
    columns = COLUMNS[name]
    arrays = [
        pa.array([_cell(row.get(column), kind) for row in of_table], ARROW[kind])
        for column, kind in columns.items()
    ]
    return pa.table(arrays, names=list(columns))


def _cell(value: object, kind: ColumnKind) -> object:
    return float(value) if kind is ColumnKind.NUMBER and value is not None else value


def tables(folder: Path, *of_support: dict, **others: Sequence[dict]) -> ClifTables:
    """Write a folder with these rows of support and read it back."""
    return read_tables(write_folder(folder, {"respiratory_support": of_support, **others}))


def device_rows(folder: Path, *of_support: dict) -> tuple[DeviceRow, ...]:
    """The rows of support of one stay, with their devices."""
    return with_devices(tables(folder, *of_support).support)
