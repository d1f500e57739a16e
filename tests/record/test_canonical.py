"""The text of a row under its hash: RFC 8259 JSON with sorted keys, the same from every writer."""

import hashlib
import json
from datetime import UTC, datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.record.canonical import as_json, as_text, row_sha256, values_given
from app.record.tables import AssessmentRow

AT = datetime(2026, 3, 1, 7, 30, tzinfo=UTC)

# Whatever Python's own encoder and the record can both hold: no lone surrogate, no NUL.
texts = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\x00"))
columns = st.dictionaries(
    texts, st.none() | st.booleans() | st.integers(-(2**63), 2**63 - 1) | texts, max_size=8
)


@given(columns)
def test_a_row_is_hashed_as_the_standard_library_would_write_it(values):
    given_values = {name: value for name, value in values.items() if value is not None}
    text = json.dumps(
        ["some", given_values], sort_keys=True, separators=(",", ":"), ensure_ascii=False
    )
    assert row_sha256("some", values) == hashlib.sha256(text.encode()).hexdigest()
    assert as_json(["some", given_values]) == text


def test_moments_and_decimals_stand_in_one_form():
    text = '["some",{"at":"2026-03-01T07:30:00.000000+00:00","number":"7.50"}]'
    values = {"number": Decimal("7.50"), "nothing": None, "at": AT}
    assert row_sha256("some", values) == hashlib.sha256(text.encode()).hexdigest()


def test_both_moments_of_an_hour_that_comes_twice_keep_their_own_text():
    once = datetime(2026, 10, 25, 2, 30, tzinfo=ZoneInfo("Europe/Berlin"))
    assert once == once.replace(fold=1)  # as Python has it within a zone
    told = [as_text(once.replace(fold=fold)) for fold in (0, 1)]
    assert told == ["2026-10-25T00:30:00.000000+00:00", "2026-10-25T01:30:00.000000+00:00"]


def test_a_backslash_that_somebody_typed_is_no_forbidden_character():
    assert row_sha256("some", {"words": "\\u0000"}) != row_sha256("some", {"words": "u0000"})


def test_a_column_that_the_table_does_not_have_is_named():
    with pytest.raises(KeyError, match="colour"):
        values_given(AssessmentRow, {"colour": "blue"})
