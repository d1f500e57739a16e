"""One bed passes from one person to the next, through HTTP, on both engines."""

import pytest

from tests.client import Browser
from tests.shifts.handing import (
    accept,
    offer,
    said,
    standing,
)
from tests.site import PASSWORD
from tests.ward import Ward


@pytest.fixture
def birch(ash: Browser) -> Browser:
    """Birch, who comes next, at another screen."""
    other = ash.another()
    other.sign_in("birch", PASSWORD)
    return other


@pytest.fixture
def cedar(ash: Browser) -> Browser:
    """Cedar, who leads."""
    other = ash.another("10.1.1.3")
    other.sign_in("cedar", PASSWORD)
    return other


def test_before_anybody_accepted_nobody_has_the_bed(ash: Browser, ward: Ward) -> None:
    assert "Nobody has this bed yet" in standing(ash, ward, "L3")


def test_an_offer_moves_nothing_and_an_acceptance_moves_the_bed(
    ash: Browser, birch: Browser, ward: Ward
) -> None:
    said(ash, ward, "L3", "take", "Pneumonia, stable on volume control")
    offer(ash, ward, "L3", to="birch")
    assert "Ash has this bed" in standing(birch, ward, "L3")
    answer = accept(birch, ward, "L3")
    assert (answer.status, answer.path) == (200, "/handoffs")
    assert "Birch has this bed, accepted from Ash" in standing(ash, ward, "L3")


def test_the_board_says_who_has_the_bed_and_to_whom_it_is_offered(ash: Browser, ward: Ward) -> None:
    said(ash, ward, "L3", "take", "Stable")
    offer(ash, ward, "L3", to="birch")
    board = ash.get("/").page.text
    assert "Ash has it; offered to Birch 19:30" in board
    assert "1 offered, not accepted" in board
