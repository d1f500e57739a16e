"""The question whose chart this is: put for the first time, and after three wrong answers."""

from app.pages.identity import IdentityPage, IdentityQuestion, mistaken_words
from tests.browser.sample_frame import banner, frame

LABEL = "Last two of the record number"


def identity(**changes: object) -> IdentityPage:
    given: dict[str, object] = {
        "frame": frame("Whose chart is this?"),
        "banner": banner(),
        "question": IdentityQuestion(LABEL, "numeric", error=mistaken_words(0)),
        "action": "/courses/5/handoff/notes",
        "back_href": "/courses/5",
        "carried": (("heading", "todo"), ("words", "Gas at 04:00;\nasks for the nurse.")),
        "typed": (("Heading", "todo"), ("Words", "Gas at 04:00;\nasks for the nurse.")),
    }
    return IdentityPage(**(given | changes))  # type: ignore[arg-type]


def identity_mistaken() -> IdentityPage:
    return identity(
        question=IdentityQuestion(LABEL, "numeric", typed="86", error=mistaken_words(3))
    )
