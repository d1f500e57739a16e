"""Help and catalogue: for everybody signed in, without a patient, and true of the code."""

import re
from datetime import timedelta
from decimal import Decimal
from pathlib import Path

import pytest
from fastapi import FastAPI

from app.charting.reasons import NOT_MEASURED_REASONS
from app.commands.demo import demo_stories
from app.pages.catalogue_page import SHOWN_OTHERWISE, gives_a_word, shown_with
from app.pages.help_page import KEYS, MARKS
from app.pages.index_groups import INDEX_GROUPS
from app.pages.stories_page import DemoStory
from app.physiology.catalogue import CATALOGUE
from app.physiology.display import fixed
from app.record.database import Database
from app.rules.due import ROUND_CREDIT
from app.rules.policy import starting_policy
from app.rules.ventilator_day import day_rule
from tests.client import Browser, browsing
from tests.clock import Clock
from tests.published.sources import published_cases
from tests.seen import Element
from tests.site import PASSWORD, hire, open_site

ROOT = Path(__file__).resolve().parents[2]
DECIMALS = {"whole numbers": 0, "one decimal": 1, "two decimals": 2, "three decimals": 3}


@pytest.fixture
def ash(browser: Browser) -> Browser:
    browser.sign_in("ash", PASSWORD)
    return browser


@pytest.fixture
def plain_ash(plain_browser: Browser) -> Browser:
    plain_browser.sign_in("ash", PASSWORD)
    return plain_browser


def entry(browser: Browser, key: str) -> Element:
    page = browser.get("/help/indices").page.root
    return next(place for place in page.all("article") if place["id"] == key)


# ---------- the catalogue ----------


@pytest.mark.parametrize("key", CATALOGUE)
def test_every_index_stands_under_one_heading(key: str) -> None:
    headings = [heading for heading, indices in INDEX_GROUPS for one in indices if one.key == key]
    assert len(headings) == 1


def test_the_catalogue_page_says_of_every_index_what_the_code_says(ash: Browser) -> None:
    page = ash.get("/help/indices").page.root
    articles = {place["id"]: place.text for place in page.all("article")}
    assert set(articles) == set(CATALOGUE)
    for key, index in CATALOGUE.items():
        said = (index.label, index.short_label, index.formula, index.valid_when, str(index.source))
        inputs = [wanted.label for wanted in index.inputs]
        assert not [words for words in (*said, *inputs, key) if words not in articles[key]]


def test_what_an_index_cannot_do_without_is_marked(plain_ash: Browser) -> None:
    bold = {place.text for place in entry(plain_ash, "driving_pressure").all("b")}
    assert bold == {"Plateau pressure", "Set PEEP"}


def test_an_index_leads_to_its_own_sheet_of_the_calculator(plain_ash: Browser) -> None:
    (way,) = [a["href"] for a in entry(plain_ash, "rox").all("a")]
    page = plain_ash.get(way).page.root
    chosen = [each for each in page.all("option") if "selected" in each.attributes]
    assert chosen[0]["value"] == "rox"


@pytest.mark.parametrize("key", CATALOGUE)
def test_the_places_that_the_catalogue_names_are_those_that_are_shown(key: str) -> None:
    shown = [
        case.shown for case in published_cases() if case.index == key and case.state == "value"
    ]
    index = CATALOGUE[key]
    if gives_a_word(index) or key in SHOWN_OTHERWISE:
        shown = []
    places = DECIMALS.get(shown_with(index), 0)
    assert not [text for text in shown if text and len(text.partition(".")[2]) != places]


def test_an_index_that_gives_a_word_says_so() -> None:
    words = {key for key, index in CATALOGUE.items() if gives_a_word(index)}
    named = {case.index for case in published_cases() if case.state == "class"} & set(CATALOGUE)
    assert named <= words
    numbers = {case.index for case in published_cases() if case.state == "value"}
    assert not words & numbers


# ---------- help ----------


def test_help_names_the_figures_of_the_code_and_of_the_policy(ash: Browser) -> None:
    text, policy = ash.get("/help").page.text, starting_policy()
    for words in (
        day_rule(policy.ventilator_gap_days),
        f"Under {policy.adult_age_y} years",
        ", ".join(f"{at:%H:%M}" for at in policy.rounds.times),
        f"late after {policy.rounds.late_after_min} min",
        f"overdue after {policy.rounds.overdue_after_min} min",
        f"up to {ROUND_CREDIT // timedelta(minutes=1)} min before a round",
        CATALOGUE["pbw"].formula,
        "8.04 shows 8.0 and is not over",
        "8.05 shows 8.1 and is over",
        "No flag raised",
        *(reason.label for reason in NOT_MEASURED_REASONS),
    ):
        assert words in text


def test_the_printed_cards_form_differs_by_as_little_as_help_says() -> None:
    heights = (Decimal(half) / 2 for half in range(260, 431))
    apart = [
        abs(
            CATALOGUE["pbw"].work_out({"sex": sex, "height": height}).number
            - CATALOGUE["pbw_inch_form"].work_out({"sex": sex, "height": height}).number
        )
        for height in heights
        for sex in ("F", "M")
    ]
    assert Decimal(fixed(max(apart), 1)) <= Decimal("0.3")


@pytest.mark.parametrize("meaning", KEYS, ids=lambda meaning: meaning.name)
def test_a_key_that_help_names_does_something_in_the_check(meaning) -> None:
    script = (ROOT / "static" / "js" / "check-keys.js").read_text(encoding="utf-8")
    listed = re.search(r"const KEYS = \{(.*?)\n  \};", script, re.DOTALL)
    assert listed is not None
    names = {"↓": "ArrowDown", "↑": "ArrowUp", "Esc": "Escape"}
    name = names.get(meaning.name, meaning.name)
    assert re.search(rf'^\s+"?{re.escape(name)}"?:', listed[1], re.MULTILINE)


def test_every_mark_of_the_legend_is_drawn(plain_ash: Browser) -> None:
    page = plain_ash.get("/help").page.root
    drawn = {place["class"].split()[-1] for place in page.all("svg")}
    assert {f"mark-{meaning.name}" for meaning in MARKS} <= drawn


@pytest.mark.parametrize("path", ["/help", "/help/indices", "/help/watch", "/help/elements"])
@pytest.mark.parametrize("role", ["therapist", "lead", "reader", "student", "auditor"])
def test_everybody_who_is_signed_in_may_read_it(
    plain_browser: Browser, sqlite_database: Database, clock: Clock, role: str, path: str
) -> None:
    hire(sqlite_database, clock, "birch", role)
    plain_browser.sign_in("birch", PASSWORD)
    assert plain_browser.get(path).status == 200


def test_the_way_to_help_stands_over_every_page(plain_ash: Browser) -> None:
    links = [a["href"] for a in plain_ash.get("/help").page.root.all("a")]
    assert {"/help", "/calculator"} <= set(links)


def test_no_address_of_help_names_anything_that_is_not_there(plain_ash: Browser) -> None:
    page = plain_ash.get("/help").page.root
    ids = {place["id"] for place in page.all()}
    inner = [a["href"][1:] for a in page.all("a") if a["href"].startswith("#")]
    assert set(inner) <= ids


# ---------- the demo's stories ----------

STORIES = (
    DemoStory("L1", "P-01", "A quiet one", "Nothing leaves the range."),
    DemoStory("L12", "", "An empty bed", "Cleaned and ready."),
)


def site(database: Database, clock: Clock, *, demo: bool = True, **more) -> FastAPI:
    hire(database, clock, "ash")
    return open_site(database, clock, demo=demo, **more)


def test_the_demo_tells_its_stories_and_leads_to_their_beds(
    database: Database, clock: Clock
) -> None:
    with browsing(site(database, clock, demo_stories=STORIES)) as browser:
        browser.sign_in("ash", PASSWORD, follow=False)
        page = browser.get("/demo/stories").page
        assert "A quiet one P-01 Nothing leaves the range." in page.text
        links = {a["href"] for a in page.root.all("a")}
        assert {"/beds/L1", "/beds/L12", "/demo/stories"} <= links


@pytest.mark.parametrize("demo", [True, False])
def test_outside_the_demo_there_are_no_stories_and_no_way_to_them(
    sqlite_database: Database, clock: Clock, demo: bool
) -> None:
    told = {} if demo else {"demo_stories": STORIES}
    base = "http://127.0.0.1" if demo else "https://127.0.0.1"
    with browsing(site(sqlite_database, clock, demo=demo, **told), base_url=base) as browser:
        browser.sign_in("ash", PASSWORD, follow=False)
        assert browser.get("/demo/stories").status == 404
        links = [a["href"] for a in browser.get("/help").page.root.all("a")]
        assert "/demo/stories" not in links


def test_the_demo_hands_over_a_story_for_each_of_its_beds() -> None:
    told = demo_stories()
    assert [story.bed for story in told] == [f"L{number}" for number in range(1, 13)]
    assert all(story.told for story in told)
    assert {story.patient for story in told if story.bed == "L12"} == {""}
