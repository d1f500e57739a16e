"""A lead plans who is to have which bed; acceptance alone moves one; a colleague is covered for."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from app.record.database import Database
from app.record.tables import AssignmentRow, table_of
from tests.client import Answer, Browser
from tests.clock import Clock
from tests.shifts.checks import chart
from tests.shifts.handing import accept, offer, said
from tests.site import PASSWORD
from tests.ward import ZONE, Ward

ACTION = "/assignments"
COVER = "/assignments/covers"


def as_(browser: Browser, name: str) -> Browser:
    other = browser.another()
    other.sign_in(name, PASSWORD)
    return other


def plan(browser: Browser, ward: Ward, shift: str = "this", **to: str) -> Answer:
    """Open the plan as a lead and choose people for beds, by sign-in name."""
    browser.get(f"{ACTION}?shift={shift}")
    chosen = {f"to-{bed}": ward.staff[name] if name else "" for bed, name in to.items()}
    return browser.submit(ACTION, **chosen)


def bed_line(page: Answer, bed: str) -> str:
    """What the page says beside that bed."""
    ways = (a for line in page.page.root.all("li") for a in line.all("a"))
    way = next(a for a in ways if a["class"] == "bed" and a.text == bed)
    return way.parent.text


def token_of(page: Answer) -> str:
    return next(e["value"] for e in page.page.root.all("input") if e["name"] == "csrf")


def wall(moment: datetime) -> str:
    """As a date-and-time input of the unit's wall clock sends it."""
    return moment.astimezone(ZoneInfo(ZONE)).strftime("%Y-%m-%dT%H:%M")


@pytest.fixture
def cedar(browser: Browser) -> Browser:
    return as_(browser, "cedar")


def test_a_plan_moves_nothing_and_both_are_named_where_they_differ(
    ash: Browser, cedar: Browser, ward: Ward
) -> None:
    said(ash, ward, "L3", "take", "Mine since the morning")
    page = plan(cedar, ward, L3="birch", L5="ash")
    assert page.status == 200
    line = bed_line(page, "L3")
    assert "Ash has it" in line
    assert "assigned to Birch" in line
    assert "Ash has it; assigned to Birch" in bed_line(ash.get("/scan"), "L3")
    assert "Nobody has it yet; assigned to Ash" in bed_line(ash.get("/scan"), "L5")
    assert "yours since" in ash.get("/mine").page.text
    assert "; 1 assigned to you and not accepted" in ash.get("/mine").page.text
    birch = as_(cedar, "birch")
    assert "assigned to you this shift, not accepted; Ash has it" in birch.get("/mine").page.text


def test_acceptance_brings_the_bed_to_whom_it_was_assigned(
    ash: Browser, cedar: Browser, ward: Ward
) -> None:
    chart(ash, ward, "L3")
    said(ash, ward, "L3", "take", "Mine since the morning")
    plan(cedar, ward, L3="birch")
    birch = as_(cedar, "birch")
    assert "Birch (assigned)" in ash.get(f"/courses/{ward.courses['L3']}/handoff").page.text
    offer(ash, ward, "L3", to="birch")
    accept(birch, ward, "L3", restated="Quiet; check at 23:30")
    scan = ash.get("/scan?show=all&order=bed").page
    assert "assigned" not in next(e.text for e in scan.root.all("a") if e["href"] == "/beds/L3")
    assert "L3 Birch" in scan.text or "Birch has it" in scan.text
    assert "assigned to you" not in birch.get("/mine").page.text


def test_a_calm_bed_in_short_says_it_too(ash: Browser, cedar: Browser, ward: Ward) -> None:
    chart(ash, ward, "L3")
    said(ash, ward, "L3", "take", "Mine since the morning")
    plan(cedar, ward, L3="birch")
    assert "L3 Ash, assigned to Birch" in ash.get("/scan").page.text


def test_before_a_shift_the_round_of_handoffs_says_to_whom_each_bed_is_to_go(
    ash: Browser, cedar: Browser, ward: Ward, clock: Clock
) -> None:
    said(ash, ward, "L3", "take", "Mine since the morning")
    plan(cedar, ward, "next", L3="birch")
    assert "assigned to Birch" not in ash.get("/handoffs").page.text
    clock.now += timedelta(hours=10)
    ash.sign_in("ash", PASSWORD)
    page = ash.get("/handoffs")
    assert "Ash has it; assigned to Birch from 07:00" in page.page.text
    rows = next(e["hx-get"] for e in page.page.root.all() if "/handoffs/rows" in e["hx-get"])
    assert ash.part(rows).status == 304
    later = as_(cedar, "cedar")
    plan(later, ward, "next", L3="cedar")
    assert "assigned to Cedar from 07:00" in ash.part(rows).text


def test_a_bed_with_nobody_assigned_says_so_once_the_unit_plans(cedar: Browser, ward: Ward) -> None:
    assert "assigned to nobody" not in cedar.get("/scan").page.text
    page = plan(cedar, ward, L5="ash")
    assert "Nobody is assigned to L3, L6, L10." in page.page.text
    said(cedar, ward, "L3", "take", "Until somebody comes")
    assert "Cedar has it; assigned to nobody" in bed_line(cedar.get("/scan"), "L3")


def test_the_next_shift_is_planned_apart_and_a_choice_can_be_taken_back(
    cedar: Browser, ward: Ward, clock: Clock, database: Database
) -> None:
    plan(cedar, ward, "next", L3="ash", L5="ash")
    plan(cedar, ward, "next", L5="")
    assert "assigned to" not in bed_line(cedar.get(ACTION), "L3")
    clock.now += timedelta(hours=12)
    cedar.sign_in("cedar", PASSWORD)
    text = cedar.get(ACTION).page.text
    assert "Ash 1 bed" in text
    assert "Nobody is assigned to L5, L6, L10." in text
    rows = table_of(AssignmentRow)
    with database.reading() as session:
        kept = session.execute(rows.select().order_by(rows.c.id)).all()
    assert [row.staff_id for row in kept] == [ward.staff["ash"], ward.staff["ash"], None]


def test_two_leads_never_overwrite_each_other(cedar: Browser, ward: Ward) -> None:
    other = as_(cedar, "cedar")
    other.get(ACTION)
    plan(cedar, ward, L3="ash", L5="birch")
    crossed = other.submit(ACTION, **{"to-L3": ward.staff["birch"], "to-L6": ward.staff["birch"]})
    assert crossed.status == 422
    assert "Meanwhile Cedar chose Ash." in bed_line(crossed, "L3")
    assert "Nobody is assigned to L6, L10." in crossed.page.text  # nothing of it was written
    kept = next(e for e in crossed.page.root.all("select") if e["id"] == "to-L6")
    assert [o.text for o in kept.all("option") if "selected" in o.attributes] == ["Birch"]
    assert other.submit(ACTION).status == 200
    assert "assigned to Birch" in bed_line(other.get(ACTION), "L3")


def test_the_load_is_counted_in_words_with_its_weights(
    ash: Browser, cedar: Browser, ward: Ward
) -> None:
    stiff = {"plateau_pressure_obs": "34", "peak_inspiratory_pressure_obs": "40"}
    chart(ash, ward, "L3", **stiff)
    page = plan(cedar, ward, L3="ash", L5="ash", L6="ash", L10="birch").page.text
    assert "Ash 3 beds," in page
    assert "Birch 1 bed," in page
    assert "events in 12 h" in page
    assert "2 for a bed, 1 for each thing due within 4 h" in page
    assert "Engineering judgement" in page
    assert "The beds of Ash weigh" in page


def test_somebody_who_cannot_accept_cannot_be_assigned(cedar: Browser, ward: Ward) -> None:
    cedar.get(ACTION)
    answer = cedar.submit(ACTION, **{"to-L3": ward.staff["fern"]})
    assert answer.status == 422
    assert "Only somebody who can accept a handoff can be assigned." in answer.page.text


@pytest.mark.parametrize("name", ["ash", "fern", "oak"])
def test_all_who_read_patients_read_the_plan_and_a_lead_alone_changes_it(
    browser: Browser, cedar: Browser, ward: Ward, name: str
) -> None:
    plan(cedar, ward, L3="birch")
    reader = as_(browser, name)
    page = reader.get(ACTION)
    assert "assigned to Birch" in bed_line(page, "L3")
    token = token_of(page)
    sent = {"csrf": token, "bed": "L3", "to-L3": "", "starts": "2026-11-26T00:00:00Z"}
    assert reader.post(ACTION, sent).status == 403
    assert (reader.post(COVER, {"csrf": token}).status == 403) is (name != "ash")


def test_a_shift_that_is_over_stays_as_it_was_planned(
    cedar: Browser, ward: Ward, clock: Clock
) -> None:
    cedar.get(ACTION)
    page, clock.now = cedar.last, clock.now + timedelta(hours=12)
    cedar.sign_in("cedar", PASSWORD)
    cedar.last = page
    token = token_of(cedar.get(ACTION))
    cedar.last = page
    late = cedar.submit(ACTION, **{"to-L3": ward.staff["ash"], "csrf": token})
    assert late.status == 422
    assert "This shift is over" in late.page.text


# ---------- cover ----------


def cover(browser: Browser, ward: Ward, clock: Clock, who: str, whom: str, **more: str) -> Answer:
    browser.get(ACTION)
    given = {
        "staff": ward.staff[who],
        "for": ward.staff[whom],
        "to_at": wall(clock.now + timedelta(hours=2)),
        "words": "transport to CT",
    }
    return browser.submit(COVER, **{**given, **more})


def test_who_covers_sees_the_beds_and_has_none_of_them(
    ash: Browser, ward: Ward, clock: Clock
) -> None:
    said(ash, ward, "L3", "take", "Mine since the morning")
    birch = as_(ash, "birch")
    assert "Birch covers for Ash until 21:30: transport to CT" in (
        cover(birch, ward, clock, "birch", "ash").page.text
    )
    mine = birch.get("/mine").page.text
    assert "you cover; Ash has it" in mine
    assert "No bed is yours now; 1 that you cover" in mine
    assert "Birch covers for Ash" in ash.get("/mine").page.text
    assert "Birch covers for Ash" in ash.get("/scan").page.text
    rows = next(e["hx-get"] for e in birch.get("/mine").page.root.all("div") if e["id"] == "mine")
    assert birch.part(rows).status == 304
    clock.now += timedelta(hours=2)
    birch.sign_in("birch", PASSWORD)
    assert birch.part(rows).status == 200
    assert "you cover" not in birch.get("/mine").page.text


def test_a_cover_is_ended_by_one_of_the_two(ash: Browser, ward: Ward, clock: Clock) -> None:
    cover(as_(ash, "birch"), ward, clock, "birch", "ash")
    page = ash.get(ACTION)
    action = next(f["action"] for f in page.page.root.all("form") if f["action"].endswith("/end"))
    assert "Nobody covers for anybody." in ash.submit(action).page.text
    assert ash.get(ACTION).status == 200


WRONG = {
    "no reason": ({"words": " "}, "Say in a few words why"),
    "backwards": ({"to_at": "2026-11-25T19:00"}, "The end has to lie after the beginning."),
    "too long": ({"to_at": "2026-11-27T20:00"}, "longer than a day"),
    "oneself": ({"for": "birch"}, "Nobody covers for themselves."),
    "two others": ({"staff": "cedar", "for": "ash"}, "You can say it for yourself"),
    "a student": ({"for": "fern"}, "Choose two people who can have beds here."),
}


@pytest.mark.parametrize("wrong", WRONG)
def test_a_cover_that_cannot_be_meant_is_refused_and_kept_in_sight(
    ash: Browser, ward: Ward, clock: Clock, wrong: str
) -> None:
    changes, words = WRONG[wrong]
    given = {name: ward.staff.get(text, text) for name, text in changes.items()}
    answer = cover(as_(ash, "birch"), ward, clock, "birch", "ash", **given)
    assert answer.status == 422
    assert words in answer.page.text
    assert "Nobody covers for anybody." in answer.page.text


def test_who_is_covered_for_cannot_cover(ash: Browser, ward: Ward, clock: Clock) -> None:
    cover(ash, ward, clock, "ash", "birch")
    crossed = cover(ash, ward, clock, "birch", "ash")
    assert "Ash covers for Birch in that time" in crossed.page.text
    assert "already" in cover(ash, ward, clock, "ash", "birch").page.text


def test_the_printed_unit_says_to_whom_each_bed_is_assigned(
    ash: Browser, cedar: Browser, ward: Ward
) -> None:
    assert "Assigned 19:00" not in ash.get("/print/sheets").text
    plan(cedar, ward, L3="birch", L11="ash")
    page = ash.get("/print/sheets").page
    assert "Assigned 19:00 to 26 Nov 07:00: Birch." in " ".join(page.text.split())
    assert "L11 (assigned to Ash)" in page.text
    (table,) = [each for each in page.root.all("table") if each["class"] == "overview"]
    rows = {row.text.split()[0]: row.text for row in table.all("tr")}
    assert rows["L3"].endswith("Birch")
    assert rows["L5"].endswith("nobody")
    assert "Assigned" not in ash.get(f"/print/sheets?of={ward.courses['L3']}").text
