"""A check charted and a handoff accepted by ear: what a screen reader is given on the way."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.heard import ENTRIES, focused, heard, spoken, the
from tests.browser.live_ward import LAST, LiveWard, live_ward, sign_in
from tests.clock import Clock
from tests.engines import Sqlite

pytestmark = pytest.mark.xdist_group("browser")

EVENING = datetime(2026, 11, 26, 0, 30, tzinfo=UTC)
OF_THE_FORM = {"Observed at", "Observed at, time in 24 hours", "Mode family"}
"""What stands outside every group of fields."""


@pytest.fixture
def live(sqlite: Sqlite) -> Iterator[LiveWard]:
    with live_ward(sqlite, Clock(EVENING), four_hours_ago=LAST) as served:
        yield served


@pytest.fixture
def page(browser: Browser, live: LiveWard) -> Iterator[Page]:
    opened = browser.new_page()
    sign_in(opened, live)
    yield opened
    opened.close()


def test_everything_in_the_check_says_what_it_is_and_in_which_group(
    page: Page, live: LiveWard
) -> None:
    page.goto(live.assess())
    every = heard(page)
    form = next(
        n for n, node in enumerate(every) if node.name == "Check" and node.role == "heading"
    )
    entries = [node for node in every[form:] if node.role in ENTRIES - {"spinbutton", "button"}]
    assert len(entries) > 40
    assert not [node for node in entries if not node.name]
    assert not [node.name for node in entries if not node.within and node.name not in OF_THE_FORM]
    names = [node.name for node in entries]
    assert not {name for name in names if names.count(name) > 1}, "two of one name"
    depth = the(page, "textbox", "Tube depth")
    assert depth.description.startswith("cm Keep 22, 15:30")
    assert the(page, "checkbox", "Keep 22, 15:30 Tube depth").within[0] == "At the tube"


def test_a_refused_number_is_heard_at_its_field_and_once_aloud_and_so_is_its_end(
    page: Page, live: LiveWard
) -> None:
    page.goto(live.assess())
    page.focus("#f-peep_set")
    page.keyboard.type("100")
    page.keyboard.press("Enter")
    expect(page.locator("#aloud")).to_contain_text("refused")
    peep = focused(page)
    assert (peep.role, peep.name, peep.said["invalid"]) == ("textbox", "PEEP", True)
    assert "PEEP 100 is refused. This field takes 0 to 50 cmH2O." in peep.description
    assert [words for words in spoken(page) if "PEEP 100 is refused" in words]
    page.keyboard.press("Control+a")
    page.keyboard.type("10")
    page.keyboard.press("Enter")
    expect(page.locator("#f-tidal_volume_set")).to_be_focused()
    assert focused(page).name == "Tidal volume set"
    peep = the(page, "textbox", "PEEP")
    assert peep.said["invalid"] is False
    assert "refused" not in peep.description
    assert "changed, was 12" in peep.description


def test_a_save_that_is_held_up_says_why_and_leads_to_the_field(page: Page, live: LiveWard) -> None:
    page.goto(live.assess())
    page.fill("#f-spo2", "94")
    page.fill("#f-heart_rate", "900")
    page.get_by_role("button", name="Save check").click()
    page.wait_for_selector("#f-heart_rate[aria-invalid=true]")
    rate = focused(page)
    assert (rate.name, rate.said["invalid"]) == ("Heart rate", True)
    assert "900 is refused" in rate.description
    assert [
        node.name for node in heard(page) if "Heart rate: " in node.name and node.role == "link"
    ]
    assert page.input_value("#f-spo2") == "94"


def test_a_handoff_is_accepted_by_ear(page: Page, browser: Browser, live: LiveWard) -> None:
    handoff = live.assess().replace("/assess", "/handoff")
    page.goto(handoff)
    page.locator("form[action$='/take'] [name=words]").fill("Mine since the morning")
    with page.expect_navigation():
        page.locator("form[action$='/take'] button").click()
    page.goto(handoff)
    page.check(".offer [name=level][value=raised]")
    page.fill(".offer [name=reason]", "Stiffer since noon")
    page.click(".offer button[type=submit]")
    page.wait_for_url("**/handoffs?done=*")
    live.clock.now += timedelta(minutes=5)
    live.chart({**LAST, "fio2_set": "60"}, hours_ago=0)

    birch = browser.new_page()
    sign_in(birch, live, "birch")
    birch.goto(handoff)
    first = focused(birch)
    assert (first.role, first.said["checked"]) == ("checkbox", False)
    stops = [node for node in heard(birch) if node.role == "checkbox"]
    assert any("FiO2" in node.name and "45" in node.name and "60" in node.name for node in stops)
    assert stops[-1].name == "Gone through: concern, tasks, if-then"
    said = the(birch, "textbox", "Say it back in your own words kept as you write it")
    assert said.said["required"] is True

    birch.get_by_label("Gone through").check()
    birch.get_by_label("Say it back").fill("Stiffer; call at 88")
    birch.keyboard.press("Enter")
    birch.wait_for_selector(".say.bad[role=alert]", timeout=5000)
    assert [words for words in spoken(birch) if "Not saved." in words]
    assert focused(birch).role == "alert"
    assert birch.get_by_label("Say it back").input_value() == "Stiffer; call at 88"
    for tick in birch.locator(".accept [name=seen]").all():
        tick.check()
    birch.get_by_label("Gone through").check()
    birch.get_by_label("Say it back").press("Enter")
    birch.wait_for_url("**/handoffs?done=*")
    assert [node for node in heard(birch) if node.role == "heading" and node.said.get("level") == 1]
    birch.close()
