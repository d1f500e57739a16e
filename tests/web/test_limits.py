"""What may come in: how much, how fast, in which form, and under which name."""

import json

import anyio
import pytest
from anyio.from_thread import start_blocking_portal

from app.web.errors import BodyTooSlow
from app.web.middleware.body_limit import MOST_BYTES, BodyLimit
from tests.client import Browser, browsing
from tests.site import PASSWORD, open_site

FORM = {"Content-Type": "application/x-www-form-urlencoded"}


def run_async(work, *args):
    """In a thread of its own: a browser test of the same worker may keep a loop in this one."""
    with start_blocking_portal() as portal:
        return portal.call(work, *args)


def send(browser: Browser, size: int, **headers: str):
    body = b"words=" + b"x" * (size - 6)
    return browser.send("POST", "/probe", content=body, headers={**FORM, **headers})


@pytest.mark.parametrize(
    ("size", "status"), [(MOST_BYTES - 1, 401), (MOST_BYTES, 401), (MOST_BYTES + 1, 413)]
)
def test_a_body_of_one_mebibyte_is_the_most(plain_browser: Browser, size: int, status: int):
    assert send(plain_browser, size).status == status


@pytest.mark.parametrize(("size", "status"), [(MOST_BYTES, 401), (MOST_BYTES + 1, 413)])
def test_a_body_without_a_declared_length_is_counted(
    plain_browser: Browser, size: int, status: int
):
    async def pieces():
        yield b"words="
        for _ in range(16):
            yield b"x" * ((size - 6) // 16)
        yield b"x" * ((size - 6) % 16)

    answer = plain_browser.send("POST", "/probe", content=pieces(), headers=FORM)
    assert answer.status == status


def test_a_length_that_is_a_lie_does_not_help(plain_browser: Browser):
    assert send(plain_browser, MOST_BYTES + 1, **{"Content-Length": "10"}).status == 413


async def _nobody_listens(_message) -> None:
    """The answer goes nowhere."""


async def _drip(seconds: float) -> list[str]:
    """A body that arrives byte by byte, as fast as the fake receive lets it."""
    told: list[str] = []

    async def receive():
        await anyio.sleep(0.02)
        return {"type": "http.request", "body": b"x", "more_body": True}

    async def app(scope, receive, send):
        try:
            while True:
                await receive()
        except BodyTooSlow:
            told.append("too slow")

    await BodyLimit(app, most_seconds=seconds)(
        {"type": "http", "headers": []}, receive, _nobody_listens
    )
    return told


def test_a_body_that_drips_in_is_cut_off():
    assert run_async(_drip, 0.1) == ["too slow"]


async def _wait_after_the_body() -> list[str]:
    told: list[str] = []
    messages = [{"type": "http.request", "body": b"x"}, {"type": "http.disconnect"}]

    async def receive():
        if len(messages) == 1:
            await anyio.sleep(0.1)
        return messages.pop(0)

    async def app(scope, receive, send):
        told.extend([(await receive())["type"], (await receive())["type"]])

    await BodyLimit(app, most_seconds=0.05)(
        {"type": "http", "headers": []}, receive, _nobody_listens
    )
    return told


def test_a_reader_who_stays_connected_is_not_cut_off():
    assert run_async(_wait_after_the_body) == ["http.request", "http.disconnect"]


@pytest.mark.parametrize("kind", ["application/json", "text/plain", "multipart/form-data", ""])
def test_only_forms_are_read(plain_browser: Browser, kind: str):
    deep = "[" * 100_000 + "]" * 100_000
    answer = plain_browser.send("POST", "/probe", content=deep, headers={"Content-Type": kind})
    assert answer.status == 415


def test_json_is_refused_at_the_sign_in_too(plain_browser: Browser):
    typed = json.dumps({"sign_in_name": "ash"})
    headers = {"Content-Type": "application/json"}
    assert plain_browser.send("POST", "/sign-in", content=typed, headers=headers).status == 415


@pytest.mark.parametrize(
    ("body", "status"),
    [
        ("&".join(f"f{n}=1" for n in range(1000)), 401),
        ("&".join(f"f{n}=1" for n in range(1001)), 400),
        ("words=%ff", 400),
        ("words=%00", 400),
        ("words=é", 400),
    ],
)
def test_a_form_that_no_page_sends_is_refused(plain_browser: Browser, body: str, status: int):
    answer = plain_browser.send("POST", "/probe", content=body.encode(), headers=FORM)
    assert answer.status == status


@pytest.mark.parametrize(
    "path", ["/courses/%00", "/beds/a%00b", "/?before=%00", "/?before=a+%00", "/static/%00"]
)
def test_an_address_that_no_database_can_look_for_leads_nowhere(browser: Browser, path: str):
    browser.sign_in("ash", PASSWORD, follow=False)
    assert browser.get(path).status == 404


@pytest.mark.parametrize(
    ("host", "status"),
    [
        ("127.0.0.1", 200),
        ("127.0.0.1:8000", 200),
        ("localhost:8000", 200),
        ("LOCALHOST", 200),
        ("[::1]:8000", 200),
        ("elsewhere.example", 400),
        ("127.0.0.1.elsewhere.example", 400),
        ("", 400),
    ],
)
def test_the_demo_answers_to_the_loopback_only(plain_browser: Browser, host: str, status: int):
    assert plain_browser.get("/sign-in", headers={"Host": host}).status == status


@pytest.mark.parametrize(
    ("names", "status"), [(("ventilators.example",), 200), (("other.example",), 400), ((), 200)]
)
def test_a_site_answers_to_its_own_names(sqlite_database, clock, names, status: int):
    ward = open_site(sqlite_database, clock, demo=False, host_names=names)
    with browsing(ward, base_url="https://ventilators.example") as browser:
        assert browser.get("/sign-in").status == status
