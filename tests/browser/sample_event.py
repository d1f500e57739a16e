"""The form for an event: fresh, and sent back with what is wrong."""

from app.pages.assess_page import ObservedInput, Option
from app.pages.event_page import EventPage
from tests.browser.sample_frame import banner, frame


def event(**changes: object) -> EventPage:
    given: dict[str, object] = {
        "frame": frame("Event"),
        "banner": banner(),
        "action": "/courses/5/events",
        "back_href": "/courses/5",
        "observed": ObservedInput("Happened at", "2026-11-26T02:03", "EST"),
        "ending": (Option("end.away", "Back from transport (since 01:10)"),),
        "beginning": (Option("suction", "Suction"), Option("other", "Something else")),
        "words": "",
        "error": "",
        "save_key": "k-2",
    }
    return EventPage(**(given | changes))  # type: ignore[arg-type]


def event_refused() -> EventPage:
    return event(
        words="Thick plug, SpO2 82 for a minute",
        error="“Transport, away from the unit” is charted already and has not ended.",
        observed=ObservedInput(
            "Happened at",
            "2026-11-01T01:30",
            "EDT",
            error="The clock showed this time twice. Which was it?",
            choices=(Option("first", "01:30 EDT"), Option("second", "01:30 EST")),
        ),
        focus="observed_at",
    )
