"""A wrong value, a wrong patient, a wrong height: put right in sight, with who, when and why."""

from decimal import Decimal

import pytest

from app.record.database import Database
from tests.client import Answer, Browser
from tests.clock import Clock
from tests.seen import Element
from tests.shifts.checks import PLAIN
from tests.site import PASSWORD
from tests.ward import Ward, facts_of


def later(clock: Clock, browser: Browser, name: str, **by: float) -> None:
    """Time passes, the page may have locked, and somebody signs in again."""
    clock.forward(**by)
    if browser.get("/").path == "/sign-in":
        browser.sign_in(name, PASSWORD)


def chart(browser: Browser, ward: Ward, bed: str = "L3", **changed: str) -> Answer:
    action = f"/courses/{ward.courses[bed]}/assess"
    browser.get(action)
    answer = browser.submit(action, **{**PLAIN, **changed})
    if answer.status == 422:
        ticks = answer.page.form(action).all("input")
        keys = [tick["value"] for tick in ticks if tick["name"] == "accept"]
        answer = browser.submit(action, accept=keys)
    assert answer.path == f"/courses/{ward.courses[bed]}", answer.text
    return answer


def row_links(answer: Answer) -> list[str]:
    return [a["href"] for a in answer.page.root.all("a") if "/rows/" in a["href"]]


def correct(browser: Browser, path: str, code: str, text: str, why: str = "read the wrong line"):
    """Open a row and send the form of one of its values."""
    value = by_id(browser.get(path), f"value-{code}")
    return resend(browser, next(value.all("form")), text=text, why=why)


def by_id(answer: Answer, name: str) -> Element:
    return next(element for element in answer.page.root.all() if element["id"] == name)


def resend(browser: Browser, form: Element, **typed: str) -> Answer:
    hidden = {e["name"]: e["value"] for e in form.all("input") if e["type"] == "hidden"}
    return browser.post(form["action"], {**hidden, **typed})


def cells(answer: Answer, key: str) -> list[str]:
    row = next(row for row in answer.page.root.all("tr") if row["data-key"] == key)
    return [cell.text for cell in row.all("td")]


def test_a_column_of_the_grid_leads_to_its_row(ash: Browser, ward: Ward) -> None:
    (href,) = row_links(chart(ash, ward))
    page = ash.get(href)
    assert page.page.heading == "Full check of 19:30"
    assert "Written 19:30 by Ash" in page.text


def test_a_corrected_value_shows_the_old_one_struck_with_who_when_and_why(
    ash: Browser, birch: Browser, ward: Ward, clock: Clock
) -> None:
    (href,) = row_links(chart(ash, ward))
    later(clock, birch, "birch", minutes=30)
    page = correct(birch, href, "plateau_pressure_obs", "28")
    value = by_id(page, "value-plateau_pressure_obs")
    assert page.path == href
    assert "corrected by Birch, 20:00: read the wrong line" in value.text
    assert [struck.text for struck in value.all("s")] == ["26 cmH2O"]


def test_everything_that_used_it_is_worked_out_again_and_says_so(ash: Browser, ward: Ward) -> None:
    (href,) = row_links(chart(ash, ward))
    correct(ash, href, "plateau_pressure_obs", "28")
    bed = ash.get(f"/courses/{ward.courses['L3']}")
    assert "16" in cells(bed, "driving_pressure")[0]
    assert "based on a corrected value" in cells(bed, "driving_pressure")[0]
    assert "corrected, was 26" in cells(bed, "plateau_pressure_obs")[0]
    flags = [p.text for p in bed.page.root.all("p") if p["class"].startswith("worry")]
    assert [f for f in flags if "Driving pressure 16" in f and "based on a corrected value" in f]
    handoff = ash.get(f"/courses/{ward.courses['L3']}/handoff")
    assert "based on a corrected value" in handoff.text


def test_a_corrected_value_is_said_on_the_board(ash: Browser, ward: Ward) -> None:
    (href,) = row_links(chart(ash, ward))
    correct(ash, href, "plateau_pressure_obs", "28")
    assert "based on a corrected value" in ash.get("/").text


@pytest.mark.parametrize(
    ("text", "why"), [("28", "no"), ("", "typed wrong"), ("26", "typed wrong")]
)
def test_what_cannot_be_kept_comes_back_with_every_word(
    ash: Browser, ward: Ward, database: Database, text: str, why: str
) -> None:
    (href,) = row_links(chart(ash, ward))
    page = correct(ash, href, "plateau_pressure_obs", text, why)
    typed = {e["name"]: e["value"] for e in by_id(page, "value-plateau_pressure_obs").all("input")}
    assert (page.status, typed["text"], typed["why"]) == (422, text, why)
    (row,) = facts_of(database, ward).assessments
    assert row.readings["plateau_pressure_obs"].corrected_from is None


def test_a_question_is_answered_on_the_row_and_the_correction_stands(
    ash: Browser, ward: Ward, database: Database
) -> None:
    (href,) = row_links(chart(ash, ward))
    asked = correct(ash, href, "fio2_set", "1")
    value = by_id(asked, "value-fio2_set")
    assert (asked.status, "100 %" in value.text) == (422, True)
    keys = [e["value"] for e in value.all("input") if e["name"] == "accept"]
    resend(ash, next(value.all("form")), text="1", why="read the wrong line", accept=keys)
    (row,) = facts_of(database, ward).assessments
    assert row.readings["fio2_set"].number == 100


def test_two_who_correct_one_value_do_not_write_over_each_other(
    ash: Browser, birch: Browser, ward: Ward, database: Database
) -> None:
    (href,) = row_links(chart(ash, ward))
    form = next(by_id(ash.get(href), "value-spo2").all("form"))
    correct(birch, href, "spo2", "90")
    late = resend(ash, form, text="91", why="read the wrong line")
    assert late.status == 409
    assert "Somebody else corrected" in late.text
    (row,) = facts_of(database, ward).assessments
    assert row.readings["spo2"].number == 90


@pytest.mark.parametrize("name", ["oak", "fern"])
def test_who_only_reads_sees_the_history_and_no_form(ash: Browser, ward: Ward, name: str) -> None:
    (href,) = row_links(chart(ash, ward))
    correct(ash, href, "spo2", "90")
    reader = ash.another()
    reader.sign_in(name, PASSWORD)
    page = reader.get(href)
    assert [struck.text for struck in by_id(page, "value-spo2").all("s")] == ["94 %"]
    actions = [form["action"] for form in page.page.root.all("form")]
    assert not [action for action in actions if action.startswith("/courses")]


@pytest.mark.parametrize("name", ["oak", "fern", "alder"])
@pytest.mark.parametrize("deed", ["strike", "values"])
def test_who_may_not_correct_is_refused_by_the_server(
    ash: Browser, ward: Ward, database: Database, name: str, deed: str
) -> None:
    (href,) = row_links(chart(ash, ward))
    reader = ash.another()
    reader.sign_in(name, PASSWORD)
    page = reader.get("/" if name != "alder" else "/help")
    token = next(e["value"] for e in page.page.root.all("input") if e["name"] == "csrf")
    answer = reader.post(f"{href}/{deed}", {"csrf": token, "why": "because I say so"})
    assert answer.status == 403
    (row,) = facts_of(database, ward).assessments
    assert row.counts


def test_a_struck_row_stays_in_sight_and_gives_no_number(
    ash: Browser, ward: Ward, clock: Clock
) -> None:
    chart(ash, ward, plateau_pressure_obs="24")
    later(clock, ash, "ash", hours=1)
    href = row_links(chart(ash, ward, plateau_pressure_obs="28"))[-1]
    ash.get(href)
    bed = ash.submit(f"{href}/strike", why="turned at that time")
    assert "struck 20:30, Ash: turned at that time" in bed.page.text
    assert "28" in cells(bed, "plateau_pressure_obs")[1]
    assert cells(bed, "driving_pressure")[1] == ""
    assert "Driving pressure 16" not in bed.page.text


def test_without_a_reason_a_row_is_not_struck(ash: Browser, ward: Ward, database: Database) -> None:
    (href,) = row_links(chart(ash, ward))
    ash.get(href)
    answer = ash.submit(f"{href}/strike", why="no")
    assert answer.status == 422
    assert facts_of(database, ward).assessments[0].counts


def test_a_row_of_another_patient_is_not_shown_on_this_ones_chart(ash: Browser, ward: Ward) -> None:
    (href,) = row_links(chart(ash, ward, "L5"))
    row = href.rsplit("/", 1)[1]
    assert ash.get(f"/courses/{ward.courses['L3']}/rows/{row}").status == 404


WRONG, RIGHT = "L5", "L3"


@pytest.fixture
def wrong_row(ash: Browser, ward: Ward, clock: Clock) -> str:
    """P-01's numbers of 14:10, charted on P-05 by Ash at 19:30."""
    seen = {"observed_at": "2026-11-25T14:10", "plateau_pressure_obs": "28"}
    (href,) = row_links(chart(ash, ward, WRONG, **seen))
    return href


def look_at_the_right_patient(browser: Browser, href: str) -> Answer:
    browser.get(href)
    return browser.get(f"{href}/elsewhere", params={"bed": RIGHT})


def test_the_author_moves_a_row_to_the_right_patient_in_one_flow(
    ash: Browser, ward: Ward, wrong_row: str
) -> None:
    page = look_at_the_right_patient(ash, wrong_row)
    assert "P-01 Test" in page.text
    assert "observed 14:10" in page.page.text
    bed = ash.submit(page.path)
    assert bed.path == f"/courses/{ward.courses[RIGHT]}"
    assert "charted first on another chart" in bed.page.text
    assert "late, written 19:30" in bed.page.text
    assert "16" in cells(bed, "driving_pressure")[0]


def test_neither_chart_names_the_other_patient(ash: Browser, ward: Ward, wrong_row: str) -> None:
    page = look_at_the_right_patient(ash, wrong_row)
    right = ash.submit(page.path)
    wrong = ash.get(f"/courses/{ward.courses[WRONG]}")
    assert "belongs to another patient" in wrong.page.text
    for answer, other in ((right, "P-05"), (page, "P-05"), (wrong, "P-01"), (wrong, "LR-2086")):
        assert other not in answer.text
    assert ward.courses[RIGHT] not in wrong.text


def test_the_wrong_charts_flags_are_gone(ash: Browser, ward: Ward, wrong_row: str) -> None:
    assert "Driving pressure 16" in ash.get("/").text
    ash.submit(look_at_the_right_patient(ash, wrong_row).path)
    bed = ash.get(f"/courses/{ward.courses[WRONG]}")
    assert "Driving pressure 16" not in bed.page.text


def test_another_therapist_strikes_it_and_its_author_is_told(
    ash: Browser, birch: Browser, ward: Ward, wrong_row: str
) -> None:
    page = birch.get(wrong_row)
    assert not [form for form in page.page.root.all("form") if form["action"].endswith("elsewhere")]
    birch.submit(f"{wrong_row}/strike", press="yes")
    for path in ("/", f"/courses/{ward.courses[RIGHT]}"):
        told = ash.get(path).page.text
        assert "Your row of 14:10 in L5 was struck by Birch, 19:30: belongs to another" in told
    assert "Your row" not in birch.get("/").text


def test_nobody_charts_what_somebody_else_saw(
    birch: Browser, ward: Ward, wrong_row: str, database: Database
) -> None:
    row = wrong_row.rsplit("/", 1)[1]
    answer = birch.get(f"/courses/{ward.courses[RIGHT]}/again/{row}")
    assert answer.status == 403
    assert not facts_of(database, ward, RIGHT).assessments


def test_an_author_is_told_of_a_correction_for_a_day(
    ash: Browser, birch: Browser, ward: Ward, clock: Clock
) -> None:
    (href,) = row_links(chart(ash, ward))
    correct(birch, href, "spo2", "90")
    words = "SpO2 in your row of 19:30 in L3 was corrected by Birch, 19:30: read the wrong line"
    assert words in ash.get("/").page.text
    later(clock, ash, "ash", hours=23, minutes=59)
    assert "your row of" in ash.get("/").page.text
    later(clock, ash, "ash", minutes=2)
    assert "your row of" not in ash.get("/").page.text


@pytest.fixture
def charted(ash: Browser, birch: Browser, ward: Ward, clock: Clock) -> str:
    """A check by Ash at 19:30 with an estimated height; ten minutes later somebody measures."""
    chart(ash, ward)
    clock.forward(minutes=10)
    return ward.courses["L3"]


def height(browser: Browser, ward: Ward, bed: str = "L3", **typed: str) -> Answer:
    action = f"/courses/{ward.courses[bed]}/height"
    browser.get(action)
    given = {"height_cm": "158", "height_method": "supine_tape", "why": "measured with a tape"}
    return browser.submit(action, **{**given, **typed})


def test_a_corrected_height_works_the_whole_course_out_again(
    ash: Browser, birch: Browser, ward: Ward, database: Database, charted: str
) -> None:
    page = height(birch, ward)
    assert "19:30: 8.3 mL/kg, over 8.0, was 8.0 with 160 cm" in page.page.text
    bed = ash.get(f"/courses/{ward.courses['L3']}")
    assert "was 8.0 with 160 cm" in cells(bed, "vt_per_pbw")[0]
    assert "158 cm, lying, tape, corrected, was 160" in bed.page.text
    (row,) = facts_of(database, ward).assessments
    assert row.readings["tidal_volume_obs"].number == Decimal(420)


def test_who_charted_and_the_lead_are_told_of_a_height(
    ash: Browser, birch: Browser, ward: Ward, charted: str
) -> None:
    height(birch, ward)
    lead = ash.another()
    lead.sign_in("cedar", PASSWORD)
    words = "Height in L3 was corrected by Birch, 19:40: 160 cm to 158 cm, measured with a tape"
    assert words in ash.get("/").page.text
    assert words in lead.get("/").page.text
    assert words not in birch.get("/").page.text


def test_the_handoff_page_says_what_was_corrected(ash: Browser, ward: Ward, charted: str) -> None:
    height(ash, ward)
    text = ash.get(f"/courses/{charted}/handoff").page.text
    assert "based on a corrected value" in text or "was 8.0 with 160 cm" in text


def test_a_first_height_gives_a_first_predicted_weight(ash: Browser, ward: Ward) -> None:
    chart(ash, ward, "L6")
    action = f"/courses/{ward.courses['L6']}/height"
    ash.get(action)
    ash.submit(action, height_cm="158", height_method="standing")
    bed = ash.get(f"/courses/{ward.courses['L6']}")
    assert cells(bed, "vt_per_pbw")[0].startswith("8.3")
    assert "based on a corrected" not in bed.text


@pytest.mark.parametrize("typed", [{"why": "no"}, {"height_cm": ""}, {"height_cm": "1580"}])
def test_a_height_that_cannot_be_kept_comes_back(
    ash: Browser, ward: Ward, database: Database, typed: dict[str, str]
) -> None:
    page = height(ash, ward, **typed)
    fields = {e["name"]: e["value"] for e in page.page.form(page.path).all("input")}
    assert page.status == 422
    assert {name: fields[name] for name in typed} == typed
    assert facts_of(database, ward).body_sizes[-1].height_cm == 160
