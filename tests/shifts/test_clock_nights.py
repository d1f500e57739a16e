"""Both nights on which the clock changes: what is asked, what is offered, what stays in order."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest
from fastapi import FastAPI

from app.record.database import Database
from tests.client import Answer, Browser, browsing
from tests.clock import Clock
from tests.shifts.checks import PLAIN
from tests.site import PASSWORD, open_site
from tests.ward import Ward, facts_of

AUTUMN = datetime(2026, 11, 1, 6, 40, tzinfo=UTC)
"""01:40 EST, the second time: New York left daylight time forty minutes ago (IANA database)."""
SPRING = datetime(2026, 3, 8, 7, 40, tzinfo=UTC)
"""03:40 EDT: the clock was put forward over 02:00 to 03:00 forty minutes ago."""


@pytest.fixture
def night(request: pytest.FixtureRequest) -> datetime:
    return request.param


@pytest.fixture
def clock(night: datetime) -> Clock:
    return Clock(night - timedelta(hours=1, minutes=10))


@pytest.fixture
def app(database: Database, clock: Clock, ward: Ward) -> FastAPI:
    return open_site(database, clock)


@pytest.fixture
def ash(app: FastAPI, clock: Clock, night: datetime) -> Iterator[Browser]:
    with browsing(app) as browser:
        clock.now = night
        browser.sign_in("ash", PASSWORD)
        yield browser


def send(browser: Browser, ward: Ward, **typed: str) -> Answer:
    action = f"/courses/{ward.courses['L3']}/assess"
    browser.get(action)
    known = {e["name"] for e in browser.last.page.form(action).all()}
    later = {code: text for code, text in typed.items() if code not in known}
    if later:  # both moments are offered once the time was looked at
        first = {code: text for code, text in typed.items() if code in known}
        browser.submit(action, press="family", **PLAIN, **first)
        return browser.submit(action, **later)
    return browser.submit(action, **PLAIN, **typed)


def offered(answer: Answer) -> dict[str, str]:
    return {
        e["value"]: e.parent.text
        for e in answer.page.root.all("input")
        if e["name"] == "observed_fold"
    }


def heads_of_the_grid(bed: Answer) -> list[str]:
    """What stands over the columns of the checks."""
    grid = next(table for table in bed.page.root.all("table") if table["class"] == "grid")
    return [e.text for e in grid.all("th") if e["scope"] == "col"][1:]


def observed(database: Database, ward: Ward) -> list[datetime]:
    return [row.observed_at for row in facts_of(database, ward).assessments]


@pytest.mark.parametrize("night", [AUTUMN], indirect=True)
def test_a_time_that_came_twice_offers_both_and_saves_neither_unasked(
    ash: Browser, ward: Ward, database: Database
) -> None:
    answer = send(ash, ward, observed_at="2026-11-01T01:30", observed_fold="neither")
    assert (answer.status, observed(database, ward)) == (422, [])
    assert offered(answer) == {"first": "01:30 EDT", "second": "01:30 EST"}


@pytest.mark.parametrize("night", [AUTUMN], indirect=True)
def test_both_rows_of_one_wall_time_keep_order_and_labels(
    ash: Browser, ward: Ward, database: Database
) -> None:
    send(ash, ward, observed_at="2026-11-01T01:30", observed_fold="second")
    bed = send(ash, ward, observed_at="2026-11-01T01:30", observed_fold="first")
    assert observed(database, ward) == [
        datetime(2026, 11, 1, 5, 30, tzinfo=UTC),
        datetime(2026, 11, 1, 6, 30, tzinfo=UTC),
    ]
    heads = heads_of_the_grid(bed)
    assert [head.split()[:2] for head in heads] == [["01:30", "EDT"], ["01:30", "EST"]]
    assert "late" in heads[0]
    assert "late" not in heads[1]


@pytest.mark.parametrize("night", [AUTUMN], indirect=True)
def test_a_form_opened_in_the_second_hour_means_the_second_hour(
    ash: Browser, ward: Ward, database: Database
) -> None:
    form = ash.get(f"/courses/{ward.courses['L3']}/assess")
    chosen = [
        e["value"]
        for e in form.page.root.all("input")
        if e["name"] == "observed_fold" and "checked" in e.attributes
    ]
    assert chosen == ["second"]
    send(ash, ward)
    assert observed(database, ward) == [datetime(2026, 11, 1, 6, 40, tzinfo=UTC)]


@pytest.mark.parametrize("night", [SPRING], indirect=True)
def test_a_time_that_never_was_is_asked_about_and_offers_its_neighbours(
    ash: Browser, ward: Ward, database: Database
) -> None:
    action = f"/courses/{ward.courses['L3']}/assess"
    ash.get(action)
    answer = ash.submit(action, **PLAIN, observed_at="2026-03-08T02:30")
    assert (answer.status, observed(database, ward)) == (422, [])
    assert "did not exist" in answer.page.text
    assert offered(answer) == {"first": "01:30 EST", "second": "03:30 EDT"}
    assert ash.submit(action, observed_fold="second").status == 200
    assert observed(database, ward) == [datetime(2026, 3, 8, 7, 30, tzinfo=UTC)]


@pytest.mark.parametrize("night", [SPRING], indirect=True)
def test_rows_on_both_sides_of_the_skipped_hour_keep_order_and_labels(
    ash: Browser, ward: Ward, database: Database
) -> None:
    send(ash, ward, observed_at="2026-03-08T03:05")
    bed = send(ash, ward, observed_at="2026-03-08T01:55")
    first, second = observed(database, ward)
    assert second - first == timedelta(minutes=10)
    heads = heads_of_the_grid(bed)
    assert [head.split()[:2] for head in heads] == [["01:55", "EST"], ["03:05", "EDT"]]


@pytest.mark.parametrize("night", [AUTUMN], indirect=True)
def test_what_is_due_and_what_lasts_count_the_hour_that_comes_twice(
    ash: Browser, ward: Ward
) -> None:
    base = f"/courses/{ward.courses['L3']}"
    send(ash, ward, observed_at="2026-10-31T23:30")
    ash.get(f"{base}/episodes?act=prone.begin")
    prone = {"prone_head_side": "left", "prone_depth_before": "22"}
    ash.submit(f"{base}/episodes", observed_at="2026-10-31T23:00", **prone)
    page = ash.get(base).page.text
    assert "03:30 EST full check" in page
    # Two hours and forty minutes on the wall, and the hour that came twice; 16 h from 23:00 EDT.
    assert "Prone since 31 Oct 23:00 EDT, 3 h 40 min of 16 h; turn due 14:00 EST" in page
    shift = ash.get("/find").page.text
    assert "Sat 31 Oct 2026, 19:00 EDT to Sun 1 Nov 2026, 07:00 EST" in shift
