"""What waits to be saved is shown back as its page calls it."""

import pytest

from app.web.typed_labels import label_of, text_of


@pytest.mark.parametrize(
    ("name", "sent", "shown"),
    [
        ("heading", "todo", "Still to do"),
        ("heading", "nobody's heading", "nobody's heading"),
        ("act", "prone.begin", "Turned prone"),
        ("fio2_set", "45", "45"),
        ("position", "supine", "Supine"),
        ("observed_at", "2026-03-09T07:30", "9 Mar 2026, 07:30"),
        ("observed_at", "2026-03-09Tsoon", "2026-03-09Tsoon"),
        ("words", "todo", "todo"),
    ],
)
def test_what_was_sent_reads_as_on_its_page(name: str, sent: str, shown: str):
    assert text_of(name, sent) == shown


def test_a_field_goes_by_its_label_and_anything_else_by_its_name():
    assert (label_of("fio2_set"), label_of("heading")) == ("FiO2", "Heading")
