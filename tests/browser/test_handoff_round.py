"""Two people at two screens hand over eight beds; nothing is lost and every difference is seen."""

from collections.abc import Iterator

import pytest
from msgspec.structs import replace
from playwright.sync_api import Browser, Page, expect

from app.charting.handing_over import StepKind
from app.rules.handoff_state import handoff_of
from tests.browser.eight_beds import TAKEN, EightBeds, open_eight_beds
from tests.browser.running import running
from tests.clock import Clock
from tests.engines import Postgresql, Sqlite
from tests.site import PASSWORD, open_site

pytestmark = pytest.mark.xdist_group("browser")

MOVED, CORRECTED, RETURNED, CHARTED, HIGH = "L2", "L3", "L4", "L5", "L6"
SECONDS_5 = 5_000
RESTATED = "Stable; gas and check at eight, call if under 88"


# What a page does with its keys does not depend on where its rows are kept.
on_one_engine = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)


@pytest.fixture
def scene(engine: Sqlite | Postgresql, clock: Clock) -> Iterator[EightBeds]:
    """A copy of the eight beds, charted once on each engine."""
    with engine.set_up("eight beds", lambda made: open_eight_beds(made, clock)) as (copy, made):
        yield replace(made, database=copy, clock=clock)


@pytest.fixture
def origin(scene: EightBeds) -> Iterator[str]:
    with running(open_site(scene.database, scene.clock)) as origin:
        yield origin


def signed_in(browser: Browser, origin: str, name: str) -> Page:
    """A person at a screen of their own."""
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    page = context.new_page()
    page.goto(f"{origin}/sign-in")
    page.fill("[name=sign_in_name]", name)
    page.fill("[name=password]", PASSWORD)
    page.click(".entrance button.first, main button.first")
    page.wait_for_url(f"{origin}/mine")
    return page


@pytest.fixture
def ash(browser: Browser, origin: str) -> Iterator[Page]:
    page = signed_in(browser, origin, "ash")
    yield page
    page.context.close()


@pytest.fixture
def birch(browser: Browser, origin: str) -> Iterator[Page]:
    page = signed_in(browser, origin, "birch")
    yield page
    page.context.close()


def address(origin: str, scene: EightBeds, bed: str) -> str:
    return f"{origin}/courses/{scene.courses[bed]}/handoff"


def offer(page: Page, origin: str, scene: EightBeds, bed: str, level: str = "low") -> None:
    page.goto(address(origin, scene, bed))
    page.check(f".offer [name=level][value={level}]")
    page.fill(".offer [name=reason]", "Steady all shift")
    page.select_option(".offer [name=to]", label="Birch")
    page.click(".offer button[type=submit]")
    page.wait_for_url(f"{origin}/handoffs?done=*")


def accept(page: Page, origin: str, scene: EightBeds, bed: str) -> int:
    """Read, tick each difference by itself, tick, say back, accept; how many differences stood."""
    page.goto(address(origin, scene, bed))
    ticks = page.locator(".accept [name=seen]")
    found = ticks.count()
    for place in range(found):
        ticks.nth(place).check()
    page.check(".accept [name=ticked]")
    page.fill(".accept [name=restated]", RESTATED)
    page.click(".accept button[type=submit]")
    page.wait_for_url(f"{origin}/handoffs?done=*")
    return found


def test_two_screens_hand_over_eight_beds(
    ash: Page, birch: Page, origin: str, scene: EightBeds, clock: Clock
) -> None:
    for bed in TAKEN:
        offer(ash, origin, scene, bed)
    scene.move(MOVED, "L9")
    scene.correct(CORRECTED, "spo2", "92")
    clock.forward(minutes=1)
    scene.chart(CHARTED, fio2_set="60")
    ask_and_answer(ash, birch, origin, scene)
    ash.goto(f"{origin}/handoffs")
    expect(ash.locator("#round")).to_contain_text("8 offered and not accepted")

    seen = {bed: accept(birch, origin, scene, bed) for bed in TAKEN}

    expect(ash.locator("#round")).to_contain_text("0 of 8 beds are yours", timeout=SECONDS_5)
    assert {bed: found for bed, found in seen.items() if found} == {
        MOVED: 1,
        CORRECTED: 1,
        CHARTED: 1,
    }
    for bed in TAKEN:
        steps = scene.steps(bed)
        told = [step for step in steps if step.kind is StepKind.ACCEPTED]
        assert [(step.author, step.words, len(step.seen)) for step in told] == [
            ("Birch", RESTATED, seen[bed])
        ]
        assert handoff_of(steps).holder.name == "Birch"
    asked = [step.words for step in scene.steps(RETURNED)]
    assert "Why PEEP 12?" in asked
    assert "Asked on the round" in asked


def ask_and_answer(ash: Page, birch: Page, origin: str, scene: EightBeds) -> None:
    birch.goto(address(origin, scene, RETURNED))
    birch.fill(".box-returned [name=words]", "Why PEEP 12?")
    birch.click(".box-returned button")
    expect(birch.locator("#standing")).to_contain_text("Returned by Birch")
    ash.goto(address(origin, scene, RETURNED))
    ash.fill(".box-answered [name=words]", "Asked on the round")
    ash.click(".box-answered button")
    expect(ash.locator("#standing")).to_contain_text("Offered to Birch")


@on_one_engine
def test_accepting_takes_three_keys_beside_the_restatement(
    ash: Page, birch: Page, origin: str, scene: EightBeds
) -> None:
    offer(ash, origin, scene, HIGH, level="raised")
    birch.goto(address(origin, scene, HIGH))
    expect(birch.locator(".accept [name=ticked]")).to_be_focused()
    birch.keyboard.press("Space")
    birch.keyboard.press("Tab")
    birch.keyboard.type(RESTATED)
    birch.keyboard.press("Enter")
    birch.wait_for_url(f"{origin}/handoffs?done=*")
    assert handoff_of(scene.steps(HIGH)).holder.name == "Birch"


@on_one_engine
def test_a_page_that_is_open_says_when_the_record_has_gone_on(
    ash: Page, birch: Page, origin: str, scene: EightBeds, clock: Clock
) -> None:
    offer(ash, origin, scene, CHARTED)
    birch.goto(address(origin, scene, CHARTED))
    birch.fill(".accept [name=restated]", "half a sentence")
    clock.forward(minutes=1)
    scene.chart(CHARTED, fio2_set="60")
    news = birch.locator("#standing")
    expect(news).to_contain_text("Something was written since", timeout=SECONDS_5 + 2000)
    assert birch.input_value(".accept [name=restated]") == "half a sentence"


@on_one_engine
def test_nothing_accepts_all_beds_at_once(
    ash: Page, birch: Page, origin: str, scene: EightBeds
) -> None:
    for bed in TAKEN[:2]:
        offer(ash, origin, scene, bed)
    birch.goto(f"{origin}/handoffs")
    assert birch.locator("#round form, #round button, #round input").count() == 0
