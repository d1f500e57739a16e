"""What stands on every answer, whatever was asked for: headers, a number, no cache."""

from contextlib import contextmanager

import pytest
from starlette.responses import Response
from structlog.testing import capture_logs

from app.record.database import Database
from app.record.errors import NotReadable
from app.web.middleware.security_headers import ALWAYS
from tests.client import Browser, browsing
from tests.site import PASSWORD, open_site

ASKED = [
    ("GET", "/sign-in", 200),
    ("POST", "/sign-in", 403),
    ("GET", "/probe", 303),
    ("POST", "/probe", 401),
    ("GET", "/no-such-page", 404),
    ("GET", "/sign-out", 405),
    ("GET", "/healthz/live", 200),
    ("GET", "/healthz/ready", 503),
    ("GET", "/static/css/base.css", 200),
    ("GET", "/static/no-such-file", 404),
    ("GET", "/static/../app/main.py", 404),
    ("GET", "/broken", 500),
    ("GET", "/docs", 404),
    ("GET", "/openapi.json", 404),
]


@pytest.fixture
def with_a_bug(plain_app, plain_browser: Browser) -> Browser:
    """A site one of whose pages fails over a name."""

    @plain_app.get("/broken")
    def broken() -> str:
        raise ZeroDivisionError("Jane Roe, record 4711")

    return plain_browser


@pytest.mark.parametrize(("method", "path", "status"), ASKED)
def test_every_answer_carries_the_headers(with_a_bug: Browser, method, path, status):
    answer = with_a_bug.send(method, path, follow=False)
    assert answer.status == status
    assert {name: answer.headers.get(name) for name in ALWAYS} == dict(ALWAYS)
    assert len(answer.headers["x-request-id"]) == 16
    kept = "no-cache" if path == "/static/css/base.css" else "no-store"
    assert answer.headers.get_list("cache-control") == [kept]


def test_the_policy_lets_nothing_in_from_elsewhere_and_nothing_inline(plain_browser: Browser):
    policy = plain_browser.get("/sign-in").headers["content-security-policy"]
    rules = dict(rule.split(" ", 1) for rule in policy.split("; "))
    assert rules["default-src"] == rules["frame-ancestors"] == rules["base-uri"] == "'none'"
    assert rules["script-src"] == rules["style-src"] == rules["form-action"] == "'self'"
    assert "unsafe" not in policy


def test_a_site_with_https_asks_for_nothing_but_https(sqlite_database, clock):
    ward = open_site(sqlite_database, clock, demo=False)
    with browsing(ward, base_url="https://ventilators.example") as browser:
        assert "max-age=31536000" in browser.get("/sign-in").headers["strict-transport-security"]


def test_the_demo_on_the_loopback_does_not_ask_for_https(plain_browser: Browser):
    assert "strict-transport-security" not in plain_browser.get("/sign-in").headers


def test_a_bug_shows_its_number_and_nothing_of_itself(with_a_bug: Browser):
    answer = with_a_bug.get("/broken")
    assert answer.page.heading == "Our mistake"
    assert answer.headers["x-request-id"] in answer.page.text
    for word in ("Traceback", "ZeroDivisionError", "Roe", "4711", ".py"):
        assert word not in answer.text


def test_a_bug_is_one_line_of_the_log_with_its_traceback_and_without_its_words(with_a_bug: Browser):
    with capture_logs() as lines:
        answer = with_a_bug.get("/broken")
    faults = [line for line in lines if line["event"] == "fault"]
    assert [line["request_id"] for line in faults] == [answer.headers["x-request-id"]]
    assert faults[0]["error"] == "builtins.ZeroDivisionError"
    assert "test_answers.py" in faults[0]["traceback"]
    assert "Roe" not in str(lines)


def test_the_log_holds_the_route_and_neither_path_nor_query(plain_app, plain_browser: Browser):
    @plain_app.get("/courses-of-a-test/{course_id}")
    def course(course_id: str) -> str:
        return course_id

    with capture_logs() as lines:
        plain_browser.get("/courses-of-a-test/7f3a?hours=24&name=Roe")
    assert [line["route"] for line in lines] == ["/courses-of-a-test/{course_id}"]
    assert "7f3a" not in str(lines)
    assert "Roe" not in str(lines)


def test_nothing_new_leaves_no_line(plain_app, plain_browser: Browser):
    @plain_app.get("/asked-every-few-seconds")
    def asked(status: int) -> Response:
        return Response(status_code=status)

    with capture_logs() as lines:
        for status in (304, 204):
            plain_browser.get(f"/asked-every-few-seconds?status={status}")
    assert [line["status"] for line in lines] == [204]


def test_a_number_that_comes_from_outside_is_ignored(plain_browser: Browser):
    answer = plain_browser.get("/sign-in", headers={"X-Request-ID": "chosen"})
    assert answer.headers["x-request-id"] != "chosen"


def test_an_unknown_address_says_so_and_leads_back(plain_browser: Browser):
    answer = plain_browser.get("/no-such-page")
    assert (answer.status, answer.page.heading) == (404, "Nothing here")
    assert any(link["href"] == "/" for link in answer.page.root.all("a"))


def test_an_unknown_address_still_knows_who_is_signed_in(plain_browser: Browser):
    plain_browser.sign_in("ash", PASSWORD, follow=False)
    assert "Ash, respiratory therapist" in plain_browser.get("/no-such-page").page.text


def test_a_record_that_does_not_answer_is_said_plainly(plain_browser: Browser, monkeypatch):
    @contextmanager
    def refused(_self):
        raise NotReadable("the connection is gone")
        yield

    plain_browser.sign_in("ash", PASSWORD, follow=False)
    monkeypatch.setattr(Database, "reading", refused)
    for path in ("/probe", "/no-such-page"):
        answer = plain_browser.get(path)
        assert "Ash" not in answer.page.text
    assert plain_browser.get("/probe").status == 503


def test_trouble_for_a_part_is_a_part(with_a_bug: Browser):
    with_a_bug.get("/sign-in")
    answer = with_a_bug.part("/broken")
    assert answer.status == 500
    assert [element.tag for element in answer.page.root.children] == ["div"]
    assert answer.page.root.children[0]["role"] == "alert"
