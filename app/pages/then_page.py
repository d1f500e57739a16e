"""Ask for which moment a course is to be read, as it was known then."""

from collections.abc import Sequence
from datetime import datetime
from urllib.parse import quote

from msgspec import Struct

from app.pages.frame import Banner, Frame, NavLink
from app.pages.times import full_time, input_time, iso
from app.rules.unit_clock import UnitClock

TWICE = "The clock showed this time twice. Which was it?"


class ThenPage(Struct, frozen=True):
    """A day and time to type, and, on a night with an hour that came twice, both to choose from."""

    frame: Frame
    banner: Banner
    action: str
    value: str
    """What stands in the box: "2026-11-01T01:30"."""
    zone: str
    error: str = ""
    choices: tuple[NavLink, ...] = ()
    """The moments that the time may mean."""


def then_page(
    frame: Frame,
    banner: Banner,
    clock: UnitClock,
    now: datetime,
    *,
    typed: str = "",
    error: str = "",
    may_mean: Sequence[datetime] = (),
) -> ThenPage:
    """The form; `typed` stays in it, and `may_mean` are the moments to choose from."""
    return ThenPage(
        frame=frame,
        banner=banner,
        action=f"/courses/{banner.course_id}/then",
        value=typed or input_time(now, clock),
        zone=clock.zone,
        error=error,
        choices=tuple(
            NavLink(full_time(at, clock).text, then_href(banner.course_id, at)) for at in may_mean
        ),
    )


def then_href(course_id: str, at: datetime) -> str:
    """The bed page as of that moment."""
    return f"/courses/{course_id}?as_of={quote(iso(at))}"
