"""A flag from the bed page to its explanation, acknowledged, muted, corrected away."""

from datetime import timedelta

from tests.client import Answer, Browser
from tests.clock import Clock
from tests.shifts.checks import PLAIN
from tests.shifts.test_corrections import correct, row_links
from tests.site import PASSWORD
from tests.ward import Ward

STIFF = {**PLAIN, "plateau_pressure_obs": "34", "peak_inspiratory_pressure_obs": "40"}


def base(ward: Ward) -> str:
    return f"/courses/{ward.courses['L3']}"


def chart(browser: Browser, ward: Ward, **typed: str) -> Answer:
    action = f"{base(ward)}/assess"
    browser.get(action)
    return browser.submit(action, **{**STIFF, **typed})


def worries(answer: Answer) -> list[str]:
    return [p.text for p in answer.page.root.all("p") if p["class"].startswith("worry")]


def test_a_flag_opens_from_the_bed_page_to_all_that_explains_it(ash: Browser, ward: Ward) -> None:
    chart(ash, ward)
    bed = ash.get(base(ward))
    assert any("Driving pressure 22, over 15" in told for told in worries(bed))
    page = ash.get(f"{base(ward)}/flags/mechanics")
    assert f"{base(ward)}/flags/mechanics" in [a["href"] for a in bed.page.root.all("a")]
    for words in ("far over it once", "22 at 19:30", "Limit, over 15 cmH2O", "2 values in a row"):
        assert words in page.page.text


def test_acknowledged_it_stands_with_its_plan_on_board_and_handoff(
    ash: Browser, ward: Ward, clock: Clock
) -> None:
    chart(ash, ward)
    clock.now += timedelta(minutes=5)
    action = f"{base(ward)}/flags/mechanics"
    ash.get(action)
    said = ash.submit(action, plan="proning at 21", owner="night therapist")
    assert "Acknowledged 19:35 by Ash: proning at 21" in said.page.text
    for address in ("/", base(ward), f"{base(ward)}/handoff"):
        assert "acknowledged 19:35 by Ash: proning at 21" in ash.get(address).page.text
    assert any("worry-seen" in p["class"] for p in ash.get("/").page.root.all("p"))


def test_a_correction_that_takes_a_flag_away_is_told_in_its_history(
    ash: Browser, ward: Ward, clock: Clock
) -> None:
    chart(ash, ward)
    clock.now += timedelta(minutes=5)
    (row,) = set(row_links(ash.get(base(ward))))
    correct(ash, row, "plateau_pressure_obs", "26")
    page = ash.get(f"{base(ward)}/flags/mechanics")
    assert "No flag raised of this cause" in page.page.text
    assert "no longer stands: because of a correction" in page.page.text


def test_who_only_reads_sees_the_flag_and_no_form(ash: Browser, ward: Ward) -> None:
    chart(ash, ward)
    oak = ash.another()
    oak.sign_in("oak", PASSWORD)
    action = f"{base(ward)}/flags/mechanics"
    page = oak.get(action)
    token = next(e["value"] for e in page.page.root.all("input") if e["name"] == "csrf")
    assert "Driving pressure 22" in page.page.text
    assert action not in [form["action"] for form in page.page.root.all("form")]
    assert oak.post(action, {"said": "acknowledged", "csrf": token}).status == 403


def test_a_cause_that_is_none_is_not_found(ash: Browser, ward: Ward) -> None:
    assert ash.get(f"{base(ward)}/flags/mood").status == 404
