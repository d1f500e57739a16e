"""Who is admitted: a height of the stay itself or of another stay, age, sex, airway and names."""

from decimal import Decimal
from pathlib import Path

import pytest

from app.actions.admit_patient import Admission
from app.exchange.clif_courses import courses_of
from app.exchange.clif_devices import with_devices
from app.exchange.clif_people import NO_NAME, Height, Heights, admission_of
from app.rules.unit_clock import UnitClock
from tests.exchange.clif_folder import STAY, at, stay, support, tables, vital

MOMENT = at("08:00")


def height(folder: Path, *vitals: dict, **others: list[dict]) -> Height | None:
    read = tables(folder, support("08:00", "IMV"), vitals=vitals, **others)
    return Heights(read.stays, read.vitals).of(STAY, MOMENT)


def admission(folder: Path, row: dict, known: Height | None = None) -> Admission:
    read = tables(folder, row)
    (course,) = courses_of(STAY, with_devices(read.support), UnitClock("UTC"))
    return admission_of(course, read.stays[STAY], "unit", known)


def test_the_height_charted_nearest_to_the_start_is_used(tmp_path: Path):
    found = height(
        tmp_path,
        vital("07:00", "height_cm", 170),
        vital("08:30", "height_cm", 172),
        vital("20:00", "height_cm", 174),
    )
    assert (found.number, found.source) == (Decimal(172), "imported: vital signs of this stay")


def test_without_one_the_same_persons_height_of_another_stay_is_used_and_says_so(tmp_path: Path):
    found = height(
        tmp_path,
        vital("08:00", "height_cm", 165, stay="S2", days=30),
        hospitalization=[stay(), stay("S2", days=30)],
    )
    assert (found.number, found.source) == (
        Decimal(165),
        "imported: another stay of the same person",
    )


def test_another_persons_height_is_never_used(tmp_path: Path):
    found = height(
        tmp_path,
        vital("08:00", "height_cm", 165, stay="S2"),
        hospitalization=[stay(), stay("S2", patient="P2")],
    )
    assert found is None


def test_a_height_of_another_stay_gives_way_to_the_stays_own(tmp_path: Path):
    found = height(
        tmp_path,
        vital("08:00", "height_cm", 165, stay="S2"),
        vital("20:00", "height_cm", 170),
        hospitalization=[stay(), stay("S2")],
    )
    assert found.number == 170


def test_an_unusual_height_is_used_unconfirmed(tmp_path: Path):
    found = height(tmp_path, vital("08:00", "height_cm", 70))
    assert found.number == 70
    assert found.source.endswith("unconfirmed")
    assert "unusual" in found.question


def test_an_impossible_height_is_refused_with_its_reason(tmp_path: Path):
    found = height(tmp_path, vital("08:00", "height_cm", 1700))
    assert found.number is None
    assert "1700" in found.refusal


def test_a_zero_is_no_height(tmp_path: Path):
    assert height(tmp_path, vital("08:00", "height_cm", 0)) is None


def test_the_admission_has_age_and_sex_but_no_bed_no_name_and_no_birth_date(tmp_path: Path):
    made = admission(tmp_path, support("08:00", "IMV"))
    assert (made.age_y, made.pbw_sex, made.birth_date) == (60, "M", None)
    assert (made.bed_id, made.name, made.record_number) == (None, NO_NAME, "P1")
    assert (made.origin, made.source_key) == ("import", STAY)


def test_a_refused_height_leaves_the_patient_without_one(tmp_path: Path):
    refused = Height("somewhere", "1700", None, refusal="no")
    made = admission(tmp_path, support("08:00", "IMV"), refused)
    assert (made.height_cm, made.height_source) == (None, "")


@pytest.mark.parametrize(("flag", "category"), [(True, "trach"), (False, None), (None, None)])
def test_the_airway_is_stated_only_where_the_tables_say_it(
    tmp_path: Path, flag: bool | None, category: str | None
):
    made = admission(tmp_path, support("08:00", "IMV", tracheostomy=flag))
    assert (made.airway.category if made.airway else None) == category
