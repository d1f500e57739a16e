"""The reader of pages sees what a browser would make of them, and complains of the rest."""

import pytest

from tests.seen import Page


def page(body: str) -> Page:
    return Page(f'<html lang="en"><title>T</title><h1>H</h1>{body}</html>')


@pytest.mark.parametrize(
    ("body", "complaint"),
    [
        ("<p>under 4 < 5", "an angle bracket in '< 5'"),
        ("<p class=bare>", "an angle bracket in '<p class=bare>'"),
        ('<p title="a">b', "p before /html"),
        ("<p></i></p>", "p before /i"),
        ("<b id='x'></b><i id=\"x\"></i>", "id x stands twice"),
    ],
)
def test_what_does_not_hold_together_is_said(body: str, complaint: str) -> None:
    assert any(complaint in said for said in page(body).complaints())


def test_marks_texts_and_signs_are_read_as_a_browser_reads_them() -> None:
    whole = page('<!-- <b> --><P Title="a > b &amp; c" hidden>x &lt; <br/>y</P>')
    (said,) = whole.root.all("p")
    assert said.attributes == {"title": "a > b & c", "hidden": ""}
    assert said.text == "x < y"
    assert not whole.complaints()
