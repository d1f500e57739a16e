"""The form for an event: what happened or ended, when, and a person's words."""

from collections.abc import Iterator
from datetime import datetime

from msgspec import Struct

from app.charting.events import EVENT_KINDS
from app.charting.facts import CourseFacts
from app.charting.in_force import going_on
from app.pages.assess_head import observed_input
from app.pages.assess_page import ObservedInput, Option
from app.pages.frame import Banner, Frame
from app.pages.times import clock_time
from app.rules.unit_clock import UnitClock

ENDS = "end."
"""Before a kind's code it means that the state of this kind has ended."""


class EventSheet(Struct, frozen=True):
    """An event as it stands in its form."""

    save_key: str
    observed_at: datetime
    observed_text: str = ""
    observed_error: str = ""
    kind: str = ""
    words: str = ""
    error: str = ""


class EventPage(Struct, frozen=True):
    """The form for one event of one patient."""

    frame: Frame
    banner: Banner
    action: str
    back_href: str
    observed: ObservedInput
    ending: tuple[Option, ...]
    """What goes on now and can be charted as ended, with since when."""
    beginning: tuple[Option, ...]
    """What can be charted as having happened or begun."""
    words: str
    error: str
    save_key: str
    focus: str = "kind"


def event_page(
    frame: Frame,
    banner: Banner,
    facts: CourseFacts,
    sheet: EventSheet,
    clock: UnitClock,
    now: datetime,
) -> EventPage:
    """The form, with every word that was typed still in it."""
    base = f"/courses/{facts.course_id}"
    at, typed, error = sheet.observed_at, sheet.observed_text, sheet.observed_error
    return EventPage(
        frame=frame,
        banner=banner,
        action=f"{base}/events",
        back_href=base,
        observed=observed_input("Happened at", at, typed, error, clock, now),
        ending=tuple(_ending(facts, sheet, clock, now)),
        beginning=tuple(
            Option(kind.code, kind.label, kind.code == sheet.kind)
            for kind in EVENT_KINDS.values()
            if not kind.own_page
        ),
        words=sheet.words,
        error=sheet.error,
        save_key=sheet.save_key,
        focus="observed_at" if error else "kind",
    )


def _ending(
    facts: CourseFacts, sheet: EventSheet, clock: UnitClock, now: datetime
) -> Iterator[Option]:
    for kind in EVENT_KINDS.values():
        here = kind.lasts and not kind.own_page
        going = going_on(facts.events, kind.code, now) if here else None
        if going is not None:
            since = clock_time(going.observed_at, now, clock)
            value = f"{ENDS}{kind.code}"
            yield Option(value, f"{kind.ends} (since {since})", value == sheet.kind)
