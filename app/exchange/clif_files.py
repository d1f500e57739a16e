"""Reading the files of a CLIF folder: only the named columns are ever asked for.

The open CLIF 2.1 format (Common Longitudinal ICU data Format) keeps one file per table, as CSV or
Parquet. Its free-text columns hold local wording that nobody has agreed on; a column that is not
named by the caller never becomes a value in this program.
"""

from collections.abc import Iterable, Mapping
from datetime import datetime
from decimal import Decimal
from enum import StrEnum
from pathlib import Path

import pyarrow as pa
import pyarrow.compute as pc
import pyarrow.csv as pacsv
import pyarrow.parquet as pq
from msgspec import Struct


class ColumnKind(StrEnum):
    """What a column holds."""

    WORD = "word"
    NUMBER = "number"
    MOMENT = "moment"
    FLAG = "flag"


Cell = str | float | bool | datetime | None
Cells = Mapping[str, Cell]
Columns = Mapping[str, ColumnKind]

_ARROW: Mapping[ColumnKind, pa.DataType] = {
    ColumnKind.WORD: pa.string(),
    ColumnKind.NUMBER: pa.float64(),
    ColumnKind.MOMENT: pa.timestamp("us", tz="UTC"),
    ColumnKind.FLAG: pa.bool_(),
}


class TablesError(ValueError):
    """A folder or a table that cannot be read; the sentence names the table and says why."""


class FileRead(Struct, frozen=True):
    """One table: how many rows its file holds, the latest moment in it, and the rows asked for."""

    rows_in_file: int
    latest: datetime | None
    rows: tuple[Cells, ...]


def read_file(
    folder: Path, table: str, columns: Columns, only: tuple[str, Iterable[str]] | None = None
) -> FileRead | None:
    """One table of the folder, its rows in the file's order; None where the folder lacks it.

    `only` is a column and the words it may hold; rows with another word are left out. A column that
    the file lacks is empty. A time without an offset is refused, because it could be any clock's.
    Raises TablesError.
    """
    path = _path(folder, table)
    if path is None:
        return None
    read = _read_parquet if path.suffix == ".parquet" else _read_csv
    try:
        arrow = read(path, columns)
    except (pa.ArrowException, OSError) as error:
        raise TablesError(f"{path.name} cannot be read: {error}") from error
    wanted = arrow if only is None else _only(arrow, *only)
    return FileRead(arrow.num_rows, _latest(arrow, columns), tuple(wanted.to_pylist()))


def _path(folder: Path, table: str) -> Path | None:
    """The table's file: Parquet before CSV, with or without the format's prefix."""
    stems = (f"clif_{table}", table)
    names = (f"{stem}.{ending}" for ending in ("parquet", "csv") for stem in stems)
    return next((path for name in names if (path := folder / name).is_file()), None)


def _read_csv(path: Path, columns: Columns) -> pa.Table:
    options = pacsv.ConvertOptions(
        include_columns=list(columns),
        include_missing_columns=True,
        column_types={name: _ARROW[kind] for name, kind in columns.items()},
        strings_can_be_null=True,
    )
    return pacsv.read_csv(path, convert_options=options)


def _read_parquet(path: Path, columns: Columns) -> pa.Table:
    with pq.ParquetFile(path) as file:
        there = set(file.schema_arrow.names)
        found = file.read(columns=[name for name in columns if name in there])
    arrays = [
        _typed(found[name], name, kind) if name in there else pa.nulls(found.num_rows, _ARROW[kind])
        for name, kind in columns.items()
    ]
    return pa.table(arrays, names=list(columns))


def _typed(column: pa.ChunkedArray, name: str, kind: ColumnKind) -> pa.ChunkedArray:
    naive = pa.types.is_timestamp(column.type) and column.type.tz is None
    if kind is ColumnKind.MOMENT and naive:
        raise TablesError(f"{name} has no offset: it could be any clock's time")
    return column.cast(_ARROW[kind])


def _only(table: pa.Table, column: str, wanted: Iterable[str]) -> pa.Table:
    return table.filter(pc.is_in(table[column], value_set=pa.array(list(wanted), pa.string())))


def _latest(table: pa.Table, columns: Columns) -> datetime | None:
    names = [name for name, kind in columns.items() if kind is ColumnKind.MOMENT]
    moments: list[datetime | None] = [pc.max(table[name]).as_py() for name in names]
    return max((moment for moment in moments if moment is not None), default=None)


def word(cell: Cell) -> str:
    """The cell's text without outer spaces; empty for a blank."""
    return cell.strip() if isinstance(cell, str) else ""


def number(cell: Cell) -> Decimal | None:
    """The shortest decimal that means the same float (0.35 is 0.35); None for a blank or NaN."""
    if not isinstance(cell, float) or cell != cell:
        return None
    return Decimal(repr(cell))


def moment(cell: Cell) -> datetime | None:
    """The cell's time; None for a blank."""
    return cell if isinstance(cell, datetime) else None
