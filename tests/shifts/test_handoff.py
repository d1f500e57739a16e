"""One bed passes from one person to the next, through HTTP, on both engines."""

import pytest

from tests.client import Answer, Browser
from tests.clock import Clock
from tests.shifts.checks import chart
from tests.shifts.handing import accept, keys, offer, page_of, said, standing
from tests.site import PASSWORD
from tests.ward import Ward


@pytest.fixture
def cedar(ash: Browser) -> Browser:
    """Cedar, who leads."""
    other = ash.another("10.1.1.3")
    other.sign_in("cedar", PASSWORD)
    return other


def test_before_anybody_accepted_nobody_has_the_bed(ash: Browser, ward: Ward) -> None:
    assert "Nobody has this bed yet" in standing(ash, ward, "L3")


def test_an_offer_moves_nothing_and_an_acceptance_moves_the_bed(
    ash: Browser, birch: Browser, ward: Ward
) -> None:
    said(ash, ward, "L3", "take", "Pneumonia, stable on volume control")
    offer(ash, ward, "L3", to="birch")
    assert "Ash has this bed" in standing(birch, ward, "L3")
    answer = accept(birch, ward, "L3")
    assert (answer.status, answer.path) == (200, "/handoffs")
    assert "Birch has this bed, accepted from Ash" in standing(ash, ward, "L3")


def status_said(answer: Answer) -> list[str]:
    """What the head of a page says has just happened."""
    return [e.text for e in answer.page.root.all("p") if e["class"] == "said"]


def test_whoever_offers_and_whoever_accepts_is_told_that_it_is_done(
    ash: Browser, birch: Browser, ward: Ward
) -> None:
    said(ash, ward, "L3", "take", "Pneumonia, stable on volume control")
    assert status_said(offer(ash, ward, "L3", to="birch")) == [
        "L3: Ash has it; offered to Birch 19:30."
    ]
    assert status_said(accept(birch, ward, "L3")) == ["L3 is yours since 19:30."]
    assert status_said(birch.get("/handoffs")) == []
    assert status_said(birch.get("/handoffs?done=nobody")) == []


def test_the_board_says_who_has_the_bed_and_to_whom_it_is_offered(ash: Browser, ward: Ward) -> None:
    said(ash, ward, "L3", "take", "Stable")
    offer(ash, ward, "L3", to="birch")
    board = ash.get("/").page.text
    assert "Ash has it; offered to Birch 19:30" in board
    assert "1 offered, not accepted" in board


def test_high_concern_wants_an_if_then_line_or_the_reason_for_none(
    ash: Browser, ward: Ward
) -> None:
    refused = offer(ash, ward, "L3", level="high", reason="FiO2 80 and climbing", to="birch")
    assert refused.status == 422
    assert "needs at least one if-then line" in refused.page.text
    assert "FiO2 80 and climbing" in refused.text
    note = page_of(ward, "L3", "/notes")
    notes = next(f for f in refused.page.root.all("form") if is_for(f, note, "if_then"))
    sent = {e["name"]: e["value"] for e in notes.all("input")}
    ash.post(note, {**sent, "words": "None expected: comfort care"}, Sec_Fetch_Site="same-origin")
    assert offer(ash, ward, "L3", level="high", reason="FiO2 80", to="birch").path == "/handoffs"


def is_for(form, action: str, heading: str) -> bool:
    return form["action"] == action and any(e["value"] == heading for e in form.all("input"))


def test_an_offer_without_a_level_is_refused(ash: Browser, ward: Ward) -> None:
    ash.get(page_of(ward, "L3"))
    answer = ash.submit(page_of(ward, "L3", "/offer"))
    assert answer.status == 422
    assert "Choose a level of concern" in answer.page.text


def test_a_level_from_before_the_last_acceptance_is_somebody_elses(
    ash: Browser, birch: Browser, ward: Ward, clock: Clock
) -> None:
    offer(ash, ward, "L3", to="birch")
    clock.forward(minutes=1)
    accept(birch, ward, "L3")
    clock.forward(minutes=1)
    birch.get(page_of(ward, "L3"))
    assert birch.submit(page_of(ward, "L3", "/offer")).status == 422


def test_a_question_and_its_answer_are_kept_and_the_bed_stays(
    ash: Browser, birch: Browser, ward: Ward
) -> None:
    said(ash, ward, "L3", "take", "Stable")
    offer(ash, ward, "L3", to="birch")
    said(birch, ward, "L3", "return", "Why PEEP 18?")
    assert "Returned by Birch" in standing(ash, ward, "L3")
    assert "Ash has this bed" in standing(ash, ward, "L3")
    said(ash, ward, "L3", "answer", "Dr Oak wants it asked on the round")
    accept(birch, ward, "L3")
    text = birch.get(page_of(ward, "L3")).page.text
    assert "Why PEEP 18?" in text
    assert "Dr Oak wants it asked on the round" in text


def test_while_a_question_is_open_nobody_can_accept(
    ash: Browser, birch: Browser, ward: Ward
) -> None:
    offer(ash, ward, "L3", to="birch")
    page = birch.get(page_of(ward, "L3"))
    said(birch, ward, "L3", "return", "Which tube?")
    birch.last = page
    assert birch.submit(page_of(ward, "L3", "/accept"), ticked="yes").status == 422


def test_raised_concern_wants_a_typed_line_and_it_is_kept_as_written(
    ash: Browser, birch: Browser, ward: Ward
) -> None:
    offer(ash, ward, "L3", level="raised", reason="Stiffer", to="birch")
    assert accept(birch, ward, "L3").status == 422
    accept(birch, ward, "L3", restated="Raised: stiffer. Gas at 8. Call if under 88.")
    assert "Raised: stiffer. Gas at 8. Call if under 88." in ash.get(page_of(ward, "L3")).text


def test_low_concern_is_said_aloud_and_still_ticked(
    ash: Browser, birch: Browser, ward: Ward
) -> None:
    offer(ash, ward, "L3", to="birch")
    assert accept(birch, ward, "L3", ticked=None).status == 422
    assert accept(birch, ward, "L3").path == "/handoffs"


def test_a_row_after_the_offer_has_to_be_seen_first(
    ash: Browser, birch: Browser, ward: Ward
) -> None:
    chart(ash, ward, "L3")
    offer(ash, ward, "L3", to="birch")
    chart(ash, ward, "L3", peep_set="10", peep_total="10", plateau_pressure_obs="24")
    page = birch.get(page_of(ward, "L3"))
    assert "PEEP, cmH2O 12 → 10" in page.page.text
    refused = birch.submit(page_of(ward, "L3", "/accept"), ticked="yes")
    assert refused.status == 422
    assert "has to be seen before accepting" in refused.page.text
    assert accept(birch, ward, "L3").path == "/handoffs"


def test_what_changes_between_reading_and_accepting_comes_back(
    ash: Browser, birch: Browser, ward: Ward
) -> None:
    offer(ash, ward, "L3", to="birch")
    page = birch.get(page_of(ward, "L3"))
    chart(ash, ward, "L3")
    birch.last = page
    answer = birch.submit(page_of(ward, "L3", "/accept"), ticked="yes", restated="Stable, gas at 8")
    assert answer.status == 422
    assert len(keys(answer, page_of(ward, "L3", "/accept"))) == 1
    restated = next(e for e in answer.page.root.all("input") if e["id"] == "restated")
    assert restated["value"] == "Stable, gas at 8"
    assert "Nobody has this bed yet" in standing(ash, ward, "L3")


def test_a_form_with_every_key_guessed_ticks_nothing_that_is_not_there(
    ash: Browser, birch: Browser, ward: Ward
) -> None:
    offer(ash, ward, "L3", to="birch")
    page = birch.get(page_of(ward, "L3"))
    chart(ash, ward, "L3")
    birch.last = page
    form = page.page.form(page_of(ward, "L3", "/accept"))
    sent = {e["name"]: e["value"] for e in form.all("input")}
    answer = birch.post(
        page_of(ward, "L3", "/accept"), {**sent, "ticked": "yes", "seen": ["all", "*", "new_row"]}
    )
    assert answer.status == 422


def test_words_that_come_late_reach_whoever_accepted(
    ash: Browser, birch: Browser, ward: Ward, clock: Clock
) -> None:
    offer(ash, ward, "L3", to="birch")
    accept(birch, ward, "L3")
    said(ash, ward, "L3", "late", "Outlet ticked at 18:55, I forgot to chart it")
    assert "1 late item to look at" in birch.get("/handoffs").page.text
    page = birch.get(page_of(ward, "L3"))
    assert "Outlet ticked at 18:55" in page.text
    action = page_of(ward, "L3", "/seen")
    birch.submit(action, seen=keys(page, action))
    assert "late item to look at" not in birch.get("/handoffs").page.text


def test_a_lead_takes_over_what_nobody_came_for_and_everybody_sees_it(
    ash: Browser, birch: Browser, cedar: Browser, ward: Ward, clock: Clock
) -> None:
    said(ash, ward, "L3", "take", "Stable")
    offer(ash, ward, "L3", to="birch")
    cedar.get(page_of(ward, "L3"))
    assert not [f for f in forms(cedar) if f.endswith("/take")]
    for _ in range(6):
        clock.forward(minutes=5)
        for one in (ash, cedar):
            one.get("/")
    said(cedar, ward, "L3", "take", "Nobody came; stable on volume control")
    told = standing(ash, ward, "L3")
    assert "Cedar has this bed: taken over from Ash" in told
    assert "not handed over" in told


def forms(browser: Browser) -> list[str]:
    return [form["action"] for form in browser.last.page.root.all("form")]


def test_a_lead_who_offers_for_somebody_says_so(ash: Browser, cedar: Browser, ward: Ward) -> None:
    said(ash, ward, "L3", "take", "Stable")
    offer(cedar, ward, "L3", to="birch")
    assert "by Cedar for Ash" in standing(ash, ward, "L3")


@pytest.mark.parametrize("name", ["oak", "fern"])
def test_who_may_not_hand_over_reads_and_is_refused_by_the_server(
    ash: Browser, ward: Ward, name: str
) -> None:
    offer(ash, ward, "L3")
    reader = ash.another()
    reader.sign_in(name, PASSWORD)
    page = reader.get(page_of(ward, "L3"))
    assert not [form for form in forms(reader) if "/handoff/" in form]
    token = next(e["value"] for e in page.page.root.all("input") if e["name"] == "csrf")
    for path in ("/offer", "/accept", "/return", "/take", "/tasks", "/if-then"):
        assert reader.post(page_of(ward, "L3", path), {"csrf": token}).status == 403


def test_a_task_is_moved_settled_and_keeps_what_it_was(ash: Browser, ward: Ward) -> None:
    ash.get(page_of(ward, "L3"))
    ash.submit(
        page_of(ward, "L3", "/tasks"),
        words="Gas after the change",
        due_at="2026-11-25T20:30",
        owner="night therapist",
        source="order",
    )
    settle = page_of(ward, "L3", "/tasks/settle")
    ash.submit(settle, press="moved", due_at="2026-11-25T21:00")
    assert "moved 19:30, Ash, was 20:30" in ash.last.page.text
    refused = ash.submit(settle, press="not_done")
    assert refused.status == 422
    done = ash.submit(settle, press="done")
    assert "done 19:30, Ash" in done.page.text


def test_a_suggested_concern_says_that_it_does_not_weigh_danger(ash: Browser, ward: Ward) -> None:
    not_weighed = "What stands under Danger is not weighed in it."
    said(ash, ward, "L3", "take", "Stable")
    chart(ash, ward)
    calm = ash.get(page_of(ward, "L3")).page.text
    assert "The record suggests " in calm
    assert not_weighed not in calm
    chart(ash, ward, position="prone", heart_rate="90")
    assert not_weighed in ash.get(page_of(ward, "L3")).page.text


def test_a_task_says_that_its_time_has_passed_as_the_bed_page_does(
    ash: Browser, ward: Ward, clock: Clock
) -> None:
    ash.get(page_of(ward, "L3"))
    ash.submit(
        page_of(ward, "L3", "/tasks"), words="Gas after the change", due_at="2026-11-25T20:30"
    )
    assert "20:30 Gas after the change" in ash.get(page_of(ward, "L3")).page.text
    clock.forward(hours=2, minutes=30)
    ash.sign_in("ash", PASSWORD)
    assert "20:30, late Gas after the change" in ash.get(page_of(ward, "L3")).page.text
    assert "Gas after the change, late" in ash.get(f"/courses/{ward.courses['L3']}").page.text


def test_an_if_then_line_takes_its_first_half_from_the_patients_limits(
    ash: Browser, ward: Ward
) -> None:
    ash.get(page_of(ward, "L3"))
    answer = ash.submit(
        page_of(ward, "L3", "/if-then"),
        offered="spo2 under 88",
        lasting="5 min",
        agreed="suction if secretions, FiO2 up one step",
        call="physician",
        within_min="10",
    )
    assert "SpO2 under 88 % for 5 min" in answer.page.text
    assert "physician within 10 min" in answer.page.text


def test_a_line_without_its_second_half_is_refused(ash: Browser, ward: Ward) -> None:
    ash.get(page_of(ward, "L3"))
    answer = ash.submit(page_of(ward, "L3", "/if-then"), offered="spo2 under 88")
    assert answer.status == 422
    assert "what was agreed (then …)" in answer.page.text
