"""One row for each assessment: which course, when, and each index unrounded with its state."""

import csv
import io
from datetime import datetime
from decimal import Decimal
from pathlib import Path

import pytest

from app.charting.derive import CHARTED
from app.exchange.clif_import import import_clif
from app.exchange.indices_export import HEADER, export_indices, state_of, value_of
from app.physiology.answer import Answer, NotAvailable, Query, Value, Verdict
from app.record.database import Database
from app.record.judging import judging
from tests.clock import Clock
from tests.exchange.clif_folder import lab, support, vital, write_folder
from tests.exchange.conftest import make_unit

HOLD = {
    "fio2_set": 0.45,
    "peep_set": 8,
    "tidal_volume_set": 450,
    "resp_rate_set": 18,
    "tidal_volume_obs": 455,
    "resp_rate_obs": 18,
    "peak_inspiratory_pressure_obs": 25,
    "plateau_pressure_obs": 20,
}
ROWS = {
    "respiratory_support": [
        support("08:00", "IMV", "Assist Control-Volume Control", **HOLD),
        support("12:00", "IMV", "Pressure Support/CPAP", peep_set=8, pressure_support_set=10),
        support("12:00", "IMV", "Pressure Control", days=4, peep_set=8),
    ],
    "vitals": [vital("08:00", "height_cm", 175)],
    "labs": [
        lab("09:00", "ph_arterial", 7.35),
        lab("09:00", "po2_arterial", 90),
        lab("09:00", "pco2_arterial", 40),
    ],
}


@pytest.fixture
def rows(sqlite_database: Database, clock: Clock, tmp_path: Path) -> list[dict[str, str]]:
    unit = make_unit(sqlite_database, clock, zone="America/New_York")
    import_clif(sqlite_database, clock, unit, write_folder(tmp_path, ROWS))
    out = io.StringIO()
    with sqlite_database.reading() as session:
        written = export_indices(session, judging(session, unit.id, clock()), out)
    found = list(csv.DictReader(io.StringIO(out.getvalue())))
    assert written == len(found)
    return found


def test_the_header_names_every_charted_index_and_its_state():
    assert HEADER[:4] == ("course", "observed_at", "pbw", "pbw_state")
    assert len(HEADER) == 2 + 2 * len(CHARTED)


def test_courses_are_named_by_their_stay(rows: list[dict[str, str]]):
    assert [row["course"] for row in rows] == ["S1", "S1", "S1", "S1:2"]


def test_a_moment_is_the_units_wall_time_with_its_offset(rows: list[dict[str, str]]):
    assert rows[0]["observed_at"] == "2125-01-02T03:00:00-05:00"
    assert all(datetime.fromisoformat(row["observed_at"]).tzinfo for row in rows)


def test_a_value_is_unrounded_and_says_that_it_holds(rows: list[dict[str, str]]):
    first = rows[0]
    assert Decimal(first["pbw"]) == Decimal("70.566")  # 50 + 0.91 (175 - 152.4)
    assert Decimal(first["vt_per_pbw"]) == Decimal(455) / Decimal("70.566")
    assert Decimal(first["driving_pressure"]) == 12  # 20 - 8, no hold at the end of expiration
    assert first["driving_pressure_state"] == "value"


def test_a_gas_answers_by_the_oxygen_in_force(rows: list[dict[str, str]]):
    assert Decimal(rows[1]["pf_ratio"]) == 200  # 90 / 0.45
    assert (rows[1]["berlin_class"], rows[1]["berlin_class_state"]) == ("moderate", "class")


def test_an_index_that_does_not_hold_is_blank_and_says_why(rows: list[dict[str, str]]):
    assert (rows[2]["driving_pressure"], rows[2]["driving_pressure_state"]) == (
        "",
        "not_applicable",
    )
    assert (rows[3]["driving_pressure"], rows[3]["driving_pressure_state"]) == ("", "not_available")


@pytest.mark.parametrize(
    ("answer", "value", "state"),
    [
        (Value(Decimal("1E+2"), "mL", "100"), "100", "value"),
        (Value(Decimal("8.005"), "mL/kg", "8.0"), "8.005", "value"),
        (Verdict("mild"), "mild", "class"),
        (Query("mistyped?"), "", "query"),
        (NotAvailable("no plateau"), "", "not_available"),
        (NotAvailable("not in this mode", applicable=False), "", "not_applicable"),
    ],
)
def test_each_kind_of_answer_has_its_word(answer: Answer, value: str, state: str):
    assert (value_of(answer), state_of(answer)) == (value, state)
