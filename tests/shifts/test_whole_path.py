"""The whole path once: sign in, open a bed, chart, read indices, board and handoff page."""

from tests.client import Browser
from tests.shifts.checks import PLAIN
from tests.ward import Ward


def chart(browser: Browser, ward: Ward, bed: str, **typed: str):
    """Open the form of a bed and send it."""
    action = f"/courses/{ward.courses[bed]}/assess"
    browser.get(action)
    return browser.submit(action, **typed)


def test_a_bed_leads_to_its_patient_by_an_address_that_names_nobody(
    ash: Browser, ward: Ward
) -> None:
    answer = ash.get("/beds/L3")
    assert answer.path == f"/courses/{ward.courses['L3']}"
    assert "P-01 Test" in answer.text


def test_a_saved_check_shows_its_indices_on_the_bed_page(ash: Browser, ward: Ward) -> None:
    answer = chart(ash, ward, "L3", **PLAIN)
    assert (answer.status, answer.path) == (200, f"/courses/{ward.courses['L3']}")
    for shown in ("8.0", "14", "30"):
        assert shown in answer.text


def test_the_board_shows_the_bed_and_no_flag(ash: Browser, ward: Ward) -> None:
    chart(ash, ward, "L3", **PLAIN)
    board = ash.get("/")
    assert "No flag raised" in board.text


def test_the_handoff_page_carries_the_numbers_and_a_persons_words(ash: Browser, ward: Ward) -> None:
    chart(ash, ward, "L3", **PLAIN)
    course = ward.courses["L3"]
    page = ash.get(f"/courses/{course}/handoff")
    action = f"/courses/{course}/handoff/notes"
    assert "Support, lungs, gas" in page.text
    ash.post(action, {})
    written = ash.get(f"/courses/{course}/handoff")
    assert written.status == 200
