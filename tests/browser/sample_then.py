"""The form that asks for an earlier moment, and an hour that came twice."""

from msgspec.structs import replace

from app.pages.frame import NavLink
from app.pages.then_page import ThenPage
from tests.browser.sample_frame import banner, frame


def then() -> ThenPage:
    return ThenPage(
        frame("As it was known"),
        banner(),
        "/courses/5/then",
        "2026-11-26T02:05",
        "America/New_York",
    )


def then_twice() -> ThenPage:
    choices = (
        NavLink("Sun 1 Nov 2026, 01:30 EDT", "/courses/5?as_of=2026-11-01T05%3A30%3A00Z"),
        NavLink("Sun 1 Nov 2026, 01:30 EST", "/courses/5?as_of=2026-11-01T06%3A30%3A00Z"),
    )
    return replace(then(), value="2026-11-01T01:30", choices=choices)
