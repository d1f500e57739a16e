"""What was typed and not saved stays in sight, also where its form is gone or came back empty."""

import pytest

from tests.client import Answer, Browser
from tests.shifts.checks import PLAIN
from tests.shifts.test_corrections import by_id, resend, row_links
from tests.shifts.test_flags import chart
from tests.ward import Ward


@pytest.fixture
def course(ward: Ward) -> str:
    """The address of the bed's course."""
    return f"/courses/{ward.courses['L3']}"


def unsaved(answer: Answer) -> str:
    """What stands under "What you typed, not saved"."""
    return " | ".join(e.text for e in answer.page.root.all("dl") if e["class"] == "typed")


def test_an_if_then_line_that_is_refused_keeps_every_box(ash: Browser, course: str) -> None:
    ash.get(f"{course}/handoff")
    action = f"{course}/handoff/if-then"
    typed = {"measure": "secretions", "agreed": "suction, then call", "tried": "a larger catheter"}
    answer = ash.submit(action, **typed)
    assert answer.status == 422
    assert all(words in unsaved(answer) for words in typed.values())


@pytest.mark.parametrize(
    ("day", "time"), [("2026-11-26", "half past"), ("9999-12-30", "0415"), ("2062-11-26", "0415")]
)
def test_a_task_with_a_time_that_cannot_be_is_not_saved_and_keeps_its_words(
    ash: Browser, course: str, day: str, time: str
) -> None:
    ash.get(f"{course}/handoff")
    due = {"due_at": day, "due_at.time": time}
    answer = ash.submit(f"{course}/handoff/tasks", words="Change the filter", **due)
    assert (answer.status, "Change the filter" in unsaved(answer)) == (422, True)
    assert "Change the filter" not in ash.get(f"{course}/handoff").page.text


def test_a_plan_for_flags_that_is_refused_stays_in_sight(ash: Browser, ward: Ward) -> None:
    chart(ash, ward)
    action = f"/courses/{ward.courses['L3']}/flags/mechanics"
    ash.get(action)
    plan = "prone at 21, " * 15
    answer = ash.submit(action, plan=plan)
    assert (answer.status, plan.strip() in unsaved(answer)) == (422, True)


def test_a_plan_for_flags_that_are_gone_stays_in_sight_with_the_reason(
    ash: Browser, birch: Browser, ward: Ward
) -> None:
    chart(ash, ward)
    course = f"/courses/{ward.courses['L3']}"
    birch.get(f"{course}/flags/mechanics")
    form = next(
        form for form in birch.last.page.root.all("form") if form["action"].endswith("mechanics")
    )
    strike(ash, row_links(ash.get(course))[0])
    answer = resend(birch, form, plan="proning at 21", owner="Birch")
    assert (answer.status, "proning at 21" in unsaved(answer)) == (422, True)
    assert "Not saved" in answer.page.text


def strike(browser: Browser, row: str, why: str = "wrong patient's values") -> Answer:
    browser.get(row)
    return browser.submit(f"{row}/strike", why=why)


def test_a_correction_of_a_row_that_was_struck_meanwhile_stays_in_sight(
    ash: Browser, birch: Browser, ward: Ward, course: str
) -> None:
    ash.get(f"{course}/assess")
    ash.submit(f"{course}/assess", **PLAIN)
    row = row_links(ash.get(course))[0]
    form = next(by_id(birch.get(row), "value-peep_set").all("form"))
    strike(ash, row)
    answer = resend(birch, form, text="14", why="read the wrong line")
    assert answer.status == 409
    assert all(words in unsaved(answer) for words in ("14", "read the wrong line"))


def test_a_reason_for_striking_what_was_struck_meanwhile_stays_in_sight(
    ash: Browser, birch: Browser, course: str
) -> None:
    ash.get(f"{course}/assess")
    ash.submit(f"{course}/assess", **PLAIN)
    row = row_links(ash.get(course))[0]
    birch.get(row)
    strike(ash, row)
    answer = birch.submit(f"{row}/strike", why="the tube was out already")
    assert (answer.status, "the tube was out already" in unsaved(answer)) == (409, True)


def test_a_new_time_for_an_event_that_was_struck_meanwhile_stays_in_sight(
    ash: Browser, birch: Browser, course: str
) -> None:
    ash.get(f"{course}/events")
    ash.submit(f"{course}/events", kind="other", words="Bronchoscopy")
    timeline = ash.get(f"{course}/timeline")
    event = next(a["href"] for a in timeline.page.root.all("a") if "/events/" in a["href"])
    birch.get(event)
    ash.get(event)
    ash.submit(f"{event}/strike", why="it was another bed")
    answer = birch.submit(f"{event}/correct", words="Bronchoscopy, left", why="which side")
    assert answer.status == 409
    assert all(words in unsaved(answer) for words in ("Bronchoscopy, left", "which side"))


@pytest.mark.parametrize("day", ["0001-01-01", "9999-12-31"])
def test_a_time_at_the_calendars_ends_is_refused_beside_what_was_typed(
    ash: Browser, course: str, day: str
) -> None:
    for path in ("events", "assess"):
        ash.get(f"{course}/{path}")
        typed = {"kind": "other", "words": "Bronchoscopy"} if path == "events" else PLAIN
        at = {"observed_at": day, "observed_at.time": "23:59"}
        answer = ash.submit(f"{course}/{path}", **{**typed, **at})
        assert answer.status == 422
        assert day in answer.text
