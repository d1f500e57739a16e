"""Moves, swaps, out and back, and the end of a course, over HTTP; what cannot be is refused."""

from datetime import timedelta

import pytest

from tests.client import Answer, Browser, browsing
from tests.clock import Clock
from tests.shifts.checks import PLAIN, chart
from tests.shifts.handing import accept, offer, page_of, standing
from tests.site import PASSWORD, open_site
from tests.ward import IDENTIFIERS, Ward, facts_of


@pytest.fixture
def page(ward: Ward) -> str:
    """Address of where P-01 in L3 is."""
    return f"/courses/{ward.courses['L3']}/place"


def act(browser: Browser, page: str, code: str, **typed: str) -> Answer:
    browser.get(f"{page}?act={code}")
    return browser.submit(page, **typed)


def local(moment) -> str:
    """The unit's wall time of a moment in November."""
    return (moment - timedelta(hours=5)).strftime("%Y-%m-%dT%H:%M")


def test_a_moved_patient_keeps_the_record_and_leaves_the_bed(
    ash: Browser, page: str, database, clock: Clock, ward: Ward
):
    chart(ash, ward, "L3")
    clock.forward(minutes=10)
    moved = act(ash, page, "bed", bed="L11", words="next to the window")
    assert "Moved 19:40, was L3" in moved.text
    assert ash.get("/beds/L11").path == f"/courses/{ward.courses['L3']}"
    assert "P-01 Test" not in ash.get("/beds/L3").text
    known = facts_of(database, ward)
    assert len(known.standing) == 1
    assert [(task.rule, task.is_open) for task in known.tasks] == [("gear_in_place", True)]
    clock.forward(minutes=5)
    act(ash, page, "bed", bed="L3")
    (first, second) = facts_of(database, ward).tasks
    assert (first.is_open, second.words) == (
        False,
        "Machine, rescue gear and outlets in L3 looked at",
    )


def test_two_patients_change_places_in_one_act(ash: Browser, page: str, ward: Ward, clock: Clock):
    clock.forward(minutes=10)
    act(ash, page, "swap", other=ward.courses["L5"])
    assert ash.get("/beds/L5").path == f"/courses/{ward.courses['L3']}"
    assert ash.get("/beds/L3").path == f"/courses/{ward.courses['L5']}"


def test_who_lets_two_change_has_said_whose_charts_both_are(
    database, clock: Clock, ward: Ward, page: str
):
    app = open_site(database, clock, identity_digits=4)
    with browsing(app, identifiers=IDENTIFIERS) as ash:
        ash.sign_in("ash", PASSWORD)
        act(ash, page, "swap", other=ward.courses["L5"])
        asked = ash.submit(page, identity="2086")
        assert "This is about the other patient" in asked.text
        wrong = ash.submit(page, other_number="2086")
        assert "This is about the other patient" in wrong.text
        ash.submit(page, other_number="4471")
        assert ash.get("/beds/L5").path == f"/courses/{ward.courses['L3']}"


def test_out_of_the_unit_and_back(ash: Browser, page: str, database, clock: Clock, ward: Ward):
    out = act(ash, page, "out", words="theatre 2")
    assert "Out of the unit since 19:30 (theatre 2), was L3" in out.text
    assert "P-01 Test" not in ash.get("/").text
    assert "open, out of the unit since 19:30: theatre 2" in ash.get("/courses").text
    clock.forward(hours=3)
    ash.sign_in("ash", PASSWORD)
    act(ash, page, "bed", bed="L11")
    assert "P-01 Test" in ash.get("/").text
    assert [stay.bed for stay in facts_of(database, ward).bed_stays] == ["L3", None, "L11"]


IMPOSSIBLE = (
    ("bed", {"bed": "L5"}, "L5 is taken"),
    ("bed", {"bed": "L3"}, "in L3 already"),
    ("bed", {"bed": "L99"}, "there is none in use"),
    ("bed", {"bed": ""}, "Pick the bed"),
    ("swap", {"other": ""}, "Pick the other patient"),
    ("out", {"words": " "}, "where the patient went"),
    ("out", {"words": "x" * 141}, "it takes 140"),
    ("bed", {"bed": "L11", "observed_at": "2026-11-25T20:30"}, "still to come"),
    ("bed", {"bed": "L11", "observed_at": "2026-11-20T20:30"}, "before support started"),
    ("close", {"end": ""}, "pick one of the list"),
    ("close", {"end": "died"}, "who pronounced"),
    ("close", {"end": "left", "observed_at": "2026-11-25T20:30"}, "still to come"),
    ("bed", {"act": "fly"}, "pick one of the list"),
)
"""Which form, what was typed in it, and what is said of it."""


def test_what_cannot_be_is_refused_in_words(ash: Browser, page: str):
    for code, typed, words in IMPOSSIBLE:
        answer = act(ash, page, code, **typed)
        assert (answer.status, words in answer.text) == (422, True), words


def test_nobody_moves_to_before_a_later_move_or_into_a_bed_before_it_was_free(
    ash: Browser, page: str, clock: Clock, ward: Ward
):
    clock.forward(minutes=8)
    act(ash, page, "bed", bed="L11")
    earlier = local(clock.now - timedelta(minutes=5))
    late = act(ash, page, "bed", bed="L12", observed_at=earlier)
    assert "A later move is written already, at 19:38 on 25 Nov" in late.text
    other = f"/courses/{ward.courses['L5']}/place"
    taken = act(ash, other, "bed", bed="L3", observed_at=earlier)
    assert "Somebody else was in L3 until 19:38 on 25 Nov" in taken.text


def test_a_move_between_offer_and_acceptance_stands_on_both_sides(
    ash: Browser, page: str, clock: Clock, ward: Ward
):
    chart(ash, ward, "L3")
    offer(ash, ward, "L3", to="birch")
    clock.forward(minutes=10)
    act(ash, page, "bed", bed="L11")
    birch = ash.another()
    birch.sign_in("birch", PASSWORD)
    for reader in (ash, birch):
        assert "Moved 19:40, was L3" in reader.get(page_of(ward, "L3")).text
    assert "Moved from L3 to L11" in birch.last.text
    unticked = accept(birch, ward, "L3", seen=None)
    assert unticked.status == 422
    accept(birch, ward, "L3")
    assert standing(birch, ward, "L3").startswith("Birch has this bed")


def test_a_course_that_ended_is_read_and_nothing_is_due_in_it(
    ash: Browser, page: str, clock: Clock, ward: Ward
):
    chart(ash, ward, "L3", plateau_pressure_obs="32", peak_inspiratory_pressure_obs="36")
    clock.forward(hours=9)
    ash.sign_in("ash", PASSWORD)
    closed = act(ash, page, "close", end="died", words="pronounced by Dr Oak")
    assert "Closed 04:30. Died: pronounced by Dr Oak" in closed.text
    assert "overdue" not in closed.text
    assert "Nothing is due any more: the course is closed." in closed.text
    assert "Was in L3, died 04:30" in closed.text
    assert "No flag raised" not in closed.text
    handoff = ash.get(page_of(ward, "L3"))
    assert "Closed 04:30. Died" in handoff.text
    assert not [form for form in handoff.page.root.all("form") if "/handoff" in form["action"]]
    assert "Died: pronounced by Dr Oak, 04:30" in ash.get("/courses").text
    board = ash.get("/").text
    assert "P-01 Test" not in board


def test_what_follows_an_end_is_refused_or_asked(
    ash: Browser, page: str, clock: Clock, ward: Ward, database
):
    act(ash, page, "close", end="left", words="ward 4")
    clock.forward(minutes=5)
    base = f"/courses/{ward.courses['L3']}"
    token = ash.get(page).page.form(page)
    csrf = next(e["value"] for e in token.all("input") if e["name"] == "csrf")
    form = {"csrf": csrf, "course": ward.courses["L3"]}
    for code, words in (
        ("close", "This course is closed already"),
        ("bed", "This course is closed. Take its end back first"),
        ("out", "This course is closed"),
    ):
        refused = ash.post(page, {**form, "act": code, "bed": "L11", "end": "left", "words": "x"})
        assert refused.status == 422
        assert words in refused.text
    event = ash.post(f"{base}/events", {**form, "kind": "suction"})
    assert "The course had ended by that time" in event.text
    ash.get(f"{base}/assess")
    asked = ash.submit(f"{base}/assess", **PLAIN)
    assert "The course had ended by the time observed" in asked.text
    assert facts_of(database, ward).standing == ()


def test_an_end_before_a_check_is_asked_about_once(
    ash: Browser, page: str, clock: Clock, ward: Ward, database
):
    chart(ash, ward, "L3")
    clock.forward(minutes=5)
    earlier = local(clock.now - timedelta(minutes=45))
    asked = act(ash, page, "close", end="left", words="ward 4", observed_at=earlier)
    assert "Something is charted at 19:30 on 25 Nov, after this end." in asked.text
    (box,) = [e for e in asked.page.form(page).all("input") if e["name"] == "accept"]
    ash.submit(page, accept=box["value"])
    assert facts_of(database, ward).ended_at == clock.now - timedelta(minutes=45)


def test_an_end_is_taken_back_into_the_bed_unless_somebody_is_there(
    ash: Browser, page: str, clock: Clock, ward: Ward, database
):
    act(ash, page, "close", end="left", words="ward 4")
    clock.forward(minutes=10)
    other = f"/courses/{ward.courses['L5']}/place"
    act(ash, other, "bed", bed="L3")
    clock.forward(minutes=10)
    refused = act(ash, page, "take-back", bed="L3", words="wrong patient closed")
    assert "L3 is taken" in refused.text
    refused = act(ash, page, "take-back", bed="L11")
    assert "Say why the end is taken back" in refused.text
    act(ash, page, "take-back", bed="L11", words="wrong patient closed")
    known = facts_of(database, ward)
    assert (known.ended_at, [stay.bed for stay in known.bed_stays]) == (None, ["L3", None, "L11"])
    history = ash.get(page).text
    assert "The end was taken back" in history
    assert "Closed: Left the unit: ward 4" in history


def test_an_old_end_is_not_taken_back(ash: Browser, page: str, clock: Clock):
    act(ash, page, "close", end="left", words="ward 4")
    clock.forward(days=4)
    ash.sign_in("ash", PASSWORD)
    refused = act(ash, page, "take-back", bed="L3", words="came back")
    assert "more than 3 days ago" in refused.text


def test_who_may_not_place_reads_where_the_patient_is(browser: Browser, page: str):
    browser.sign_in("oak", PASSWORD)
    seen = browser.get(page)
    assert "In L3, since" in seen.text
    assert 'id="fill"' not in seen.text
    assert browser.post(page, {"csrf": "0", "act": "out"}).status == 403
