"""A student charts drafts: seen as such by everybody, facts for nobody, until somebody signs."""

import re
from datetime import timedelta

import pytest

from app.record.database import Database
from app.record.tables import AuditLineRow, table_of
from app.record.unsigned import unsigned_drafts
from tests.actions.scene import Shift
from tests.client import Answer, Browser, browsing
from tests.clock import Clock
from tests.shifts.checks import PLAIN, chart
from tests.site import PASSWORD, open_site
from tests.ward import IDENTIFIERS, Ward

DRAFT = re.compile(r"/courses/\w+/drafts/\w+")


@pytest.fixture
def fern(browser: Browser) -> Browser:
    """Fern, a student, signed in."""
    browser.sign_in("fern", PASSWORD)
    return browser


@pytest.fixture
def ash(fern: Browser) -> Browser:
    """Ash, a therapist, at another screen."""
    return colleague(fern, "ash")


def colleague(browser: Browser, name: str) -> Browser:
    other = browser.another()
    other.sign_in(name, PASSWORD)
    return other


def draft_of(browser: Browser, ward: Ward, bed: str = "L3") -> str:
    """The address of the newest draft, as the bed page leads to it."""
    page = browser.get(f"/courses/{ward.courses[bed]}").page
    return [a["href"] for a in page.root.all("a") if DRAFT.fullmatch(a["href"])][-1]


def waiting(database: Database, ward: Ward) -> int:
    with database.reading() as session:
        return len(unsigned_drafts(session, ward.unit_id))


def test_a_student_is_told_that_a_check_of_theirs_is_a_draft(fern: Browser, ward: Ward) -> None:
    form = fern.get(f"/courses/{ward.courses['L3']}/assess")
    assert "what you save is a draft" in form.text


def test_a_therapist_is_told_nothing_of_the_kind(ash: Browser, ward: Ward) -> None:
    assert "is a draft" not in ash.get(f"/courses/{ward.courses['L3']}/assess").text


def test_saving_a_draft_says_that_somebody_has_to_sign_it(fern: Browser, ward: Ward) -> None:
    answer = chart(fern, ward)
    said = [e.text for e in answer.page.root.all("p") if e["class"] == "said"]
    assert said == ["Saved as a draft until somebody signs: full check of 19:30."]


def test_what_a_student_saves_is_a_draft_and_no_fact(
    fern: Browser, ward: Ward, database: Database
) -> None:
    bed = chart(fern, ward)
    assert (bed.path, waiting(database, ward)) == (f"/courses/{ward.courses['L3']}", 1)
    assert "unsigned draft" in bed.text
    assert not [row for row in bed.page.root.all("tr") if row["data-key"] == "driving_pressure"]


def test_the_draft_stands_on_the_grid_with_its_values_in_a_look_of_its_own(
    fern: Browser, ward: Ward
) -> None:
    bed = chart(fern, ward)
    row = next(row for row in bed.page.root.all("tr") if row["data-key"] == "plateau_pressure_obs")
    (cell,) = row.all("td")
    assert (cell["class"], cell.text) == ("draft", "26")


def test_a_signed_row_beside_it_is_the_newest_fact(
    fern: Browser, ash: Browser, ward: Ward, clock: Clock
) -> None:
    chart(ash, ward)
    clock.forward(minutes=5)
    bed = chart(fern, ward, plateau_pressure_obs="34", peak_inspiratory_pressure_obs="38")
    heads = [head["class"] for head in bed.page.root.all("th") if head["class"]]
    assert heads[:2] == ["latest", "draft"]
    driving = next(r for r in bed.page.root.all("tr") if r["data-key"] == "driving_pressure")
    assert [cell.text[:2] for cell in driving.all("td")] == ["14", ""]


def test_the_board_counts_drafts_and_takes_nothing_from_them(
    fern: Browser, ash: Browser, ward: Ward
) -> None:
    chart(fern, ward)
    chart(fern, ward, "L5")
    board = ash.get("/").page
    tally = next(part for part in board.root.all("ul") if part["class"] == "tally")
    assert "2 unsigned drafts" in tally.text
    row = next(r for r in board.root.all("tr") if "P-01 Test" in r.text)
    assert "1 unsigned draft" in row.text
    assert "Last check" not in row.text


def test_a_board_without_drafts_says_nothing_of_them(ash: Browser) -> None:
    assert "draft" not in ash.get("/").page.text.replace("Drafts", "")


def test_the_handoff_page_names_the_draft_and_no_number_of_it(
    fern: Browser, ash: Browser, ward: Ward
) -> None:
    chart(fern, ward)
    page = ash.get(f"/courses/{ward.courses['L3']}/handoff").page
    assert "Unsigned draft by Fern, 19:30: not in this handoff as fact" in page.text
    now = next(part for part in page.root.all("section") if "part-now" in part["class"])
    assert "26" not in now.text


def test_the_draft_page_shows_every_value_before_signing(
    fern: Browser, ash: Browser, ward: Ward
) -> None:
    chart(fern, ward, fio2_set="0.45")
    page = ash.get(draft_of(ash, ward)).page
    sections = [part for part in page.root.all("div") if part["class"] == "drafted"]
    assert sum(1 for _ in sections[0].all("dt")) == len(PLAIN) - 1
    assert "typed 0.45" in sections[0].text
    assert "in force nowhere" in page.text


def test_a_signature_makes_it_a_fact_with_both_names(
    fern: Browser, ash: Browser, ward: Ward, database: Database
) -> None:
    chart(fern, ward)
    address = draft_of(ash, ward)
    ash.get(address)
    bed = ash.submit(f"{address}/sign")
    assert (bed.path, waiting(database, ward)) == (f"/courses/{ward.courses['L3']}", 0)
    head = next(head for head in bed.page.root.all("th") if head["class"] == "latest")
    assert "Fern" in head.text
    assert "signed 19:30, Ash" in head.text
    assert "14" in next(
        r.text for r in bed.page.root.all("tr") if r["data-key"] == "driving_pressure"
    )


def test_signing_twice_does_no_harm(fern: Browser, ash: Browser, ward: Ward) -> None:
    chart(fern, ward)
    address = draft_of(ash, ward)
    form = ash.get(address)
    ash.submit(f"{address}/sign")
    ash.last = form
    again = ash.submit(f"{address}/sign")
    assert (again.status, again.path) == (200, f"/courses/{ward.courses['L3']}")


def test_what_others_charted_meanwhile_is_asked_before_it_counts(
    fern: Browser, ash: Browser, ward: Ward, database: Database
) -> None:
    chart(fern, ward)
    chart(ash, ward, tidal_volume_set="250", tidal_volume_obs="250", minute_vent_obs="5")
    address = draft_of(ash, ward)
    ash.get(address)
    held = ash.submit(f"{address}/sign")
    assert (held.status, waiting(database, ward)) == (422, 1)
    assert "was 250" in held.text
    keys = [e["value"] for e in held.page.form(f"{address}/sign").all("input")]
    asked = [key for key in keys if key.startswith("jump:")]
    assert ash.submit(f"{address}/sign", accept=asked).path == f"/courses/{ward.courses['L3']}"
    assert waiting(database, ward) == 0


def test_a_student_cannot_sign_not_even_past_the_page(
    fern: Browser, ash: Browser, ward: Ward, database: Database
) -> None:
    chart(fern, ward)
    address = draft_of(fern, ward)
    form = fern.get(address).page
    assert f"{address}/sign" not in [each["action"] for each in form.root.all("form")]
    token = next(e["value"] for e in form.root.all("input") if e["name"] == "csrf")
    sent = {"csrf": token, "course": ward.courses["L3"]}
    assert fern.post(f"{address}/sign", sent).status == 403
    assert waiting(database, ward) == 1


@pytest.mark.parametrize("name", ["oak", "alder"])
def test_who_only_reads_neither_signs_nor_strikes_nor_lists(
    fern: Browser, ward: Ward, name: str
) -> None:
    chart(fern, ward)
    address = draft_of(fern, ward)
    other = colleague(fern, name)
    token = next(e["value"] for e in other.get("/").page.root.all("input") if e["name"] == "csrf")
    assert other.get("/drafts").status == 403
    for deed in ("sign", "strike"):
        assert other.post(f"{address}/{deed}", {"csrf": token}).status == 403


def test_a_reader_sees_a_draft_and_no_form_on_it(fern: Browser, ward: Ward) -> None:
    chart(fern, ward)
    page = colleague(fern, "oak").get(draft_of(fern, ward)).page
    assert "No fact, and in no handoff" in page.text
    assert not [f for f in page.root.all("form") if "/drafts/" in f["action"]]


def test_a_student_strikes_an_own_draft_for_a_reason(
    fern: Browser, ward: Ward, database: Database
) -> None:
    chart(fern, ward)
    address = draft_of(fern, ward)
    fern.get(address)
    refused = fern.submit(f"{address}/strike", reason="no")
    assert (refused.status, waiting(database, ward)) == (422, 1)
    bed = fern.submit(f"{address}/strike", reason="read off the wrong screen")
    assert (bed.path, waiting(database, ward)) == (f"/courses/{ward.courses['L3']}", 0)
    assert "read off the wrong screen" in bed.text


def test_a_student_does_not_strike_anothers(
    fern: Browser, ward: Ward, database: Database, clock: Clock
) -> None:
    Shift(database, clock, ward).chart("ash", signed=False)
    address = draft_of(fern, ward)
    token = next(
        e["value"] for e in fern.get(address).page.root.all("input") if e["name"] == "csrf"
    )
    sent = {"csrf": token, "course": ward.courses["L3"], "reason": "not mine"}
    assert fern.post(f"{address}/strike", sent).status == 403
    assert waiting(database, ward) == 1


def test_a_signed_draft_leads_to_the_bed(fern: Browser, ash: Browser, ward: Ward) -> None:
    chart(fern, ward)
    address = draft_of(ash, ward)
    ash.get(address)
    ash.submit(f"{address}/sign")
    assert ash.get(address).path == f"/courses/{ward.courses['L3']}"


def lines(answer: Answer) -> dict[str, str]:
    """The lists of the page by their headings."""
    tables = (table for table in answer.page.root.all("table") if table["class"] == "list")
    return {next(table.all("caption")).text: table.text for table in tables}


def test_the_list_shows_a_student_their_own_and_a_therapist_all(
    fern: Browser, ash: Browser, ward: Ward
) -> None:
    chart(fern, ward)
    mine, all_of_them = fern.get("/drafts"), ash.get("/drafts")
    assert "P-01 Test" in lines(mine)["This shift"]
    assert "Look and sign" in lines(all_of_them)["This shift"]
    assert "Look and sign" not in mine.text


def test_what_is_unsigned_at_the_end_of_the_shift_stays_listed_first(
    fern: Browser, ward: Ward, clock: Clock
) -> None:
    chart(fern, ward)
    clock.forward(hours=12)
    cedar = colleague(fern, "cedar")
    listed = lines(cedar.get("/drafts"))
    assert list(listed) == ["Left from an earlier shift"]
    assert "L3" in listed["Left from an earlier shift"]
    time = next(e for e in cedar.last.page.root.all("time") if "data-age" in e.attributes)
    assert time["datetime"] == "2026-11-26T00:30:00Z"


def test_a_shift_without_drafts_says_so(ash: Browser) -> None:
    assert "No draft waits for a signature" in ash.get("/drafts").text


def test_a_signature_asks_whose_chart_it_is_once(
    database: Database, clock: Clock, ward: Ward
) -> None:
    Shift(database, clock, ward).chart("fern", signed=False)
    app = open_site(database, clock, identity_digits=2)
    with browsing(app, identifiers=IDENTIFIERS) as browser:
        browser.sign_in("ash", PASSWORD)
        address = draft_of(browser, ward)
        browser.get(address)
        asked = browser.submit(f"{address}/sign")
        assert (asked.status, waiting(database, ward)) == (422, 1)
        signed = browser.submit(f"{address}/sign", identity="86")
        assert (signed.path, waiting(database, ward)) == (f"/courses/{ward.courses['L3']}", 0)


def test_a_reading_of_a_draft_is_noted_like_any_look_at_a_patient(
    fern: Browser, ash: Browser, ward: Ward, database: Database, clock: Clock
) -> None:
    chart(fern, ward)
    address = draft_of(fern, ward)
    clock.forward(minutes=1)
    ash.get(address)
    table = table_of(AuditLineRow)
    with database.reading() as session:
        last = session.execute(table.select().order_by(table.c.seq.desc()).limit(1)).one()
    assert (last.act, last.staff_id) == ("view_page", ward.staff["ash"])
    assert last.course_id == ward.courses["L3"]
    assert last.at - clock.now < timedelta(seconds=1)
