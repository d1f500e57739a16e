"""What a reader looks up: a patient by number, courses that ended, the handoffs of a shift."""

from sqlalchemy import select

from app.record.database import Database
from app.record.tables import AuditLineRow, CourseEndRow, table_of
from tests.client import Browser
from tests.clock import Clock
from tests.site import PASSWORD
from tests.ward import Ward

LINES = table_of(AuditLineRow)


def searches(database: Database) -> list[tuple[str | None, str]]:
    with database.reading() as session:
        asked = select(LINES.c.course_id, LINES.c.detail).where(LINES.c.act == "find_course")
        return [tuple(row) for row in session.execute(asked)]


def led_to(browser: Browser) -> list[str]:
    main = next(browser.last.page.root.all("main"))
    return [a["href"] for a in main.all("a") if a["href"].startswith("/courses/")]


def test_a_patient_is_found_by_the_whole_number_which_stands_in_no_address(
    ash: Browser, ward: Ward, database: Database
) -> None:
    ash.get("/find")
    answer = ash.submit("/find", number="LR-2086")
    assert (answer.path, led_to(ash)) == ("/find", [f"/courses/{ward.courses['L3']}"])
    assert "in L3" in answer.page.text
    part = ash.submit("/find", number="LR-20")
    assert ("Nobody has exactly this number" in part.page.text, led_to(ash)) == (True, [])
    told = searches(database)
    assert [course for course, _ in told] == [ward.courses["L3"], None]
    assert not [detail for _, detail in told if "LR-20" in detail]


def test_an_auditor_finds_no_patient(ash: Browser) -> None:
    alder = ash.another()
    alder.sign_in("alder", PASSWORD)
    assert alder.get("/find").status == 403


def test_courses_that_ended_in_the_last_weeks_are_listed(
    ash: Browser, ward: Ward, database: Database, clock: Clock
) -> None:
    course = ward.courses["L5"]
    with database.writing(clock, ward.staff["cedar"]) as writing:
        writing.add(CourseEndRow(course_id=course, ended_at=clock.now, kind="extubated"))
        writing.audit("end_course", course_id=course)
    assert "Extubated, 19:30" in ash.get("/find").page.text
    clock.forward(days=28)
    ash.sign_in("ash", PASSWORD)
    ash.get("/find")
    assert led_to(ash) == [f"/courses/{course}"]
    clock.forward(minutes=1)
    ash.get("/find")
    assert led_to(ash) == []


def test_a_shift_lists_its_handoffs_and_no_others(ash: Browser, ward: Ward, clock: Clock) -> None:
    course = f"/courses/{ward.courses['L3']}"
    ash.get(f"{course}/handoff")
    ash.submit(f"{course}/handoff/take", words="known from the days before")
    text = ash.get("/find").page.text
    assert "Wed 25 Nov 2026, 19:00 EST to Thu 26 Nov 2026, 07:00 EST" in text
    assert led_to(ash) == [f"{course}/handoff"]
    ash.get("/find?shift=2026-11-25T12:00:00Z")
    assert led_to(ash) == []
