"""A label behind other words keeps what is written in capitals."""

import pytest

from app.pages.short_words import mid_sentence


@pytest.mark.parametrize(
    ("label", "behind"),
    [
        ("Driving pressure", "driving pressure"),
        ("Tidal volume per kg PBW", "tidal volume per kg PBW"),
        ("SpO2", "SpO2"),
        ("PEEP", "PEEP"),
        ("pH", "pH"),
        ("P/F ratio", "P/F ratio"),
    ],
)
def test_only_a_plain_word_loses_its_capital(label: str, behind: str):
    assert mid_sentence(label) == behind
