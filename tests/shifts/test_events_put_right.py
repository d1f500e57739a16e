"""An event charted by mistake: struck or corrected from its page, in sight on the timeline."""

import pytest

from tests.client import Answer, Browser
from tests.clock import Clock
from tests.seen import Element
from tests.site import PASSWORD


@pytest.fixture
def turned(ash: Browser, bed: str, clock: Clock) -> str:
    """Turned prone at 19:30, ten minutes ago; the address of the event's page."""
    ash.get(f"{bed}/episodes?act=prone.begin")
    ash.submit(f"{bed}/episodes", act="prone.begin", prone_head_side="left")
    clock.forward(minutes=10)
    (href,) = {a["href"] for a in ash.get(bed).page.root.all("a") if "/events/" in a["href"]}
    return href


def send(browser: Browser, event: str, what: str, **typed: str) -> Answer:
    """Open the event and send one of its forms; `part` names which where there are two."""
    part = typed.pop("part", "event")
    forms = browser.get(event).page.root.all("form")
    form = next(f for f in forms if f["action"] == f"{event}/{what}" and _of(f, part))
    hidden = {e["name"]: e["value"] for e in form.all("input") if e["type"] == "hidden"}
    return browser.post(form["action"], {**hidden, **typed})


def _of(form: Element, part: str) -> bool:
    return any(e["name"] == "part" and e["value"] == part for e in form.all("input"))


def line(answer: Answer, words: str) -> Element:
    return next(row for row in answer.page.root.all("tr") if words in row.text)


def test_a_struck_event_is_struck_through_on_the_timeline_and_gone_from_the_rest(
    ash: Browser, bed: str, turned: str
) -> None:
    assert "Prone since 19:30" in ash.get(bed).text
    answer = send(ash, turned, "strike", why="another patient")
    assert answer.path == turned
    assert "Struck 19:40 by Ash: another patient" in answer.text
    assert not [f for f in answer.page.root.all("form") if "/events/" in f["action"]]
    told = line(ash.get(f"{bed}/timeline"), "Turned prone: head left")
    assert [s.text for s in told.all("s")] == ["Turned prone: head left"]
    assert "Struck 19:40 by Ash: another patient" in told.text
    page = ash.get(bed).text
    assert "Prone since" not in page
    assert "Struck: Turned prone: head left (another patient)" in page
    assert "Prone since" not in ash.get("/").text


def test_a_strike_without_a_reason_says_so_beside_its_field(ash: Browser, turned: str) -> None:
    answer = send(ash, turned, "strike", why="x")
    assert (answer.status, "Say why" in answer.text) == (422, True)
    assert 'aria-describedby="we-strike-event"' in answer.text


def test_a_corrected_time_moves_the_session_and_keeps_the_old_one_in_sight(
    ash: Browser, bed: str, turned: str
) -> None:
    answer = send(
        ash, turned, "correct", observed_at="2026-11-25T18:05", words="", why="wrong clock"
    )
    assert answer.path == turned
    assert "corrected 19:40 by Ash: wrong clock" in answer.text
    assert "Prone since 18:05, 1 h 35 min" in ash.get(bed).text
    assert "corrected 19:40 by Ash" in line(ash.get(f"{bed}/timeline"), "corrected").text


def test_a_time_that_cannot_be_is_refused_and_what_was_typed_stays(
    ash: Browser, turned: str
) -> None:
    answer = send(
        ash, turned, "correct", observed_at="2026-11-25T22:00", words="two of us", why="wrong clock"
    )
    assert (answer.status, "still to come" in answer.text) == (422, True)
    assert "two of us" in answer.text
    assert 'value="2026-11-25"' in answer.text
    assert 'value="22:00"' in answer.text


def test_the_end_goes_first_and_can_be_struck_by_itself(
    ash: Browser, bed: str, turned: str
) -> None:
    ash.get(f"{bed}/episodes?act=prone.end")
    ash.submit(f"{bed}/episodes", act="prone.end")
    refused = send(ash, turned, "strike", why="another patient")
    assert (refused.status, "strike the end first" in refused.text) == (422, True)
    answer = send(ash, turned, "strike", part="end", why="still prone")
    assert "No end stands: it goes on." in answer.text
    assert "Prone since 19:30" in ash.get(bed).text


def test_who_charted_it_is_told_and_a_stale_form_saves_nothing(
    ash: Browser, bed: str, turned: str
) -> None:
    birch = ash.another()
    birch.sign_in("birch", PASSWORD)
    stale = ash.get(turned)
    send(birch, turned, "correct", observed_at="2026-11-25T18:05", words="", why="wrong clock")
    form = next(f for f in stale.page.root.all("form") if f["action"] == f"{turned}/strike")
    hidden = {e["name"]: e["value"] for e in form.all("input") if e["type"] == "hidden"}
    answer = ash.post(form["action"], {**hidden, "why": "another patient"})
    assert (answer.status, "meanwhile" in answer.text) == (409, True)
    told = "Your “Turned prone” of 19:30 in L3 was corrected by Birch"
    assert told in ash.get("/mine").text


@pytest.mark.parametrize("who", ["fern", "oak"])
def test_who_may_not_correct_sees_no_form_and_is_refused(
    ash: Browser, turned: str, who: str
) -> None:
    other = ash.another()
    other.sign_in(who, PASSWORD)
    page = other.get(turned)
    assert "Turned prone" in page.text
    assert f"{turned}/strike" not in page.text
    assert other.post(f"{turned}/strike", {"why": "a joke"}).status == 403


def test_before_the_strike_it_reads_as_it_was_known_then(
    ash: Browser, turned: str, clock: Clock
) -> None:
    clock.forward(minutes=1)
    send(ash, turned, "strike", why="another patient")
    then = ash.get(f"{turned}?as_of=2026-11-26T00:40:00%2B00:00")
    assert "Turned prone: head left" in then.text
    assert "another patient" not in then.text
    assert "another patient" in ash.get(turned).text


def test_a_trial_open_at_the_extubation_is_closed_by_it(ash: Browser, bed: str, clock: Clock):
    ash.get(f"{bed}/episodes?act=trial_screen.once")
    ash.submit(f"{bed}/episodes", act="trial_screen.once", screen_not_done="night")
    ash.get(f"{bed}/episodes?act=breathing_trial.begin")
    ash.submit(f"{bed}/episodes", act="breathing_trial.begin", trial_kind="t_piece")
    clock.forward(minutes=10)
    form = ash.get(f"{bed}/liberation?act=extubation").page.text
    assert "A breathing trial is open since 19:30: the tube's removal closes it." in form
    ash.submit(
        f"{bed}/liberation",
        act="extubation",
        cuff_leak_not_done="no risk",
        breathes_now="high_flow",
    )
    page = ash.get(bed)
    assert "until 19:40, closed by the extubation" in page.page.text
    assert "Breathing trial ended: closed by the extubation" in page.text
    links = page.page.root.all("a")
    (trial,) = {
        a["href"]
        for a in links
        if "/events/" in a["href"] and a.text.startswith("Breathing trial:")
    }
    opened = ash.get(trial)
    assert "Nobody charted how it ended." in opened.text
    (how,) = [a["href"] for a in opened.page.root.all("a") if a.text == "Chart how it ended"]
    ash.get(how)
    ended = ash.submit(f"{bed}/episodes", act="breathing_trial.end", trial_outcome="passed")
    assert "until 19:40, passed" in ended.page.text
