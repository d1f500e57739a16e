"""Random text in every field: no crash, no silent change, nothing stored but what was said."""

import re
import unicodedata
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from app.charting.facts import Kind
from app.charting.field import Shape
from app.charting.fields import FIELDS
from app.charting.uses import fields_for
from app.pages.assess_fields import NOT_IN_THE_GROUPS
from app.record.database import Database
from app.record.tables import ReadingRow, table_of
from tests.client import Answer, Browser, browsing
from tests.clock import Clock
from tests.site import PASSWORD, open_site
from tests.ward import open_ward

READING = table_of(ReadingRow)
GRAMMAR = st.from_regex(r"\A[-+−]?[0-9٠-٩０-９]{1,4}([.,٫][0-9]{1,3})?( ?[a-zA-Z%/0-9]{1,6})?\Z")
TEXTS = st.one_of(
    st.text(st.characters(codec="utf-8", exclude_characters="\x00"), max_size=12),
    GRAMMAR,
    st.sampled_from(
        ["0.4", "1", "735", "4 00", "400mL", "12-14", "4000", "-5", "y", "yes", "1,200"]
    ),
)
FORMS = {
    kind: tuple(
        field.code
        for field in fields_for(family, kind, "ett_oral")
        if field.code not in NOT_IN_THE_GROUPS
    )
    for kind, family in ((Kind.FULL, "ac_vc"), (Kind.BRIEF, "ac_vc"), (Kind.GAS, "other"))
}
"""Every field that each form offers."""


@pytest.fixture(scope="module")
def bed(sqlite):
    """One bed for all examples: each of them adds a row."""
    with sqlite.fresh() as database:
        clock = Clock()
        ward = open_ward(database, clock)
        with browsing(open_site(database, clock)) as browser:
            browser.sign_in("ash", PASSWORD)
            yield database, browser, f"/courses/{ward.courses['L3']}/assess"


@st.composite
def filled(draw) -> tuple[Kind, dict[str, str]]:
    """A form in which something stands in every field."""
    kind = draw(st.sampled_from(list(FORMS)))
    return kind, {code: draw(TEXTS) for code in FORMS[kind]}


def said(answer: Answer, code: str) -> str:
    return next((e.text for e in answer.page.root.all("div") if e["id"] == f"says-{code}"), "")


def keys(answer: Answer) -> list[str]:
    """Every question on the page; one about the whole form stands over it."""
    return [e["value"] for e in answer.page.root.all("input") if e["name"] == "accept"]


def held_up(answer: Answer) -> list[str]:
    return [e.text for e in answer.page.root.all("div") if "say" in e["class"].split()]


def refused(answer: Answer) -> set[str]:
    """The fields that hold the form up and offer no yes."""
    blocks = (e for e in answer.page.root.all("div") if e["id"].startswith("says-"))
    wrong = (e for e in blocks if any("refused" in p["class"] for p in e.all("p")))
    return {e["id"].removeprefix("says-") for e in wrong}


def saved(database: Database, answer: Answer) -> dict[str, object]:
    assessment = str(answer.response.history[-1].headers["location"]).partition("saved=")[2]
    with database.reading() as session:
        rows = session.execute(READING.select().where(READING.c.assessment_id == assessment))
        return {row.field: row for row in rows}


def fill(browser: Browser, action: str, kind: Kind, typed: dict[str, str], accept: list[str]):
    """Send the form as a script would: one that a browser cannot fill in is sent too."""
    page = browser.get(f"{action}?kind={kind.value}")
    held = {e["name"]: e["value"] for e in page.page.form(action).all("input")}
    family = {} if kind is Kind.GAS else {"mode_family": "ac_vc"}
    base = {name: held[name] for name in held if name in NEEDED}
    return browser.post(action, {**base, **family, **typed, "accept": accept})


NEEDED = ("csrf", "course", "save_key", "kind", "opened", "observed_at")


@settings(
    max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@example((Kind.FULL, {"fio2_set": "0.4", "spo2": "٩٤", "tidal_volume_obs": "415,5"}))
@example((Kind.GAS, {"gas_specimen": "arterial", "ph": "735", "paco2": "5.3 kPa", "pao2": "80"}))
@given(filled())
def test_what_is_stored_is_what_was_typed_or_what_the_page_said_of_it(bed, form) -> None:
    database, browser, action = bed
    kind, typed = form
    accept: list[str] = []
    for _ in range(6):  # each answer may raise one more question
        answer = fill(browser, action, kind, typed, accept)
        assert answer.status in (200, 422), answer.text[:400]
        if answer.status == 200:
            break
        wrong = refused(answer)
        typed = {code: text for code, text in typed.items() if code not in wrong}
        accept = keys(answer)
        if not any(text.strip() for text in typed.values()):
            return
    assert answer.path == action.removesuffix("/assess"), held_up(answer)
    stored = saved(database, answer)
    assert set(stored) == {code for code, text in typed.items() if text.strip()}
    for code, row in stored.items():
        assert row.raw == typed[code].strip()
        assert row.number is None or stands_for(row, typed[code], accept)


def stands_for(row, text: str, accept: list[str]) -> bool:
    """The number is the one typed, or the one that a unit, a fraction or an answer makes of it."""
    plain = "".join(digit_of(sign) for sign in text.strip())
    number = re.match(r"[-+]?[\d.]+", plain)
    assert number is not None
    typed = Decimal(number.group().rstrip(".") or "0")
    by_rule = row.unit_typed not in ("", FIELDS[row.field].unit) or (
        row.field in ("fio2_set", "fio2_at_sample", "ecmo_fdo2") and typed <= 1
    )
    asked = any(f"{row.number.normalize():f}" in key for key in "\n".join(accept).split("\n"))
    return row.number == typed or by_rule or asked


def digit_of(sign: str) -> str:
    digit = unicodedata.decimal(sign, None)
    if digit is not None:
        return str(digit)
    return {",": ".", "٫": ".", "，": ".", "．": ".", "−": "-", "–": "-"}.get(sign, sign)


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@example("rass", "0.")
@given(st.sampled_from([c for c, f in FIELDS.items() if f.shape is Shape.NUMBER]), TEXTS)
def test_the_page_says_what_it_will_store_or_why_not(bed, code: str, text: str) -> None:
    """Looked at without saving: either refused, asked, or echoed where the number is another."""
    _database, browser, action = bed
    page = browser.get(action)
    token = next(e["value"] for e in page.page.root.all("input") if e["name"] == "csrf")
    sent = {"csrf": token, "kind": "full", "mode_family": "ac_vc", code: text}
    answer = browser.post(f"{action}/live", sent)
    assert answer.status == 200
    if code in FORMS[Kind.FULL] and text.strip() and FIELDS[code].shape is Shape.NUMBER:
        is_bare = re.fullmatch(r"[0-9]+([.,][0-9]*)?", text.strip())
        assert is_bare or said(answer, code), f"{text!r} in {code} was taken without a word"
