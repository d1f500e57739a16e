"""The question whose chart this is, put before the first save on a patient in a session."""

from msgspec import Struct

from app.pages.cover_question import CoverQuestion
from app.pages.frame import Banner, Frame

MISTAKES_BEFORE_A_HINT = 3
"""From how many wrong answers on the words send the reader back to the band (engineering
judgement)."""

HELP = "Read it off the patient's band, not off this screen."


class IdentityQuestion(Struct, frozen=True):
    """One field, with what stood in it and why that was not taken."""

    label: str
    inputmode: str = "text"
    """ "numeric" where the record number ends in figures, for a tablet's keys."""
    typed: str = ""
    error: str = ""
    help: str = HELP


class IdentityPage(Struct, frozen=True):
    """The question on a page of its own, carrying a form that waits for the answer."""

    frame: Frame
    banner: Banner
    heading: str
    question: IdentityQuestion | None
    """None where that was said, and only the bed is asked about."""
    cover: CoverQuestion | None
    action: str
    back_href: str
    carried: tuple[tuple[str, str], ...]
    """What the form had sent, to be sent again with the answer."""
    typed: tuple[tuple[str, str], ...]
    """The same as a reader sees it: label and text."""


_HOW_MUCH = {1: "Last character", 2: "Last two", 3: "Last three", 4: "Last four"}


def identity_question(
    record_number: str, digits: int, *, typed: str = "", error: str = ""
) -> IdentityQuestion:
    """What is asked for, by how much of the record number the site wants (1 to 4)."""
    inputmode = "numeric" if record_number[-digits:].isdecimal() else "text"
    label = f"{_HOW_MUCH[digits]} of the record number"
    return IdentityQuestion(label, inputmode, typed, error)


def mistaken_words(wrong: int) -> str:
    """Why nothing was saved. Never says what would have been right.

    `wrong` counts the wrong answers of this session for this patient; 0 is no answer at all.
    """
    if wrong == 0:
        return "Not saved yet: this is asked once for each patient."
    if wrong < MISTAKES_BEFORE_A_HINT:
        return "Not saved: this patient's record number ends otherwise."
    return (
        f"Not saved: wrong {wrong} times. Compare name and record number on the band with those at "
        "the top of this page: this may be another patient's chart."
    )
