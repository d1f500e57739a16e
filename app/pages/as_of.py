"""A page as it was known at an earlier moment: its words, and addresses that stay there."""

import re
from datetime import datetime
from typing import Any, TypeVar
from urllib.parse import quote

from msgspec import Struct
from msgspec.structs import replace

from app.pages.frame import Frame
from app.pages.times import full_time, iso
from app.rules.unit_clock import UnitClock

READABLE = re.compile(
    r"(/courses/[0-9a-f]{32}(?:/handoff|/(?:numbers|rows|events|flags)/\w+)?)(\?[^#]*)?(#.*)?"
)
"""The addresses of a course that can be read as of a moment: the bed, and what stands on it."""

OF_A_COURSE = re.compile(r"(/courses/[0-9a-f]{32})/.*")

P = TypeVar("P")


def as_of_frame(frame: Frame, as_of: datetime | None, clock: UnitClock, present: str) -> Frame:
    """The frame that says over the page of which moment it is, and leads to the present."""
    if as_of is None:
        return frame
    at = full_time(as_of, clock).text
    return replace(
        frame,
        as_of=f"As it was known on {at}; not the present.",
        as_of_note=(
            "What had been charted by then, as it stood then: later corrections, strikes and late"
            " entries are not in it. Nothing can be written here."
        ),
        present_href=present,
    )


def staying_at(page: P, as_of: datetime | None) -> P:
    """The same page with every address that can be read as of the moment carrying it."""
    if as_of is None:
        return page
    kept: P = _kept(page, f"as_of={quote(iso(as_of))}")
    return kept


def _kept(value: Any, asked: str) -> Any:  # noqa: ANN401 - a page is a tree of anything
    if isinstance(value, str):
        return _address(value, asked)
    if isinstance(value, tuple):
        return tuple(_kept(each, asked) for each in value)
    if isinstance(value, Frame) or not isinstance(value, Struct):
        return value
    told = {name: getattr(value, name) for name in value.__struct_fields__}
    new = {name: _kept(old, asked) for name, old in told.items()}
    return replace(value, **{name: each for name, each in new.items() if each is not told[name]})


def _address(text: str, asked: str) -> str:
    found = READABLE.fullmatch(text)
    if found is None:  # a form of the present: nothing is written from an earlier moment
        course = OF_A_COURSE.fullmatch(text)
        return f"{course[1]}?{asked}" if course is not None else text
    path, query, place = found.groups()
    return f"{path}{query}&{asked}{place or ''}" if query else f"{path}?{asked}{place or ''}"
