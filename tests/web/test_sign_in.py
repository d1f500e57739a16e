"""Signing in: who gets in, what the browser is given, and where it leads."""

import hashlib
from http.cookies import SimpleCookie

import pytest
from argon2 import Parameters, Type
from sqlmodel import select

from app.actions.passwords import Passwords
from app.pages.plain_pages import DemoPerson
from app.record.database import Database
from app.record.tables import AuditLineRow, SessionRow, StaffStandingRow
from app.web.sign_in_page import WRONG
from tests.client import Answer, Browser, browsing, filled_in
from tests.clock import Clock
from tests.site import PASSWORD, PASSWORDS, dismiss, hire, open_site

WARD = "https://ventilators.example"


def set_cookies(answer: Answer) -> SimpleCookie:
    found = SimpleCookie()
    for line in answer.headers.get_list("set-cookie"):
        found.load(line)
    return found


def token_of(answer: Answer, action: str) -> str:
    return filled_in(answer.page.form(action))["csrf"][0]


def audit_lines(database: Database) -> list[tuple[str, str | None, str]]:
    with database.reading() as session:
        lines = session.exec(select(AuditLineRow).order_by(AuditLineRow.seq)).all()
        return [(line.act, line.staff_id, line.detail) for line in lines]


def test_a_right_password_leads_to_where_the_person_was_going(browser: Browser):
    answer = browser.get("/probe")
    assert answer.path == "/sign-in"
    answer = browser.submit("/sign-in", sign_in_name="ash", password=PASSWORD)
    assert (answer.path, answer.text) == ("/probe", '"Ash"')


def test_a_name_is_taken_however_it_is_capitalised(browser: Browser):
    assert browser.sign_in(" Ash ", PASSWORD, follow=False).status == 303


@pytest.mark.parametrize(
    ("name", "password"),
    [("ash", "wrong"), ("nobody", PASSWORD), ("ash", ""), ("", ""), ("ash", f" {PASSWORD}")],
)
def test_a_refusal_says_nothing_about_which_of_the_two_was_wrong(
    plain_browser: Browser, name: str, password: str
):
    answer = plain_browser.sign_in(name, password)
    assert (answer.status, WRONG in answer.page.text) == (401, True)
    assert plain_browser.get("/probe", follow=False).status == 303


def test_the_typed_name_stays_and_the_password_does_not(plain_browser: Browser):
    form = plain_browser.sign_in("ash", "wrong word here").page.form("/sign-in")
    values = {field["name"]: field["value"] for field in form.all("input")}
    assert (values["sign_in_name"], values["password"]) == ("ash", "")


def test_an_unknown_name_costs_as_many_hashes_as_a_known_one(browser: Browser, monkeypatch):
    checked = []
    hasher = type(PASSWORDS._hasher)
    verify = hasher.verify
    monkeypatch.setattr(hasher, "verify", lambda *a: checked.append(1) or verify(*a))
    browser.sign_in("ash", "wrong")
    known = len(checked)
    browser.sign_in("nobody", "wrong")
    assert (known, len(checked)) == (1, 2)


def test_who_may_no_longer_sign_in_is_refused_like_anybody(
    browser: Browser, database: Database, clock: Clock
):
    dismiss(database, clock, "ash")
    assert browser.sign_in("ash", PASSWORD).status == 401


def test_the_cookie_of_the_demo_is_closed_to_scripts_and_other_sites(browser: Browser):
    cookie = set_cookies(browser.sign_in("ash", PASSWORD, follow=False))["leeboard-session"]
    assert (cookie["httponly"], cookie["samesite"], cookie["path"]) == (True, "strict", "/")
    assert (cookie["secure"], cookie["domain"], cookie["max-age"]) == ("", "", "")


def test_outside_the_demo_cookies_travel_over_https_only(database: Database, clock: Clock):
    hire(database, clock, "ash")
    with browsing(open_site(database, clock, demo=False), base_url=WARD) as browser:
        given = set_cookies(browser.get("/sign-in"))
        given |= set_cookies(browser.sign_in("ash", PASSWORD, follow=False))
    assert set(given) == {"__Host-leeboard-session", "__Host-leeboard-form"}
    assert all(
        (one["secure"], one["path"], one["domain"]) == (True, "/", "") for one in given.values()
    )


def test_only_the_hash_of_the_token_is_kept(browser: Browser, database: Database):
    browser.sign_in("ash", PASSWORD, follow=False)
    token = browser.cookies["leeboard-session"]
    with database.reading() as session:
        kept = session.exec(select(SessionRow)).one()
    assert kept.token_sha256 == hashlib.sha256(token.encode()).hexdigest()
    assert token not in repr(kept)


def test_a_planted_token_is_not_taken_over(browser: Browser):
    browser.cookies.set("leeboard-session", "planted", domain="127.0.0.1")
    browser.sign_in("ash", PASSWORD, follow=False)
    assert browser.cookies.get("leeboard-session", domain="127.0.0.1") != "planted"
    stranger = browser.another()
    stranger.cookies.set("leeboard-session", "planted", domain="127.0.0.1")
    assert stranger.get("/probe", follow=False).status == 303


def test_signing_in_as_somebody_else_ends_the_session_that_this_browser_had(
    browser: Browser, database: Database, clock: Clock
):
    hire(database, clock, "birch")
    browser.sign_in("ash", PASSWORD, follow=False)
    first = browser.cookies["leeboard-session"]
    csrf = token_of(browser.get("/no-such-page"), "/theme")
    typed = {"csrf": csrf, "sign_in_name": "birch", "password": PASSWORD}
    assert browser.post("/sign-in", typed, follow=False).status == 303
    assert browser.get("/probe").text == '"Birch"'
    copy = browser.another()
    copy.cookies.set("leeboard-session", first, domain="127.0.0.1")
    assert copy.get("/probe", follow=False).status == 303


def test_a_part_that_comes_late_leaves_the_sign_in_that_is_open_its_cookie(browser: Browser):
    """What a locked page had still sent is answered after the sign-in was opened."""
    late = {"HX-Request": "true"}
    answer = browser.another().post("/courses/none/assess/live", {}, **late)
    assert answer.status == 401
    assert "leeboard-form" not in set_cookies(answer)


def test_each_sign_in_makes_a_new_session(browser: Browser):
    tokens = set()
    for address in ("10.1.1.3", "10.1.1.4"):
        one = browser.another(address)
        one.sign_in("ash", PASSWORD, follow=False)
        tokens.add(one.cookies["leeboard-session"])
    assert len(tokens) == 2


def test_whoever_is_signed_in_does_not_see_the_form_again(browser: Browser):
    browser.sign_in("ash", PASSWORD, follow=False)
    answer = browser.get("/sign-in?next=/probe", follow=False)
    assert (answer.status, answer.headers["location"]) == (303, "/probe")


@pytest.mark.parametrize(
    "target",
    [
        "https://elsewhere.example/",
        "//elsewhere.example/",
        "/\\elsewhere.example/",
        "/\t/elsewhere.example/",
        "javascript:alert(1)",
        "elsewhere",
        "",
        "/\r\nSet-Cookie: a=b",
    ],
)
def test_a_target_elsewhere_is_not_followed(plain_browser: Browser, target: str):
    plain_browser.get("/sign-in", params={"next": target})
    answer = plain_browser.submit(
        "/sign-in", sign_in_name="ash", password=PASSWORD, next=target, follow=False
    )
    assert (answer.status, answer.headers["location"]) == (303, "/mine")


def test_the_audit_names_an_account_and_never_a_typed_name(browser: Browser, database: Database):
    browser.sign_in("somebody else", "wrong")
    browser.sign_in("ash", "wrong")
    browser.sign_in("ash", PASSWORD, follow=False)
    lines = audit_lines(database)[1:]
    ash = lines[-1][1]
    assert lines == [
        ("sign_in_failed", None, ""),
        ("sign_in_failed", ash, ""),
        ("sign_in", ash, ""),
    ]


def test_a_hash_of_another_cost_is_renewed_at_the_next_sign_in(database: Database, clock: Clock):
    dearer = Passwords(Parameters(Type.ID, 19, 16, 32, 2, 16, 1))
    hire(database, clock, "ash")
    with browsing(open_site(database, clock, passwords=dearer)) as browser:
        browser.sign_in("ash", PASSWORD, follow=False)
        browser.another().sign_in("ash", PASSWORD, follow=False)
    with database.reading() as session:
        rows = session.exec(select(StaffStandingRow).order_by(StaffStandingRow.id)).all()
    assert [dearer.is_outdated(row.password_hash) for row in rows] == [True, False]
    assert rows[0].role == rows[1].role == "therapist"


def test_the_demo_lists_its_people_and_a_real_site_does_not(
    sqlite_database: Database, clock: Clock
):
    cast = (DemoPerson("ash", PASSWORD, "respiratory therapist"),)
    with browsing(open_site(sqlite_database, clock, demo_people=cast)) as browser:
        assert PASSWORD in browser.get("/sign-in").page.text
    ward = open_site(sqlite_database, clock, demo=False, demo_people=cast)
    with browsing(ward, base_url=WARD) as browser:
        assert PASSWORD not in browser.get("/sign-in").page.text
