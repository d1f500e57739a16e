"""Each error of the record has its own answer, and a person's role its limits."""

from datetime import timedelta

import pytest

from app.record import errors as record
from app.web import errors as web
from app.web.dependencies import FormDep, LeadOnly, PeopleManager
from app.web.trouble import TROUBLES
from tests.client import Browser
from tests.site import PASSWORD, hire

RAISED = [
    (record.NotFound("course", "7f3a"), 404, "Nothing here"),
    (record.NotWritable("the disk is full"), 503, "Not saved"),
    (record.NotWritable("the connection is gone", uncertain=True), 503, "Perhaps not saved"),
    (record.NotReadable("the connection is gone"), 503, "The record does not answer"),
    (record.Conflict("key taken"), 409, "Not saved"),
    (record.KeyReused("k"), 422, "Not saved"),
    (record.NotAudited("no line"), 500, "Our mistake"),
    (record.OnlyGrows("refused"), 500, "Our mistake"),
    (record.Unstorable("reading", "number", "NaN"), 500, "Our mistake"),
    (web.BadForm("it has too many fields"), 400, "Not saved"),
    (web.TooBusy(timedelta(seconds=10)), 503, "One moment"),
    (ValueError("not foreseen"), 500, "Our mistake"),
]


@pytest.mark.parametrize(("error", "status", "heading"), RAISED, ids=lambda value: str(value)[:20])
def test_each_error_has_its_status_and_words(
    plain_app, plain_browser: Browser, error, status, heading
):
    @plain_app.post("/raise")
    def refused() -> None:
        raise error

    answer = plain_browser.post("/raise", {})
    assert (answer.status, answer.page.heading) == (status, heading)


def test_what_cannot_be_saved_stays_in_sight(plain_app, plain_browser: Browser):
    @plain_app.post("/raise")
    def refused(form: FormDep) -> None:
        raise record.NotWritable("the disk is full")

    answer = plain_browser.post("/raise", {"plateau_pressure_obs": "24"})
    assert "Plateau pressure 24" in answer.page.text
    assert "Nothing can be saved now: the disk is full" in answer.page.text
    assert answer.headers["retry-after"] == "10"


def test_a_foreign_key_of_a_course_is_answered_like_a_random_address(
    plain_app, plain_browser: Browser
):
    @plain_app.get("/courses-of-a-test/{course_id}")
    def course(course_id: str) -> None:
        raise record.NotFound("course", course_id)

    known, unknown = plain_browser.get("/courses-of-a-test/7f3a"), plain_browser.get("/7f3a")
    assert known.status == unknown.status == 404
    assert known.page.text == unknown.page.text


def test_every_error_of_http_is_in_the_table():
    kinds = {kind for kind in vars(web).values() if isinstance(kind, type)}
    errors = {kind for kind in kinds if issubclass(kind, web.WebError)} - {web.WebError}
    assert errors <= set(TROUBLES)


@pytest.mark.parametrize(
    ("role", "status"),
    [
        ("therapist", 403),
        ("reader", 403),
        ("student", 403),
        ("auditor", 403),
        ("lead", 200),
        ("x", 403),
    ],
)
def test_what_is_the_leads_is_refused_to_others(
    plain_app, plain_browser: Browser, sqlite_database, clock, role: str, status: int
):
    @plain_app.get("/limits-of-a-test")
    def limits(lead: LeadOnly) -> str:
        return lead.person.role

    @plain_app.get("/people-of-a-test")
    def people(lead: PeopleManager) -> str:
        return lead.person.role

    hire(sqlite_database, clock, "birch", role)
    plain_browser.sign_in("birch", PASSWORD, follow=False)
    assert plain_browser.get("/limits-of-a-test").status == status
    assert plain_browser.get("/people-of-a-test").status == status


def test_a_refusal_names_the_role_and_the_act(
    plain_app, plain_browser: Browser, sqlite_database, clock
):
    @plain_app.get("/people-of-a-test")
    def people(lead: PeopleManager) -> str:
        return lead.person.role

    plain_browser.sign_in("ash", PASSWORD, follow=False)
    words = plain_browser.get("/people-of-a-test").page.text
    assert "A respiratory therapist may not manage people here." in words
