"""CLIF folders: CSV and Parquet read alike, and the free-text columns are never asked for."""

from datetime import datetime
from decimal import Decimal
from pathlib import Path

import pyarrow as pa
import pyarrow.csv as pacsv
import pyarrow.parquet as pq
import pytest

from app.exchange import clif_files
from app.exchange.clif_columns import COLUMNS
from app.exchange.clif_files import TablesError
from app.exchange.clif_tables import read_tables
from tests.exchange.clif_folder import at, lab, stay, support, tables, vital, write_folder

ROWS = {
    "respiratory_support": [
        support("08:00", "IMV", "SIMV", fio2_set=0.35, tracheostomy=True),
        support("08:10", peep_set=0, minute_vent_obs=9.76),
    ],
    "vitals": [vital("08:01", "map", 71.5), vital("08:01", "weight_kg", 80)],
    "labs": [lab("08:02", "ph_arterial", 7.31), lab("08:02", "sodium", 140, "mmol/L")],
}


def test_a_csv_folder_and_a_parquet_folder_read_alike(tmp_path: Path):
    csv = read_tables(write_folder(tmp_path / "csv", ROWS, "csv"))
    parquet = read_tables(write_folder(tmp_path / "parquet", ROWS, "parquet"))
    assert csv == parquet
    assert csv.support[1].values == {"peep_set": Decimal(0), "minute_vent_obs": Decimal("9.76")}


def test_no_column_with_free_text_is_ever_asked_for():
    asked = {name for columns in COLUMNS.values() for name in columns}
    assert not [name for name in asked if name.endswith("_name")]


@pytest.mark.parametrize("ending", ["csv", "parquet"])
def test_free_text_in_the_file_never_becomes_a_value(
    tmp_path: Path, ending: str, monkeypatch: pytest.MonkeyPatch
):
    seen: list[str] = []
    for reader in ("_read_csv", "_read_parquet"):
        read = getattr(clif_files, reader)

        def watched(path: Path, columns: clif_files.Columns, read=read) -> pa.Table:
            table = read(path, columns)
            seen.extend(table.column_names)
            return table

        monkeypatch.setattr(clif_files, reader, watched)
    read_tables(write_folder(tmp_path, ROWS, ending, free_text=True))
    assert "device_category" in seen
    assert not {"device_name", "mode_name", "vent_brand_name"} & set(seen)


def test_only_the_categories_in_use_are_kept_but_every_row_is_counted(tmp_path: Path):
    read = read_tables(write_folder(tmp_path, ROWS))
    assert [finding.category for finding in (*read.vitals, *read.labs)] == ["map", "ph_arterial"]
    assert read.rows_read["vitals"] == read.rows_read["labs"] == 2


def test_now_is_the_latest_time_in_any_table(tmp_path: Path):
    read = tables(tmp_path, support("08:00", "IMV"), vitals=[vital("09:00", "map", 70, days=30)])
    assert read.now == at("09:00", days=30)


def test_age_is_whole_years_and_sex_is_one_letter(tmp_path: Path):
    read = tables(tmp_path, support("08:00", "IMV"))
    assert (read.stays["S1"].age_y, read.stays["S1"].sex) == (60, "M")


def test_a_person_without_a_known_sex_is_unknown(tmp_path: Path):
    read = tables(
        tmp_path,
        support("08:00", "IMV"),
        patient=[{"patient_id": "P1", "sex_category": None}],
        hospitalization=[stay(), stay("S2", patient="nobody")],
    )
    assert {found.sex for found in read.stays.values()} == {"unknown"}


def test_a_column_that_the_file_lacks_is_empty(tmp_path: Path):
    write_folder(tmp_path, ROWS)
    thin = pa.table({"hospitalization_id": ["S1"], "recorded_dttm": ["2125-01-02 08:00:00+00:00"]})
    pacsv.write_csv(thin, tmp_path / "clif_respiratory_support.csv")
    (row,) = read_tables(tmp_path).support
    assert (row.device, row.values, row.tracheostomy) == ("", {}, False)


def test_an_offset_other_than_utc_is_taken_at_its_word(tmp_path: Path):
    write_folder(tmp_path, ROWS)
    local = pa.table({"hospitalization_id": ["S1"], "recorded_dttm": ["2125-01-02T03:00:00-05:00"]})
    pacsv.write_csv(local, tmp_path / "clif_respiratory_support.csv")
    assert read_tables(tmp_path).support[0].at == at("08:00")


@pytest.mark.parametrize("ending", ["csv", "parquet"])
def test_a_time_without_an_offset_is_refused(tmp_path: Path, ending: str):
    write_folder(tmp_path, ROWS, ending)
    naive = pa.table({"hospitalization_id": ["S1"], "recorded_dttm": [datetime(2125, 1, 2, 8)]})
    write = pq.write_table if ending == "parquet" else pacsv.write_csv
    write(naive, tmp_path / f"clif_respiratory_support.{ending}")
    with pytest.raises(TablesError, match=r"respiratory_support|no offset"):
        read_tables(tmp_path)


def test_a_folder_without_a_needed_table_says_which(tmp_path: Path):
    write_folder(tmp_path, ROWS)
    (tmp_path / "clif_patient.csv").unlink()
    with pytest.raises(TablesError, match="no table patient"):
        read_tables(tmp_path)


def test_a_folder_without_the_other_tables_is_read_and_says_so(tmp_path: Path):
    read = tables(tmp_path, support("08:00", "IMV"))
    assert read.absent == ("vitals", "labs", "position", "adt")


def test_a_text_in_a_number_column_is_refused_with_the_table_named(tmp_path: Path):
    write_folder(tmp_path, ROWS)
    spoilt = "hospitalization_id,recorded_dttm,fio2_set\nS1,2125-01-02 08:00:00+00:00,high\n"
    (tmp_path / "clif_respiratory_support.csv").write_text(spoilt, encoding="utf-8")
    with pytest.raises(TablesError, match=r"clif_respiratory_support\.csv cannot be read"):
        read_tables(tmp_path)


def test_rows_without_a_stay_or_a_time_are_left_out(tmp_path: Path):
    nameless = support("08:00", "IMV", stay=None)
    timeless = support("08:00", "IMV") | {"recorded_dttm": None}
    read = tables(tmp_path, nameless, timeless, support("09:00", "IMV"))
    assert [row.at for row in read.support] == [at("09:00")]
