"""What changed on the handoff page: of the shift that is handed over, and told at the top too."""

import pytest

from tests.client import Answer, Browser
from tests.clock import Clock
from tests.shifts.checks import chart
from tests.shifts.handing import accept, offer, page_of, said
from tests.site import PASSWORD
from tests.ward import Ward

NONE = "no event, no change"


@pytest.fixture
def day(ash: Browser, ward: Ward, clock: Clock) -> None:
    """Ash has L3 since 06:50 and raised the FiO2 at 08:20; it is 19:10, into the night shift."""
    clock.forward(hours=11, minutes=20)
    ash.sign_in("ash", PASSWORD)
    said(ash, ward, "L3", "take", "Stable")
    chart(ash, ward)
    clock.forward(hours=1, minutes=30)
    ash.sign_in("ash", PASSWORD)
    answer = chart(ash, ward, fio2_set="60", heart_rate="90")
    assert answer.path == f"/courses/{ward.courses['L3']}", answer.page.text
    clock.forward(hours=10, minutes=50)
    ash.sign_in("ash", PASSWORD)


def top(browser: Browser, ward: Ward, bed: str = "L3") -> tuple[str, str]:
    """The line under the standing, and where it leads."""
    page = browser.get(page_of(ward, bed)).page
    (line,) = [p for p in page.root.all("p") if p["class"] == "changed-line"]
    (link,) = line.all("a")
    return link.text, link["href"]


def section(answer: Answer) -> str:
    (part,) = [e for e in answer.page.root.all("section") if "part-changed" in e["class"].split()]
    return part.text


def test_whoever_comes_reads_the_shift_that_is_handed_over(
    ash: Browser, birch: Browser, ward: Ward, day: None
) -> None:
    offer(ash, ward, "L3", to="birch")
    birch.sign_in("birch", PASSWORD)
    told = section(birch.get(page_of(ward, "L3")))
    assert "since 07:00, when the shift that is handed over began" in told
    assert "FiO2, %" in told
    assert "08:20" in told
    words, _ = top(birch, ward)
    assert words.startswith("What changed since 07:00: ")
    assert words.endswith("newest FiO2, %: from 45 to 60, 08:20")


def test_once_accepted_it_is_the_shift_of_whoever_has_the_bed(
    ash: Browser, birch: Browser, ward: Ward, day: None
) -> None:
    offer(ash, ward, "L3", to="birch")
    birch.sign_in("birch", PASSWORD)
    accept(birch, ward, "L3", restated="FiO2 60, rest as before")
    told = section(birch.get(page_of(ward, "L3")))
    assert "since 19:00, when this shift began" in told
    assert "60" not in told
    assert top(birch, ward)[0] == f"What changed since 19:00: {NONE}"


def test_a_bed_taken_shortly_before_its_shift_is_of_that_shift(
    ash: Browser, birch: Browser, ward: Ward, clock: Clock
) -> None:
    clock.forward(hours=23, minutes=20)  # 18:50
    ash.sign_in("ash", PASSWORD)
    said(ash, ward, "L3", "take", "Stable")
    clock.forward(hours=12, minutes=20)  # 07:10
    birch.sign_in("birch", PASSWORD)
    assert "since 26 Nov 19:00, when the shift that is handed over" in section(
        birch.get(page_of(ward, "L3"))
    )
    clock.forward(hours=12)  # a whole shift later nobody handed it over
    birch.sign_in("birch", PASSWORD)
    assert "since 19:00, when this shift began" in section(birch.get(page_of(ward, "L3")))


def test_the_top_of_the_page_names_the_newest_step_and_leads_to_all(
    ash: Browser, ward: Ward, clock: Clock
) -> None:
    assert top(ash, ward)[1] == "#head-changed"
    chart(ash, ward)
    clock.forward(minutes=10)
    chart(ash, ward, fio2_set="60", heart_rate="90")
    words, href = top(ash, ward)
    assert "newest FiO2, %: from 45 to 60, 19:40" in words
    page = ash.get(page_of(ward, "L3")).page
    assert href.removeprefix("#") in {h["id"] for h in page.root.all("h2")}


def test_an_event_is_named_by_its_words(ash: Browser, bed: str, ward: Ward) -> None:
    ash.get(f"{bed}/events")
    ash.submit(f"{bed}/events", kind="bronchoscopy", words="Plug from the left")
    assert top(ash, ward)[0] == (
        "What changed since 19:00: 2 steps, newest Bronchoscopy: Plug from the left, 19:30"
    )


def test_a_sheet_of_paper_says_it_once_under_its_heading(
    ash: Browser, birch: Browser, ward: Ward, day: None
) -> None:
    answer = ash.get(f"/print/sheets?of={ward.courses['L3']}")
    told = section(answer)
    assert "since 07:00, when the shift that is handed over began" in told
    assert "08:20" in told
    assert "changed-line" not in answer.text


def test_what_was_settled_in_the_shift_that_is_handed_over_is_told_too(
    ash: Browser, birch: Browser, ward: Ward, clock: Clock
) -> None:
    clock.forward(hours=11, minutes=20)  # 06:50
    ash.sign_in("ash", PASSWORD)
    said(ash, ward, "L3", "take", "Stable")
    clock.forward(hours=10)
    ash.sign_in("ash", PASSWORD)
    ash.get(page_of(ward, "L3"))
    ash.submit(page_of(ward, "L3", "/tasks"), words="Change the filter")
    ash.submit(page_of(ward, "L3", "/tasks/settle"), press="done")
    clock.forward(hours=2, minutes=20)  # 19:10
    birch.sign_in("birch", PASSWORD)
    assert "Change the filter" in birch.get(page_of(ward, "L3")).text
