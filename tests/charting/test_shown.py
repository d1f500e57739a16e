"""How a charted number is written: fixed places, or trimmed where the trade writes no zero."""

from decimal import Decimal

import pytest

from app.charting.fields import FIELDS
from app.charting.reasons import NOT_MEASURED_REASONS, not_done, reason_words
from app.charting.shown import shown, signed, with_unit


@pytest.mark.parametrize(
    ("code", "number", "text"),
    [
        ("peep_set", "5.0", "5"),
        ("peep_set", "7.5", "7.5"),
        ("ph", "7.4", "7.40"),
        ("airway_size_mm", "8", "8.0"),
        ("fio2_set", "40.5", "41"),
        ("paco2", "39.7533", "40"),
        ("mip_cmh2o", "-40", "-40"),
        ("trigger_pressure_set", "-0.04", "0"),
    ],
)
def test_a_number_is_rounded_half_up_to_its_fields_places(
    code: str, number: str, text: str
) -> None:
    assert shown(FIELDS[code], Decimal(number)) == text


def test_a_unit_stands_behind_a_space_and_a_field_without_one_stands_alone() -> None:
    assert with_unit(FIELDS["fio2_set"], Decimal(40)) == "40 %"
    assert with_unit(FIELDS["ph"], Decimal("7.3")) == "7.30"
    assert signed("-40 cmH2O") == "−40 cmH2O"


def test_a_reason_is_said_in_words_whether_it_is_a_code_or_somebodys_own() -> None:
    assert reason_words("effort") == "effort"
    assert reason_words("bronchoscopy under way") == "bronchoscopy under way"
    assert not_done("plateau", "effort") == "plateau not done: effort"
    assert not_done("plateau", "not_due") == "plateau not due this round"
    assert not_done("plateau", "") == "plateau not done"


def test_every_reason_has_a_code_of_its_own() -> None:
    codes = [reason.code for reason in NOT_MEASURED_REASONS]
    assert len(set(codes)) == len(codes)
