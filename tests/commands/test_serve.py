"""`leeboard serve`: what it refuses, and how the server behaves towards the outside."""

import http.client
import socket
import threading
import time
from collections.abc import Iterator

import pytest
import uvicorn

from app.commands import on_time, serve
from app.commands.server import server_config
from app.web.middleware.known_hosts import LOOPBACK
from tests.site import open_site

THE_SHORTEST = "0123456789abcdef0123456789abcdef"


@pytest.fixture
def started(monkeypatch: pytest.MonkeyPatch) -> list[tuple]:
    """What would have been served; nothing is."""
    calls: list[tuple] = []

    def instead(app, host, port, proxies):
        app.state.site.database.close()
        calls.append((app, host, port, proxies))

    monkeypatch.setattr(serve, "run_server", instead)
    return calls


@pytest.mark.parametrize("secret", [None, "", "changeme", "x" * 64, THE_SHORTEST[:-1]])
def test_without_a_secret_of_its_own_nothing_is_served(leeboard, started, secret):
    leeboard("migrate")
    result = leeboard("serve", LEEBOARD_SECRET=secret)
    assert (result.exit_code, "LEEBOARD_SECRET" in result.stderr, started) == (2, True, [])


def test_the_demo_switch_does_not_spare_a_served_site_its_secret(leeboard, started):
    leeboard("migrate")
    assert leeboard("serve", LEEBOARD_SECRET=None, LEEBOARD_DEMO="yes").exit_code == 2
    assert not started


def test_it_listens_on_the_loopback_unless_told_otherwise(leeboard, started):
    leeboard("migrate")
    assert leeboard("serve", LEEBOARD_SECRET=THE_SHORTEST).exit_code == 0
    assert started[0][1:] == ("127.0.0.1", 8000, ())


def test_a_record_that_was_never_migrated_is_not_served(leeboard, started):
    result = leeboard("serve")
    assert (result.exit_code, "leeboard migrate" in result.stderr, started) == (2, True, [])


def test_an_address_for_everybody_wants_the_names_of_the_site(leeboard, started):
    leeboard("migrate")
    assert leeboard("serve", "--host", "10.2.0.7").exit_code == 2
    words = ("--host", "10.2.0.7", "--name", "ventilators.example", "--proxy", "10.0.0.1")
    assert leeboard("serve", *words).exit_code == 0
    assert [call[1:] for call in started] == [("10.2.0.7", 8000, ("10.0.0.1",))]


@pytest.fixture
def port(sqlite_database, clock, monkeypatch) -> Iterator[int]:
    """A real server on a free port."""
    monkeypatch.setattr(on_time, "HEAD_WITHIN_S", 0.3)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        number = free.getsockname()[1]
    app = open_site(sqlite_database, clock, host_names=LOOPBACK)
    server = uvicorn.Server(server_config(app, "127.0.0.1", number))
    thread = threading.Thread(target=server.run)
    thread.start()
    while not server.started:
        time.sleep(0.01)
    yield number
    server.should_exit = True
    thread.join()


def test_the_server_does_not_say_what_it_is(port: int):
    connection = http.client.HTTPConnection("127.0.0.1", port)
    connection.request("GET", "/sign-in")
    answer = connection.getresponse()
    answer.read()
    connection.close()
    assert (answer.status, answer.getheader("server")) == (200, None)


def test_a_visitor_cannot_choose_an_address_for_the_throttle(port: int):
    config = server_config(open_site, "127.0.0.1", port)
    assert config.proxy_headers is False


@pytest.mark.parametrize("said", [b"", b"GET /sign-in HTTP/1.1\r\nHost: 127"])
def test_a_question_that_never_ends_is_hung_up_on(port: int, said: bytes):
    with socket.create_connection(("127.0.0.1", port), timeout=5) as line:
        line.sendall(said)
        assert line.recv(1) == b""


def test_a_second_question_on_the_same_line_that_never_ends_is_hung_up_on(port: int):
    with socket.create_connection(("127.0.0.1", port), timeout=5) as line:
        line.sendall(b"GET /healthz/live HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
        answer = b""
        while b"alive\n" not in answer:
            answer += line.recv(4096)
        line.sendall(b"GET /healthz/live HT")
        assert line.recv(1) == b""


def test_a_slow_answer_is_waited_for(port: int, monkeypatch):
    from app.web.routes import health

    def slow(_database) -> tuple:
        time.sleep(0.6)
        return ()

    monkeypatch.setattr(health, "missing_from", slow)
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=5)
    connection.request("GET", "/healthz/ready")
    answer = connection.getresponse()
    answer.read()
    connection.close()
    assert answer.status == 200
