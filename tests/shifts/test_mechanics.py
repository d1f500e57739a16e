"""What a hold means from the keyboard to the board: plain, with auto-PEEP, not done, in support."""

import re

import pytest

from tests.client import Answer, Browser
from tests.clock import Clock
from tests.shifts.checks import chart, without_plateau
from tests.shifts.test_explained import SUPPORT, main_value
from tests.site import PASSWORD
from tests.ward import Ward, facts_of

AUTO_PEEP = {
    "peep_set": "8",
    "peep_total": "12",
    "plateau_pressure_obs": "28",
    "tidal_volume_set": "400",
    "tidal_volume_obs": "400",
    "minute_vent_obs": "8.0",
}


def later(browser: Browser, clock: Clock, **span: int) -> None:
    clock.forward(**span)
    browser.sign_in("ash", PASSWORD)


@pytest.mark.parametrize(
    ("volume", "shown", "outside"), [("420", "8.0", False), ("422", "8.1", True)]
)
def test_a_volume_is_over_its_limit_only_where_the_shown_number_is(
    ash: Browser, bed: str, ward: Ward, volume: str, shown: str, outside: bool
) -> None:
    page = chart(ash, ward, tidal_volume_obs=volume).page.text
    assert f"VT/PBW {shown} mL/kg" in page
    assert (f"Measured volume per kg {shown} once, over 8.0" in page) is outside
    number, said = opened(ash, bed, "vt_per_pbw")
    assert number == shown
    assert "Height 160 cm lying, tape" in said


def test_a_plain_hold_raises_nothing_and_the_next_round_is_due(ash: Browser, ward: Ward) -> None:
    page = chart(ash, ward).page.text
    assert "ΔP 14 cmH2Ototal PEEP" in page
    assert "Cstat 30 mL/cmH2Ototal PEEP" in page
    assert "No flag raised" in page
    assert "23:30 full check" in page


def opened(browser: Browser, bed: str, key: str) -> tuple[str, str]:
    answer = browser.get(f"{bed}/numbers/{key}")
    return main_value(answer, key).partition(" ")[0], answer.page.text


def test_auto_peep_counts_and_the_page_says_why_it_is_not_the_number_from_set_peep(
    ash: Browser, bed: str, ward: Ward, clock: Clock
) -> None:
    once = chart(ash, ward, **AUTO_PEEP).page.text
    assert "Driving pressure 16 once, over 15" in once
    assert "20:00 read again: Driving pressure" in once
    for key, shown, other in (("driving_pressure", "16", "20"), ("compliance_static", "25", "20")):
        number, said = opened(ash, bed, key)
        assert number == shown
        assert f"From set PEEP it would be {other}. Total PEEP was measured in this check" in said
    assert opened(ash, bed, "auto_peep")[0] == "4"
    clock.forward(minutes=10)
    twice = chart(ash, ward, **AUTO_PEEP, heart_rate="90").page.text
    assert "Driving pressure 16, over 15" in twice
    assert "Driving pressure 16, over 15" in ash.get("/").page.text


def test_where_both_give_the_same_nothing_is_said_of_set_peep(
    ash: Browser, bed: str, ward: Ward
) -> None:
    chart(ash, ward)
    assert "From set PEEP" not in opened(ash, bed, "driving_pressure")[1]
    chart(ash, ward, peep_total="", **{"reason.peep_total": "effort"}, heart_rate="91")
    assert "From set PEEP" not in opened(ash, bed, "driving_pressure")[1]


def test_a_hold_that_was_skipped_keeps_the_last_one_apart_with_its_time(
    ash: Browser, bed: str, ward: Ward, clock: Clock
) -> None:
    chart(ash, ward)
    before = not_judged(ash.get("/"))
    later(ash, clock, hours=4)
    ash.get(f"{bed}/assess")
    typed = {**without_plateau("effort"), "heart_rate": "93"}
    page = ash.submit(f"{bed}/assess", **typed).page.text
    for index in ("ΔP", "Cstat"):
        assert f"{index} plateau not done: effort" in page
    assert (
        "Cannot be judged: plateau not done: effort Last valid driving pressure 14, 19:30" in page
    )
    assert "No flag raised" not in page
    assert "plateau" in page.partition("Next ")[2].partition("full check")[0]
    assert not_judged(ash.get("/")) == before + 1


def not_judged(board: Answer) -> int:
    """The board's count of beds of which something cannot be judged."""
    return int(re.findall(r"(\d+) cannot be judged", board.page.text)[0])


def test_a_hold_in_support_is_asked_kept_with_its_tag_and_gives_no_mechanics(
    ash: Browser, bed: str, ward: Ward, database
) -> None:
    typed = {**SUPPORT, "resp_rate_obs": "28", "tidal_volume_obs": "350", "minute_vent_obs": "9.8"}
    ash.get(f"{bed}/assess")
    ash.submit(f"{bed}/assess", mode_family="csv_ps", press="family")
    asked = ash.submit(f"{bed}/assess", **typed, plateau_pressure_obs="18")
    assert asked.status == 422
    assert "a hold in assisted breathing may mislead" in asked.page.text
    page = ash.submit(f"{bed}/assess", accept=["hold_in_assisted_breathing:18"]).page.text
    assert "RSBI 80" in page
    assert "on support 10" in opened(ash, bed, "rsbi")[1]
    assert "ΔP" not in page.partition("Lungs")[2].partition("What stands out")[0]
    (kept,) = facts_of(database, ward).assessments
    assert kept.readings["plateau_pressure_obs"].number == 18
    assert kept.readings["plateau_pressure_obs"].question


def test_at_two_in_the_night_a_lead_sees_what_is_overdue_first(
    ash: Browser, ward: Ward, clock: Clock
) -> None:
    clock.forward(hours=1, minutes=40)  # 21:10
    ash.sign_in("ash", PASSWORD)
    chart(ash, ward, "L3")
    clock.forward(hours=4, minutes=50)  # 02:00
    ash.sign_in("ash", PASSWORD)
    chart(ash, ward, "L5", tidal_volume_obs="422")
    cedar = ash.another()
    cedar.sign_in("cedar", PASSWORD)
    page = cedar.get("/scan?show=worry").page
    beds = [e for e in page.root.all("a") if e["class"] == "bed"]
    names = [e.text for e in beds]
    assert names.index("L3") < names.index("L5")
    assert "Check overdue: was due 25 Nov 23:30" in page.text
    assert "cannot be judged" in page.text
    assert cedar.get(beds[names.index("L3")]["href"]).path == f"/courses/{ward.courses['L3']}"
    corridor = cedar.get("/scan?view=corridor").page.text
    assert "P-01" not in corridor
    assert "overdue" in corridor
