"""Another range for one patient: who ordered it, where it is said, until when, and by whom not."""

from app.commands.checked import report_differences
from tests.client import Answer, Browser
from tests.clock import Clock
from tests.shifts.checks import PLAIN
from tests.site import PASSWORD
from tests.ward import Ward, facts_of

STIFF = {**PLAIN, "plateau_pressure_obs": "32", "peak_inspiratory_pressure_obs": "40"}
ORDER = {
    "own_limit": "plateau_pressure_obs",
    "own_over": "33",
    "ordered_by": "Dr Oak",
    "why": "stiff chest wall",
}
WHOSE = "Plateau pressure: outside is over 33 cmH2O (ordered by Dr Oak: stiff chest wall"


def order(browser: Browser, bed: str, query: str = "", **typed: str) -> Answer:
    browser.get(f"{bed}/own-ranges{query}")
    return browser.submit(f"{bed}/own-ranges", **typed)


def chart(browser: Browser, bed: str, clock: Clock, **typed: str) -> Answer:
    clock.forward(minutes=10)
    browser.get(f"{bed}/assess")
    pulse = str(80 + clock.now.minute // 10)
    return browser.submit(f"{bed}/assess", **{**STIFF, "heart_rate": pulse, **typed})


def test_it_is_said_wherever_its_limit_judges(ash: Browser, bed: str, clock: Clock) -> None:
    page = order(ash, bed, **ORDER, until="2026-11-27T08:00").page
    assert f"{WHOSE}, until 27 Nov 08:00)" in page.text
    for _ in range(2):
        chart(ash, bed, clock)
    for address in (bed, f"{bed}/handoff"):
        text = ash.get(address).page.text
        assert f"This patient's own range: {WHOSE}" in text
        assert "Own range: Plateau pressure the unit's" in text
    number = ash.get(f"{bed}/numbers/plateau_pressure_obs").page.text
    assert "Over 33 cmH2O is outside this patient's own range." in number
    assert "Plateau pressure 32, over" not in ash.get(bed).page.text
    for _ in range(2):
        chart(ash, bed, clock, plateau_pressure_obs="34")
    flagged = ash.get(f"{bed}/flags/mechanics").page.text
    assert "Plateau pressure 34, over 33" in flagged
    assert "This patient's own range, ordered by Dr Oak: stiff chest wall." in flagged


def test_ended_the_units_range_judges_the_next_values(ash: Browser, bed, clock, database) -> None:
    order(ash, bed, **ORDER)
    chart(ash, bed, clock)
    then = f"{clock.now:%Y%m%dT%H%M%SZ}"
    clock.forward(minutes=1)
    end = {"ordered_by": "Dr Elm", "why": "chest wall opened"}
    page = order(ash, bed, "?end=plateau_pressure_obs", **end).page
    assert "None is ordered: the unit's ranges hold" in page.text
    assert "own range ended" in page.text
    assert "Plateau pressure 32" not in ash.get("/").page.text
    assert WHOSE in ash.get(f"{bed}?as_of={then}").page.text
    assert WHOSE not in ash.get(bed).page.text
    for _ in range(2):
        chart(ash, bed, clock)
    assert "Plateau pressure 32, over 30" in ash.get(f"{bed}/flags/mechanics").page.text
    report_differences(database)


REFUSED = (
    ({"own_limit": ""}, "Choose one of this unit's limits"),
    ({"own_over": ""}, "Write this end too: the unit's is over 30"),
    ({"own_over": "3O"}, "write a number in digits"),
    ({"own_over": "91"}, "must lie between 0 and 90"),
    ({"own_over": "30"}, "That is the unit's own range"),
    ({"own_under": "33"}, "The lower end has to be under the upper one"),
    ({"ordered_by": ""}, "Say who ordered it"),
    ({"why": ""}, "Say why"),
    ({"until": "2026-11-25T19:00"}, "The end has to lie ahead"),
    ({"observed_at": "2026-11-25T20:30"}, "still to come"),
)


def test_an_order_that_cannot_be_is_refused_in_words(
    ash: Browser, bed: str, database, ward: Ward
) -> None:
    for typed, words in REFUSED:
        answer = order(ash, bed, **{**ORDER, **typed})
        assert answer.status == 422, typed
        assert words in answer.page.text
        kept = {e["name"]: e["value"] for e in answer.page.root.all("input")}
        assert kept["why"] == typed.get("why", ORDER["why"])
    assert facts_of(database, ward).own_ranges == ()


def test_only_one_that_holds_can_be_ended(ash: Browser, bed: str) -> None:
    page = ash.get(f"{bed}/own-ranges").page
    form = {e["name"]: e["value"] for e in page.form(f"{bed}/own-ranges").all("input")}
    sent = {**form, "end": "ph", "ordered_by": "Dr Oak", "why": "over"}
    answer = ash.post(f"{bed}/own-ranges", sent)
    assert answer.status == 422
    assert "so none can be ended" in answer.page.text


def test_who_may_not_chart_orders_none(browser: Browser, bed: str) -> None:
    for name in ("oak", "fern", "alder"):
        somebody = browser.another()
        somebody.sign_in(name, PASSWORD)
        page = somebody.get("/policy").page
        token = next(e["value"] for e in page.root.all("input") if e["name"] == "csrf")
        assert somebody.post(f"{bed}/own-ranges", {**ORDER, "csrf": token}).status == 403


def test_a_child_has_no_adult_limit_to_replace(ash: Browser, ward: Ward) -> None:
    page = ash.get(f"/courses/{ward.courses['L10']}/own-ranges").page
    assert not [form for form in page.root.all("form") if form["action"].endswith("own-ranges")]
