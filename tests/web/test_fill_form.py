"""A form of a few fields that is shown again, with what holds it up in its place."""

from datetime import UTC, datetime

import pytest

from app.actions.move_patient import PlaceRefused
from app.actions.order_targets import OrderRefused
from app.charting.typed_check import Objection
from app.charting.typed_sheet import SheetHeldUp
from app.pages.fill import FillSheet
from app.record.errors import KeyReused
from app.web.fill_form import HOLDS_UP, SENT_BEFORE, held_up, read_sheet_of

NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)
SHEET = FillSheet("key", NOON, {"ordered_by": "Dr Elm"})


def shown_again(why: Exception) -> FillSheet:
    try:
        raise why
    except HOLDS_UP as caught:
        return held_up(SHEET, caught)


def test_what_is_wrong_with_a_field_stands_beside_it():
    objection = Objection("why", "refused", "Why is 300 characters long. It takes 140.")
    assert shown_again(SheetHeldUp((objection,))).objections == (objection,)


@pytest.mark.parametrize(
    ("why", "href"),
    [
        (OrderRefused("Write at least one target."), ""),
        (PlaceRefused("L3 is taken.", "7f3a"), "/courses/7f3a"),
    ],
)
def test_a_refusal_stands_above_everything_with_a_way_to_who_stands_in_the_way(
    why: Exception, href: str
):
    again = shown_again(why)
    assert (again.error, again.error_href) == (str(why), href)
    assert (again.save_key, again.typed) == ("key", {"ordered_by": "Dr Elm"})


def test_a_form_that_was_saved_before_gets_a_key_of_its_own():
    again = shown_again(KeyReused("key"))
    assert again.error == SENT_BEFORE
    assert again.save_key not in ("", "key")


def test_nothing_is_read_at_a_time_that_cannot_be_taken():
    late = FillSheet("key", NOON, {"ordered_by": "Dr Elm"}, "25:00", "Write the time as 14:05.")
    with pytest.raises(SheetHeldUp):
        read_sheet_of(late)


def test_the_fields_are_read_once_they_stand():
    assert read_sheet_of(SHEET).word("ordered_by") == "Dr Elm"
