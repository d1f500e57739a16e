"""An event with a corrected begin and a struck end, one held up, and one that is struck."""

from msgspec.structs import replace

from app.pages.assess_page import ObservedInput, Option
from app.pages.one_event_page import EventPart, OneEventPage, PutRightForm, SaidLine
from app.pages.row_page import OldValue
from tests.browser.sample_frame import at, banner, frame

TWICE = (Option("first", "01:30 EDT", chosen=True), Option("second", "01:30 EST"))
FORM = PutRightForm(
    part="event",
    version="7",
    observed=ObservedInput("It was at", "2026-11-25T18:05", "EST", choices=TWICE),
    words="two nurses",
    may_correct=True,
    strike_words="Strike this event",
    strike_note="Struck with it: what it says of the airway; its tasks are taken back.",
    correct_error="The time is still to come.",
    strike_error="Its end is charted and stands: strike the end first.",
    why="wrong clock",
    strike_why="another patient",
)
BEGUN = EventPart(
    "What was charted",
    "Turned prone: head left; two nurses",
    at("18:05", 25),
    "Birch",
    old=(OldValue("Turned prone: head left", "Ash", at("19:30", 25), "corrected 19:40 by Birch"),),
    form=FORM,
)
ENDED = EventPart(
    "Its end",
    "Turned supine after 5 h",
    at("23:05", 25),
    "",
    form=replace(
        FORM,
        part="end",
        strike_words="Strike this end",
        correct_error="",
        strike_error="",
    ),
)


def one_event() -> OneEventPage:
    return OneEventPage(
        frame=frame("Event"),
        banner=banner(height_href="/courses/5/height", course_id="5"),
        heading="Turned prone, 18:05",
        struck="",
        trouble="Somebody else corrected or struck this meanwhile. Nothing of yours was saved.",
        parts=(BEGUN, ENDED),
        said=(SaidLine("Tube mark before: 22 cm", "Birch", at("18:05", 25)),),
        correct_action="/courses/5/events/7/correct",
        strike_action="/courses/5/events/7/strike",
        back_href="/courses/5",
        timeline_href="/courses/5/timeline",
        note="Nobody charted how it ended.",
        note_href="/courses/5/episodes?act=breathing_trial.end",
    )


def struck_event() -> OneEventPage:
    return replace(
        one_event(),
        struck="Struck 19:40 by Birch: another patient",
        trouble="",
        parts=(replace(BEGUN, form=None),),
        correct_action="",
        strike_action="",
        note="",
    )
