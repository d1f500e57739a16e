"""A bed, its numbers and its handoff as they were known then; and what changed since a look."""

from datetime import datetime

import pytest

from tests.client import Browser
from tests.clock import Clock
from tests.shifts.test_corrections import chart, later
from tests.site import PASSWORD
from tests.ward import Ward


def main_of(browser: Browser, path: str) -> str:
    """What the page says between its head and its foot, without links."""
    return " ".join(next(browser.get(path).page.root.all("main")).text.split())


def as_of(path: str, moment: datetime) -> str:
    return f"{path}?as_of={moment:%Y-%m-%dT%H:%M:%SZ}"


def strike_newest(ash: Browser, ward: Ward) -> None:
    course = f"/courses/{ward.courses['L3']}"
    rows = [a["href"] for a in ash.get(course).page.root.all("a") if "/rows/" in a["href"]]
    ash.get(rows[-1])
    ash.submit(f"{rows[-1]}/strike", why="wrong bed")


def test_pages_of_a_moment_say_what_they_said_then(ash: Browser, ward: Ward, clock: Clock) -> None:
    course = f"/courses/{ward.courses['L3']}"
    chart(ash, ward)
    clock.forward(minutes=1)
    paths = (course, f"{course}/handoff", f"{course}/numbers/driving_pressure")
    then = clock.now
    oak = ash.another()  # who only reads, and so has no forms on any page
    oak.sign_in("oak", PASSWORD)
    shown = {path: main_of(oak, f"{path}?since=shift") for path in paths}
    later(clock, ash, "ash", minutes=5)
    strike_newest(ash, ward)
    later(clock, ash, "ash", minutes=5)
    chart(ash, ward, peep_set="8", peep_total="9")
    for path, was in shown.items():
        answer = oak.get(as_of(path, then))
        text = answer.page.text
        assert "As it was known on Wed 25 Nov 2026, 19:31 EST; not the present." in text
        assert numbers(" ".join(next(answer.page.root.all("main")).text.split())) == numbers(was)
        assert "driving" not in path or "14" in text


def numbers(text: str) -> set[str]:
    return {word for word in text.split() if any(each.isdigit() for each in word)}


def test_a_page_of_a_moment_changes_nothing_and_its_links_stay(
    ash: Browser, ward: Ward, clock: Clock
) -> None:
    course = f"/courses/{ward.courses['L3']}"
    chart(ash, ward)
    page = ash.get(as_of(course, clock.now)).page
    assert {form["action"] for form in page.root.all("form")} <= {
        "/theme",
        "/sign-out",
        "/still-here",
    }
    leads = [a["href"] for a in next(page.root.all("main")).all("a")]
    inside = [href for href in leads if href.startswith(course)]
    assert inside
    assert not [href for href in inside if "as_of=" not in href]
    handoff = ash.get(as_of(f"{course}/handoff", clock.now)).page
    assert not [form for form in handoff.root.all("form") if "/courses/" in form["action"]]


@pytest.mark.parametrize("text", ["yesterday", "2026-11-26T00:30:00", "2099-01-01T00:00:00Z"])
def test_a_moment_that_cannot_be_meant_is_refused_and_never_shown_as_now(
    ash: Browser, ward: Ward, text: str
) -> None:
    assert ash.get(f"/courses/{ward.courses['L3']}?as_of={text}").status == 400


def test_the_form_leads_to_the_moment_in_the_units_own_time(ash: Browser, ward: Ward) -> None:
    course = f"/courses/{ward.courses['L3']}"
    then = f"{course}/then"
    answer = ash.get(f"{then}?at=2026-11-25T19:20", follow=False)
    assert answer.headers["location"] == f"{course}?as_of=2026-11-26T00%3A20%3A00Z"
    twice = ash.get(f"{then}?at=2026-11-01T01:30").page
    offered = [a.text for a in twice.root.all("a") if "as_of=" in a["href"]]
    assert offered == ["Sun 1 Nov 2026, 01:30 EDT", "Sun 1 Nov 2026, 01:30 EST"]


def test_the_bed_page_leads_with_what_changed_since_this_reader_looked(
    ash: Browser, ward: Ward, clock: Clock
) -> None:
    course = f"/courses/{ward.courses['L3']}"
    chart(ash, ward)
    later(clock, ash, "ash", hours=1)
    assert "first seen 19:30" in main_of(ash, f"{course}?since=shift")
    chart(ash, ward, peep_set="8", peep_total="9")
    later(clock, ash, "ash", hours=1)
    text = main_of(ash, course)
    assert "since you last opened this bed, 20:30" in text
    assert "no change of settings" in text
    other = ash.another()
    other.sign_in("birch", PASSWORD)
    assert "since 19:00, when this shift began" in main_of(other, course)
