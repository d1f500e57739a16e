"""Blood samples: what was drawn in one minute is one sample, arterial only if no vein shares it."""

from decimal import Decimal
from pathlib import Path

import pytest

from app.exchange.clif_gases import Sample, samples_of
from tests.exchange.clif_folder import at, lab, support, tables

GAS = (("ph_arterial", 7.31), ("pco2_arterial", 44), ("po2_arterial", 80))


def samples(folder: Path, *labs: dict) -> tuple[Sample, ...]:
    return samples_of(tables(folder, support("08:00", "IMV"), labs=labs).labs)


def test_values_of_one_minute_are_one_sample(tmp_path: Path):
    (sample,) = samples(tmp_path, *(lab("08:02", name, value) for name, value in GAS))
    assert {name: found.value for name, found in sample.values.items()} == {
        "ph_arterial": Decimal("7.31"),
        "pco2_arterial": Decimal(44),
        "po2_arterial": Decimal(80),
    }


def test_values_of_two_minutes_are_two_samples(tmp_path: Path):
    found = samples(tmp_path, lab("08:02", *GAS[0]), lab("08:03", *GAS[1]))
    assert [sample.at for sample in found] == [at("08:02"), at("08:03")]


def test_a_sample_with_no_vein_in_its_minute_is_arterial(tmp_path: Path):
    (sample,) = samples(tmp_path, lab("08:02", *GAS[0]), lab("08:03", "ph_venous", 7.31))
    assert sample.specimen == "arterial"


@pytest.mark.parametrize(
    ("arterial", "venous"),
    [
        ("ph_arterial", "ph_venous"),
        ("pco2_arterial", "pco2_venous"),
        ("so2_arterial", "so2_mixed_venous"),
        ("so2_arterial", "so2_central_venous"),
    ],
)
def test_a_value_shared_with_a_vein_of_the_same_minute_makes_the_specimen_unknown(
    tmp_path: Path, arterial: str, venous: str
):
    labs = [
        lab("08:02", "po2_arterial", 40),
        lab("08:02:30", arterial, 60),
        lab("08:02", venous, 60),
    ]
    (sample,) = samples(tmp_path, *labs)
    assert sample.specimen == "unknown"
    assert venous not in sample.values


def test_a_vein_drawn_in_the_same_minute_with_other_values_leaves_it_arterial(tmp_path: Path):
    (sample,) = samples(tmp_path, lab("08:02", *GAS[0]), lab("08:02", "ph_venous", 7.29))
    assert sample.specimen == "arterial"


def test_venous_blood_alone_is_no_blood_gas(tmp_path: Path):
    assert samples(tmp_path, lab("08:02", "ph_venous", 7.29), lab("08:02", "lactate", 2)) == ()


def test_lactate_and_haemoglobin_join_a_gas_of_their_minute(tmp_path: Path):
    labs = [lab("08:02", *GAS[0]), lab("08:02", "lactate", 2.1), lab("09:00", "hemoglobin", 9)]
    (sample,) = samples(tmp_path, *labs)
    assert set(sample.values) == {"ph_arterial", "lactate"}


def test_two_values_of_one_minute_keep_the_first_and_tell_the_other(tmp_path: Path):
    (sample,) = samples(
        tmp_path, lab("08:02", "ph_arterial", 7.31), lab("08:02", "ph_arterial", 7.33)
    )
    assert sample.values["ph_arterial"].value == Decimal("7.31")
    assert [left.value for _, left in sample.conflicts] == [Decimal("7.33")]


def test_a_zero_in_a_gas_means_that_nothing_was_read(tmp_path: Path):
    (sample,) = samples(tmp_path, lab("08:02", *GAS[0]), lab("08:02", "po2_arterial", 0))
    assert set(sample.values) == {"ph_arterial"}
