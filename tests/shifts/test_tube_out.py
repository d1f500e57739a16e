"""A tube that came out unplanned: recorded in one press, told later, on the handoff for a day."""

import pytest

from tests.client import Answer, Browser
from tests.clock import Clock
from tests.shifts.checks import PLAIN
from tests.site import PASSWORD
from tests.ward import Ward, facts_of


def tube_out(browser: Browser, bed: str) -> Answer:
    browser.get(f"{bed}/tube-out")
    return browser.submit(f"{bed}/tube-out")


def chart(browser: Browser, bed: str) -> None:
    browser.get(f"{bed}/assess")
    browser.submit(f"{bed}/assess", **PLAIN)


def test_the_bed_page_has_a_key_for_it_and_the_page_a_button_in_focus(ash: Browser, bed: str):
    (link,) = [a for a in ash.get(bed).page.root.all("a") if a["href"] == f"{bed}/tube-out"]
    assert link["aria-keyshortcuts"] == "F8"
    opened = ash.get(link["href"])
    assert "Oral tube 7.5 mm" in opened.text
    in_focus = [e for e in opened.page.root.all("button") if "data-focus-first" in e.attributes]
    assert [button.text for button in in_focus] == ["Record: tube out, unplanned"]


def test_one_press_writes_the_event_and_the_airway_and_ends_invasive_support(
    ash: Browser, bed: str, database, ward: Ward, clock: Clock
):
    chart(ash, bed)
    clock.forward(minutes=10)
    answer = tube_out(ash, bed)
    assert answer.path == bed
    assert "Tube out: support not charted" in answer.text
    assert "Since 19:40: no setting is in force." in answer.text
    assert "Nothing of them was charted since 19:40." in answer.text
    assert "No mechanics: tube out: support not charted" in ash.get("/").text
    assert "Cuff 26" not in ash.get(f"{bed}/handoff").text
    facts = facts_of(database, ward)
    removed = facts.airways[-1]
    assert (removed.act, removed.words, removed.category) == ("removed", "unplanned", "none")
    (event,) = facts.events
    assert (event.kind, event.observed_at) == ("unplanned_extubation", removed.observed_at)
    assert f"{bed}/tube-out" not in answer.text


def test_no_setting_of_the_machine_is_in_force_once_the_tube_is_out(
    ash: Browser, bed: str, clock: Clock
):
    chart(ash, bed)
    clock.forward(minutes=10)
    tube_out(ash, bed)
    clock.forward(minutes=5)
    gas = ash.get(f"{bed}/assess?kind=gas").text
    assert "No mode charted" in gas
    assert "no FiO2 in force" in gas


def of_the_oxygen(page: Answer) -> list[str]:
    """What stands in the place of S/F: its number or the word there."""
    places = [e for e in page.page.root.all("span") if e["data-key"] == "sf_ratio"]
    return [e.text for e in places]


@pytest.mark.parametrize("path", ["", "/handoff"])
def test_saturation_over_oxygen_is_not_that_of_the_tube_any_more(
    ash: Browser, bed: str, clock: Clock, path: str
):
    chart(ash, bed)
    assert any("209" in text for text in of_the_oxygen(ash.get(f"{bed}{path}")))
    clock.forward(minutes=10)
    tube_out(ash, bed)
    (told, *_) = of_the_oxygen(ash.get(f"{bed}{path}"))
    assert "no tube in place; what is breathed now is not charted" in told
    clock.forward(minutes=5)
    ash.get(f"{bed}/liberation?act=told")
    ash.submit(f"{bed}/liberation", breathes_now="high_flow")
    (told, *_) = of_the_oxygen(ash.get(f"{bed}{path}"))
    assert "no FiO2 charted since the tube came out" in told
    assert "says nothing of now" in ash.get(f"{bed}/numbers/sf_ratio").text


def test_what_was_left_open_stands_until_it_is_told(ash: Browser, bed: str):
    tube_out(ash, bed)
    for path in ("", "/handoff"):
        page = ash.get(f"{bed}{path}").text
        assert "Tube out unplanned: what the patient breathes now" in page
        assert "Tube out unplanned: how it came out" in page
        assert "Tube out unplanned: re-intubated or not" in page


@pytest.mark.parametrize(("hours", "stands"), [(23, True), (24, False)])
def test_it_stands_on_the_danger_line_for_a_day(
    ash: Browser, bed: str, clock: Clock, hours: int, stands: bool
):
    tube_out(ash, bed)
    clock.forward(hours=hours)
    ash.sign_in("ash", PASSWORD)
    assert ("Unplanned extubation" in danger(ash.get(f"{bed}/handoff"))) is stands


def danger(handoff: Answer) -> str:
    (section,) = [e for e in handoff.page.root.all("section") if e["class"] == "part part-danger"]
    return section.text


def test_a_tube_comes_out_once(ash: Browser, bed: str, clock: Clock):
    tube_out(ash, bed)
    assert "No tube is in place" in ash.get(f"{bed}/tube-out").text
    clock.forward(minutes=5)
    ash.get(f"{bed}/events")
    again = ash.submit(f"{bed}/events", kind="unplanned_extubation")
    assert (again.status, "No tube is in place" in again.text) == (422, True)


def test_the_same_event_from_the_list_writes_the_airway_too(
    ash: Browser, bed: str, database, ward: Ward
):
    ash.get(f"{bed}/events")
    ash.submit(f"{bed}/events", kind="unplanned_extubation", words="Pulled while turning")
    facts = facts_of(database, ward)
    assert facts.airways[-1].act == "removed"
    assert facts.events[-1].words == "Unplanned extubation: Pulled while turning"


def test_a_form_sent_twice_is_one_event(ash: Browser, bed: str, database, ward: Ward):
    ash.get(f"{bed}/tube-out")
    form = ash.last
    ash.submit(f"{bed}/tube-out")
    ash.last = form
    assert ash.submit(f"{bed}/tube-out").path == bed
    assert len(facts_of(database, ward).events) == 1


@pytest.mark.parametrize(
    ("at", "words"), [("2026-11-25T20:30", "still to come"), ("2026-11-20T20:30", "before support")]
)
def test_a_time_that_cannot_be_is_refused(ash: Browser, bed: str, at: str, words: str):
    ash.get(f"{bed}/tube-out")
    answer = ash.submit(f"{bed}/tube-out", observed_at=at)
    assert (answer.status, words in answer.text) == (422, True)


def test_who_may_not_chart_is_not_offered_it(browser: Browser, bed: str):
    browser.sign_in("oak", PASSWORD)
    assert f"{bed}/tube-out" not in browser.get(bed).text
    assert browser.get(f"{bed}/tube-out").status == 403


def test_no_plateau_is_owed_once_the_tube_is_out(ash: Browser, bed: str, clock: Clock):
    chart(ash, bed)
    clock.forward(minutes=10)
    tube_out(ash, bed)
    clock.forward(hours=13)
    ash.sign_in("ash", PASSWORD)
    assert "No plateau was charted" not in ash.get(bed).text


def settle(browser: Browser, bed: str, words: str, **typed: str) -> Answer:
    """Settle the task with these words from the handoff page."""
    page = browser.get(f"{bed}/handoff").page
    (line,) = [
        li for li in page.root.all("li") if li["class"] == "task task-open" and words in li.text
    ]
    (form,) = line.all("form")
    hidden = {e["name"]: e["value"] for e in form.all("input") if e["type"] == "hidden"}
    return browser.post(form["action"], {**hidden, **typed})


def test_what_was_left_open_leads_to_where_it_is_charted_and_is_not_simply_done(
    ash: Browser, bed: str
):
    tube_out(ash, bed)
    page = ash.get(f"{bed}/handoff").page
    ways = {a.text.split(":")[0]: a["href"] for a in page.root.all("a") if ": Tube out" in a.text}
    assert ways["Re-intubated"] == f"{bed}/airway?act=placed"
    assert ways["Not re-intubated"] == ways["Chart it"] == f"{bed}/liberation?act=told"
    refused = settle(ash, bed, "how it came out", state="done")
    assert (refused.status, "charting the fact itself" in refused.text) == (422, True)
    closed = settle(ash, bed, "how it came out", state="done", reason="nobody saw it")
    assert "done 19:30, Ash: nobody saw it" in closed.page.text
