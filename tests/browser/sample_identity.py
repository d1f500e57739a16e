"""The question whose chart this is: put for the first time, and after three wrong answers."""

from datetime import UTC, datetime, timedelta

from msgspec.structs import replace

from app.pages.cover_question import cover_question
from app.pages.identity import IdentityPage, IdentityQuestion, mistaken_words
from app.rules.unit_clock import UnitClock
from tests.browser.sample_frame import banner, frame

LABEL = "Last two of the record number"


def identity(**changes: object) -> IdentityPage:
    given: dict[str, object] = {
        "frame": frame("Whose chart is this?"),
        "banner": banner(),
        "heading": "Whose chart is this?",
        "question": IdentityQuestion(LABEL, "numeric", error=mistaken_words(0)),
        "cover": None,
        "action": "/courses/5/handoff/notes",
        "back_href": "/courses/5",
        "carried": (("heading", "todo"), ("words", "Gas at 04:00;\nasks for the nurse.")),
        "typed": (("Heading", "Still to do"), ("Words", "Gas at 04:00;\nasks for the nurse.")),
    }
    return IdentityPage(**(given | changes))  # type: ignore[arg-type]


def identity_and_bed() -> IdentityPage:
    """In a colleague's bed both are asked on one page."""
    at = datetime(2026, 11, 26, 7, 5, tzinfo=UTC)
    until = at + timedelta(hours=5)
    cover = cover_question(
        "L5",
        "Birch",
        until,
        at,
        UnitClock("America/New_York"),
        error="Choose why you act in this bed.",
    )
    return identity(cover=cover)


def whose_bed() -> IdentityPage:
    """Whose chart it is was said; the other reason still lacks its words."""
    cover = identity_and_bed().cover
    assert cover is not None
    error = "Say the other reason in a few words."
    return identity(heading="Whose bed is this?", question=None, cover=replace(cover, error=error))


def identity_mistaken() -> IdentityPage:
    return identity(
        question=IdentityQuestion(LABEL, "numeric", typed="86", error=mistaken_words(3))
    )
