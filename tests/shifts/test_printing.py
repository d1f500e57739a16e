"""Paper: whose it is, how old, until when; in the audit, and blank forms in the screen's order."""

from sqlalchemy import select

from app.record.database import Database
from app.record.tables import AuditLineRow, table_of
from tests.client import Browser
from tests.shifts.test_corrections import chart
from tests.ward import Ward

LINES = table_of(AuditLineRow)


def printed(database: Database) -> list[str | None]:
    with database.reading() as session:
        found = select(LINES.c.course_id).where(LINES.c.act == "print_page")
        return list(session.execute(found).scalars())


def test_the_unit_prints_with_everybody_in_a_bed_and_each_print_is_in_the_audit(
    ash: Browser, ward: Ward, database: Database
) -> None:
    chart(ash, ward)
    page = ash.get("/print/sheets?of=unit&paper=letter").page
    text = page.text
    wanted = ("as of 19:30", "printed by Ash", "Destroy after Thu 26 Nov 2026, 19:30 EST", "Empty:")
    assert not [words for words in wanted if words not in text]
    for identifier in ("LR-2086", "LR-4471", "LR-6006", "LR-1919"):
        assert text.count(identifier) == 2  # in the overview and over the patient's own sheets
    styles = [link["href"] for link in page.root.all("link")]
    assert "paper-letter.css" in styles[-1]
    assert sorted(filter(None, printed(database))) == sorted(ward.courses.values())


def test_one_bed_and_my_beds_print_nobody_else(
    ash: Browser, ward: Ward, database: Database
) -> None:
    one = ash.get(f"/print/sheets?of={ward.courses['L5']}").page.text
    assert "LR-4471" in one
    assert "LR-2086" not in one
    assert "No patient is in a bed." in ash.get("/print/sheets?of=mine").page.text
    assert printed(database) == [ward.courses["L5"]]
    assert ash.get(f"/print/sheets?of={'0' * 32}").status == 404


def test_a_blank_form_asks_in_the_order_of_the_screen(ash: Browser, ward: Ward) -> None:
    ash.get(f"/courses/{ward.courses['L3']}/assess")
    asked = [each.text for each in ash.last.page.root.all("h2", "legend", "h3")]
    blank = ash.get("/print/blank?family=ac_vc").page
    headings = [each.text for each in blank.root.all("h3")]
    on_screen = [words for words in asked if words in headings]
    assert on_screen == [words for words in headings if words in on_screen]
    assert {"At the monitor", "Told to the machine", "Safe to leave"} <= set(headings)
    assert len(list(blank.root.all("article"))) == 1
