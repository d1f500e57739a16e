"""A form as a route reads it."""

from urllib.parse import urlencode

import pytest
from starlette.datastructures import Headers

from app.web.errors import BadForm
from app.web.forms import MOST_CHARACTERS, Form, day_and_time, parse_form

HEADERS = Headers({"content-type": "application/x-www-form-urlencoded; charset=utf-8"})


def read(body: str) -> Form:
    return parse_form(body.encode(), HEADERS)


def test_one_text_per_name_without_its_outer_blanks():
    form = read("peep_set=+12+&words=caf%C3%A9+%2B+more")
    assert (form.one("peep_set"), form.one("words"), form.one("never sent")) == (
        "12",
        "café + more",
        "",
    )


def test_the_same_name_twice_is_refused_where_one_is_meant():
    form = read("peep_set=12&peep_set=14")
    with pytest.raises(BadForm):
        form.one("peep_set")


def test_the_same_name_twice_is_kept_where_several_are_meant():
    assert read("keep=peep_set&keep=fio2_set").several("keep") == ("peep_set", "fio2_set")


def test_nothing_is_several_where_nothing_was_sent():
    assert read("").several("keep") == ()


@pytest.mark.parametrize(("length", "is_taken"), [(4, True), (5, True), (6, False)])
def test_a_text_may_be_as_long_as_the_route_says(length: int, is_taken: bool):
    form = Form({"name": ("x" * length,)})
    if is_taken:
        assert len(form.one("name", 5)) == length
    else:
        with pytest.raises(BadForm):
            form.one("name", 5)


def test_no_text_is_endless():
    with pytest.raises(BadForm):
        Form({"words": ("x" * (MOST_CHARACTERS + 1),)}).one("words")


def test_a_password_keeps_its_blanks():
    assert read("password=+a+").exact("password", 200) == " a "


@pytest.mark.parametrize("texts", [("a", "b"), ("x" * 201,)])
def test_a_password_that_cannot_be_read_is_refused(texts: tuple[str, ...]):
    with pytest.raises(BadForm):
        Form({"password": texts}).exact("password", 200)


def test_lines_end_in_one_way():
    assert read("words=a%0D%0Ab").one("words") == "a\nb"


def test_what_is_shown_back_holds_no_secret_and_no_empty_field():
    form = read("csrf=1&password=2&save_key=3&next=/&peep_set=12&rate=&keep=a&keep=b")
    assert form.typed() == (("peep_set", "12"), ("keep", "a"), ("keep", "b"))


@pytest.mark.parametrize(
    ("day", "clock", "text"),
    [
        ("2026-11-26", "04:15", "2026-11-26T04:15"),
        ("2026-11-26", "0415", "2026-11-26T04:15"),
        ("2026-11-26", " 4:15 ", "2026-11-26T04:15"),
        ("2026-11-26", "23.59", "2026-11-26T23:59"),
        ("2026-11-26", "2400", "2026-11-26T2400"),
        ("2026-11-26", "4 pm", "2026-11-26T4 pm"),
        ("2026-11-26", "", "2026-11-26T"),
        ("", "04:15", "T04:15"),
        ("", " ", ""),
        ("2026-11-26T03:28", "04:15", "2026-11-26T03:28"),
    ],
)
def test_a_day_and_the_time_of_its_second_box_are_one_text(day: str, clock: str, text: str):
    assert day_and_time(day, clock) == text
    form = read(urlencode({"due_at": day, "due_at.time": clock}))
    assert form.values == {"due_at": (text,)}


def test_a_time_of_no_day_or_sent_twice_is_left_out():
    form = read("at=2026-11-26&at.time=0415&at.time=0416&lost.time=0415")
    assert form.values == {"at": ("2026-11-26",)}
